/** What leaves outputs of ours, port by port: whose mix, how wide, and the way to the ears or to the house. */
import { hertz, type Line, list, type Socket, socket, socketName } from '#engine';
import type { HouseRun, Mix, OutputRun, Piece, Port } from '#rig';
import type { Context } from './context';
import { about, type Draft, distinct, named, unique } from './draft';
import { UNNUMBERED } from './laid';
import type { OutputRow } from './model';
import { onAir, portOrder } from './path';

export function outputRows(context: Context): readonly Draft<OutputRow>[] {
  return context.once('output rows', allRows);
}

function allRows(context: Context): readonly Draft<OutputRow>[] {
  const { rig } = context.checked;
  const leaving = rig.outputs
    .flatMap((run) =>
      (run.from.ports.length > 0 ? run.from.ports : ['']).map((port, index) => ({ run, port, index, piece: run.from.piece })),
    )
    .sort(portOrder(rig, 'output'))
    .map(({ run, port, index }) => leavingRow(context, run, port, index));
  const carried = new Set(rig.outputs.flatMap((run) => run.carries ?? []));
  const stuck = [...rig.mixes.values()].filter((mix) => !carried.has(mix.id)).map((mix) => stuckRow(context, mix));
  const served = new Set([...rig.mixes.values()].flatMap((mix) => mix.for));
  const without = [...rig.performers.values()]
    .filter((performer) => !served.has(performer.id))
    .map((performer) => ({
      ...EMPTY,
      key: performer.id,
      place: performer.place,
      about: about(performer.place),
      mix: 'no mix yet',
      listeners: performer.label,
    }));
  return distinct<OutputRow>([...leaving, ...stuck, ...without]);
}

const EMPTY = { ...UNNUMBERED, index: 0, unfinished: true, port: 'no output yet', written: '', width: '', way: '' };

function leavingRow(context: Context, run: OutputRun, portId: string, index: number): Draft<OutputRow> {
  const { rig } = context.checked;
  const gear = rig.pieces.get(run.from.piece);
  const port = gear?.model.ports.find((each) => each.id === portId && each.direction === 'output');
  const mix = rig.mixes.get(run.carries ?? '');
  const line = context.linesOf(run.id).find((each) => each.index === index);
  const packs = line && mix ? packsOf(context, line) : [];
  const steps = run.via.flatMap((step) => rig.pieces.get(step.piece) ?? []);
  const ended = line !== undefined && (line.open.length > 0 || line.joints.length > 0);
  return {
    key: `${gear?.name ?? ''}.${portId}`,
    ...UNNUMBERED,
    index,
    place: run.place,
    about: about(run.place, mix?.id, ...(mix?.for ?? []), ...named(steps), ...named(packs)),
    unfinished: !gear || !port || !mix || !ended || (!mix.house && mix.for.length === 0),
    port: port && gear ? socketName(socket(gear, port)) : `${gear?.label ?? 'unknown gear'} ${portId}`.trim(),
    written: gear?.name && portId ? `${gear.name}.${portId}` : '',
    mix: mix?.label ?? 'mix not known',
    width: mix ? widthOf(mix, line, port) : '',
    listeners: mix ? listeners(context, mix) : '',
    way: wayWords(context, run, line, mix, packs),
  };
}

function stuckRow(context: Context, mix: Mix): Draft<OutputRow> {
  return {
    ...EMPTY,
    key: mix.id,
    place: mix.place,
    about: about(mix.place, ...mix.for),
    mix: mix.label,
    width: mix.stereo ? 'stereo' : 'mono',
    listeners: listeners(context, mix),
  };
}

/** One side of a stereo mix on one of two ports; both sides on a port that has both. */
function widthOf(mix: Mix, line: Line | undefined, port: Port | undefined): string {
  if (!mix.stereo) return 'mono';
  if (line?.channel !== undefined) return line.channel;
  return port && !port.modes.some((mode) => (mode.channels ?? 1) >= 2) ? 'stereo, one side lost' : 'stereo';
}

function listeners({ checked }: Context, mix: Mix): string {
  const people = mix.for.flatMap((id) => checked.rig.performers.get(id)?.label ?? []);
  return list([...people, ...(mix.house ? [checked.rig.noHouse ? 'our loudspeakers' : 'the house'] : [])]) || 'nobody yet';
}

/** The receivers that hear the side of the transmitter which this line goes in by. */
function packsOf(context: Context, line: Line): Piece[] {
  const air = onAir(line);
  const side = line.joints.at(-1)?.to.port.id;
  if (!air) return [];
  return context.receiversOf(air.piece.id).filter(({ hears }) => hears?.port === undefined || hears.port === side);
}

function wayWords(context: Context, run: OutputRun, line: Line | undefined, mix: Mix | undefined, packs: readonly Piece[]): string {
  const { rig } = context.checked;
  if (!line) return run.via.flatMap((step) => rig.pieces.get(step.piece)?.label ?? []).join(' → ');
  const air = onAir(line);
  const through = line.joints.map((joint) => joint.to).map((to) => (air?.piece.id === to.piece.id ? tuned(to, air.piece) : socketName(to)));
  const taking = mix ? context.houseLinesOf(mix.id) : [];
  const house = taking.filter((each) => goesOn(context, line, each)).map((each) => `house ${each.number}`);
  const ends = air
    ? [packs.length > 0 ? list(packs.map((pack) => pack.label)) : 'no pack yet']
    : taking.length > 0 && mix?.house
      ? [list(house) || 'not to the house yet']
      : [];
  const ears = mix && !mix.house ? unique(mix.for.flatMap((id) => rig.performers.get(id)?.ears?.label ?? [])) : [];
  const words = [...through, ...ends, ...(ears.length > 0 ? [list(ears)] : [])];
  if (words.length > 0) return words.join(' → ');
  return line.open.some((open) => open.port.modes.some((mode) => mode.kind === 'phones')) ? 'earphones' : mix ? 'direct' : '';
}

/** Whether a line of the house's takes this one on: of a stereo mix, each side goes its own way. */
function goesOn(context: Context, { open }: Line, run: HouseRun): boolean {
  const keys = new Set(open.map(({ key }) => key));
  return context.linesOf(run.id).some(({ joints: [first] }) => first !== undefined && keys.has(first.from.key));
}

/** `Transmitter left, 863.3 MHz`. */
function tuned(to: Socket, transmitter: Piece): string {
  return transmitter.onHz === undefined ? socketName(to) : `${socketName(to)}, ${hertz(transmitter.onHz)}`;
}
