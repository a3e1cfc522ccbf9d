/** Plugs with three contacts that mean different things at the two ends: left and right, or hot and cold. */
import { CONNECTORS, type Mode, type Piece, type Port } from '#rig';
import type { Fix } from '../../cure/fix';
import { freeOutputs } from '../../cure/free';
import { leadId } from '../../solve/ids';
import { mates } from '../../solve/mating';
import { socketName } from '../../solve/naming';
import { type Joint, type Network, type Socket, socket, stepOf } from '../../solve/network';
import { type Finding, finding } from '../finding';

/** What a lead does to left and right, or to hot and cold, where both ends have the plug and not the same use for it. */
export function sides(net: Network, joint: Joint, place: string): Finding[] {
  const drive = drivenBy(net, joint.from);
  const into = joint.to.port;
  if (!drive?.port.connector || !into.connector || !mates(joint.from.port, into)) return [];
  // A two-pole plug on the way carries one contact, whatever the others mean.
  const contacts = Math.min(...[drive.port, joint.from.port, into].map(({ connector }) => (connector ? CONNECTORS[connector].poles : 0)));
  const balanced = into.modes.some(({ kind, balanced }) => (kind === 'mic' || kind === 'line') && balanced);
  const about = [leadId(joint.from, joint.to)];
  const figures = {
    from: socketName(drive),
    to: socketName(joint.to),
    plug: drive.piece.kind === 'source' ? drive.port.connector : undefined,
  };
  if (contacts >= 3 && drive.port.modes.some(carriesTwo) && !into.modes.some(carriesTwo) && balanced) {
    const mix = net.linesThrough(joint).flatMap((line) => net.rig.mixes.get(line.signal ?? '') ?? [])[0];
    const mono = mix !== undefined && !mix.stereo;
    return [
      finding('connectors/stereo-into-balanced', place, { ...figures, mono }, { about, fixes: lineOutputs(net, joint, drive, !mono) }),
    ];
  }
  const alone = ['phones', 'line'].flatMap((kind) => drive.port.modes.find((mode) => mode.kind === kind) ?? [])[0];
  const told = alone && (alone.balanced || alone.channels === 1 || CONNECTORS[drive.port.connector].poles < 3);
  if (!told || drive.port.modes.some(carriesTwo) || !into.modes.some((mode) => mode.kind === 'phones' && carriesTwo(mode))) return [];
  const inverted = alone.balanced && contacts >= 3;
  return [
    finding(
      'connectors/mono-into-stereo',
      place,
      { from: figures.from, to: figures.to, inverted, line: alone.kind === 'line', people: listening(net, joint) },
      { about, fixes: stereoOutputs(net, joint, drive.piece) },
    ),
  ];
}

/** Who hears what goes by a lead. */
function listening({ rig, linesThrough }: Network, joint: Joint): string[] {
  const ids = new Set(linesThrough(joint).flatMap(({ signal }) => rig.mixes.get(signal ?? '')?.for ?? []));
  return [...ids].flatMap((id) => rig.performers.get(id)?.label ?? []);
}

export const carriesTwo = (mode: Mode) => (mode.kind === 'phones' || mode.kind === 'line') && (mode.channels ?? 1) >= 2;

/** The output that drives what comes out at a socket: itself, or what feeds it by copper alone. */
function drivenBy(net: Network, at: Socket): Socket | undefined {
  // By their keys: one signal can go through many splits.
  const known = net.memory.of<string, Socket | undefined>('driven by');
  const passed: string[] = [];
  let found: Socket | undefined;
  for (let now: Socket | undefined = at; now; ) {
    const { key, piece, port }: Socket = now;
    if (known.has(key)) {
      found = known.get(key);
      break;
    }
    // Until more is known: nothing drives what is plugged round in a circle.
    known.set(key, undefined);
    passed.push(key);
    if (port.modes.length > 0) {
      found = now;
      break;
    }
    if (port.tie?.how !== 'parallel') break;
    now = port.tie.inputs.flatMap((id) => net.entering.get(`${piece.id}.${id}`) ?? [])[0]?.from;
  }
  for (const key of passed) known.set(key, found);
  return found;
}

/** Line outputs of the same gear for the mix instead, where it goes nowhere but through this lead. */
function lineOutputs(net: Network, joint: Joint, drive: Socket, wide: boolean): Fix[] {
  const [run, ...others] = joint.runs;
  if (run?.kind !== 'output' || others.length > 0 || run.from.piece !== drive.piece.id || run.from.ports.length !== 1) return [];
  const named = run.via.flatMap(({ port }, index) => (port === undefined ? [] : [index]));
  const step = stepOf(run, joint.to.piece);
  // Two sides need two inputs: a step that names one is written without it. Of legs before it there is only one.
  if (wide && named.some((index) => index !== step)) return [];
  const { piece } = joint.to;
  const both: Fix[] =
    wide && named.length > 0 ? [{ kind: 'replace-step', step: `${run.id}/via.${step}`, with: piece.name ?? piece.model.id }] : [];
  const own = `${drive.piece.name}.`;
  return freeOutputs(net, wide)
    .filter((written) => written.startsWith(own))
    .slice(0, 2)
    .map((written): Fix => {
      const move: Fix = { kind: 'move', run: run.id, port: written.slice(own.length) };
      return both.length > 0 ? { kind: 'several', fixes: [move, ...both] } : move;
    });
}

/** Outputs that are made for stereo earphones: of the same gear, or of what the mix comes from, without the boxes in between. */
function stereoOutputs(net: Network, joint: Joint, driving: Piece): Fix[] {
  const [run, ...others] = joint.runs;
  if (run?.kind !== 'output' || others.length > 0 || run.from.ports.length !== 1) return [];
  const piece = run.from.piece === driving.id ? driving : net.rig.pieces.get(run.from.piece);
  if (!piece) return [];
  const last = piece === driving ? -1 : stepOf(run, driving);
  const boxes = run.via.slice(0, last + 1).map((_, index): Fix => ({ kind: 'remove-step', step: `${run.id}/via.${index}` }));
  const free = (port: Port) =>
    port.direction === 'output' &&
    port.modes.some((mode) => mode.kind === 'phones' && carriesTwo(mode)) &&
    !net.leaving.has(socket(piece, port).key);
  return piece.model.ports
    .filter(free)
    .slice(0, 2)
    .map(({ id }): Fix => {
      const move: Fix = { kind: 'move', run: run.id, port: id };
      return boxes.length > 0 ? { kind: 'several', fixes: [move, ...boxes] } : move;
    });
}
