/** Who hears on one side only: a mono mix that goes into one side of what plays two, and one side alone of a stereo mix. */
import type { Mix, Piece, Run } from '#rig';
import type { Fix } from '../../cure/fix';
import { follows } from '../../cure/free';
import { panDb, type Side } from '../../solve/buses';
import { isOneEarpiece } from '../../solve/earphones';
import { isRadio } from '../../solve/mating';
import { signalLabel } from '../../solve/naming';
import { type Joint, type Network, stepOf } from '../../solve/network';
import { seatsFor } from '../../solve/seats';
import type { Way } from '../../solve/ways';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';
import { asMono, channelsOf } from './contents';

/** What loses less than this on the side that is heard is not worth a word: common practice, no source. */
const FAINT_DB = 6;

export function oneEar(net: Network, ways: readonly Way[]): readonly Finding[] {
  const { pieces, performers, sources, mixes, outputs } = net.rig;
  return net.kept.once('one ear', undefined, [ways, pieces, performers, sources, mixes, outputs], () => [
    ...monoIntoOneSide(net, ways),
    ...stereoOnOneSide(net, ways),
    ...stereoInOneEar(net, ways),
  ]);
}

// ---- a mono mix ----------------------------------------------------------------------------------

function monoIntoOneSide(net: Network, ways: readonly Way[]): Finding[] {
  const told = new Set<string>();
  return ways.flatMap(({ mix, line }) => {
    if (mix.stereo) return [];
    return line.joints.flatMap((joint) => {
      const { piece, port } = joint.to;
      const players = playersOf(net, joint);
      if (told.has(piece.id + port.id) || players.length === 0) return [];
      told.add(piece.id + port.id);
      const step = stepOf(line.run, piece);
      return [
        finding(
          'mixes/one-ear',
          step >= 0 ? `${line.run.id}/via.${step}` : line.run.place,
          { mix: mix.label, into: piece.label, side: port.id, player: players[0]?.label ?? '', model: players[0]?.model.id ?? '' },
          {
            about: [mix.id, piece.id, ...mix.for],
            related: [{ place: mix.place, says: BESIDE.isMono(mix.label) }],
            fixes: bothSides(net, line.run, step),
          },
        ),
      ];
    });
  });
}

/** The mix on this output and the next, into both sides, where the next is free and the line names no socket on its way. */
function bothSides({ rig }: Network, run: Run, step: number): Fix[] {
  if (run.kind !== 'output' || step !== 0 || run.from.ports.length !== 1 || run.via.some(({ port }) => port !== undefined)) return [];
  const [port = ''] = run.from.ports;
  const outputs = rig.pieces.get(run.from.piece)?.model.ports.filter(({ direction }) => direction === 'output') ?? [];
  const next = outputs.find(({ id }) => follows(port, id))?.id;
  const taken = rig.outputs.some(({ from }) => from.piece === run.from.piece && next !== undefined && from.ports.includes(next));
  return next === undefined || taken ? [] : [{ kind: 'move', run: run.id, port: `${port}..${next}` }];
}

/** What plays in one ear alone what comes in there: the amplifier itself, or packs that hear this transmitter. */
function playersOf(net: Network, { to: { piece, port } }: Joint): Piece[] {
  if (piece.model.monoSwitch) return [];
  const beside = piece.model.ports.filter(
    ({ direction, tie, modes }) =>
      direction === 'output' &&
      tie?.how === 'active' &&
      tie.inputs.length >= 2 &&
      tie.inputs.includes(port.id) &&
      tie.inputs.every((id) => id === port.id || !net.entering.has(`${piece.id}.${id}`)) &&
      modes.some(({ channels }) => (channels ?? 1) >= 2),
  );
  if (beside.some(({ modes }) => modes.some(({ kind }) => kind === 'phones'))) return [piece];
  if (!beside.some(isRadio)) return [];
  const packs = [...net.rig.pieces.values()].filter(({ hears }) => hears?.piece === piece.id);
  return packs.filter(({ model }) => !model.sideSelect && !model.monoSwitch);
}

// ---- a stereo mix --------------------------------------------------------------------------------

function stereoOnOneSide(net: Network, ways: readonly Way[]): Finding[] {
  return ways.flatMap(({ mix, line, end, how }) => {
    const sideOf = line.channel;
    if (!mix.stereo || how !== 'radio' || (sideOf !== 'left' && sideOf !== 'right')) return [];
    const port = line.joints.at(-1)?.to.port.id;
    const packs = [...net.rig.pieces.values()].filter(
      ({ hears, model }) => hears?.piece === end.piece.id && hears.port !== undefined && hears.port === port && model.sideSelect,
    );
    return packs.flatMap((pack) => told(net, mix, sideOf, pack.label, pack.hears?.place ?? pack.place));
  });
}

/** By wire: once, however many sockets they may plug in at. */
function stereoInOneEar(net: Network, ways: readonly Way[]): Finding[] {
  const mixes = new Set(ways.flatMap(({ mix, how }) => (mix.stereo && how === 'phones' ? mix : [])));
  return [...mixes].flatMap((mix) =>
    [...new Set(mix.for)].flatMap((id) => {
      const performer = net.rig.performers.get(id);
      if (!performer || !isOneEarpiece(performer.ears) || seatsFor(net, id, mix.id).length === 0) return [];
      return told(net, mix, 'left', `${performer.label}’s one earpiece`, performer.place);
    }),
  );
}

function told(net: Network, mix: Mix, side: Side, by: string, place: string): Finding[] {
  const gone: string[] = [];
  const faint: string[] = [];
  for (const { source, channel, panPercent } of mix.sends) {
    const label = signalLabel(net.rig, source);
    const whole = channel === undefined && channelsOf(net.rig, source).length > 0;
    const lossDb = panDb(0, side) - panDb(panPercent, side);
    if (whole) gone.push(`the ${side === 'left' ? 'right' : 'left'} of ${label}`);
    else if (!Number.isFinite(lossDb)) gone.push(label);
    else if (lossDb >= FAINT_DB) faint.push(label);
  }
  if (gone.length + faint.length === 0) return [];
  return [
    finding(
      'mixes/one-side',
      place,
      { mix: mix.label, by, side, gone, faint },
      { about: [mix.id], related: [{ place: mix.place, says: BESIDE.isStereo(mix.label) }], fixes: [asMono(net.rig, mix)] },
    ),
  ];
}
