/** More lines than ports that can take them: who fights over what, and where there is room. */
import type { Piece, SignalKind } from '#rig';
import type { Fix } from '../../cure/fix';
import { type Shortage, shortages } from '../../solve/matching';
import { memoryOf } from '../../solve/memory';
import { signalLabel } from '../../solve/naming';
import { type Line, type Network, push } from '../../solve/network';
import { askedBy, canTake, type Demand, demandOf } from '../../solve/ports';
import { router } from '../../solve/ways';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';
import type { Crowd } from './crowd';
import { room } from './room';

/**
 * Lines are matched to ports, whatever the text says they are plugged into: where not all can be placed, those that compete
 * for too few ports are named, with the ports. What no port takes at all is told elsewhere, if it is alone.
 */
export function crowding(net: Network): Finding[] {
  return [...plugsByPiece(net)].flatMap(([id, plugs]) => {
    const piece = net.rig.pieces.get(id);
    // One line has nobody to compete with.
    return piece && plugs.length > 1 ? net.kept.unlessNone('crowding', piece, plugs, () => ofCrowd(net, crowdOf(net, piece, plugs))) : [];
  });
}

function ofCrowd(net: Network, crowd: Crowd): Finding[] {
  const { piece, ports, plugs, demands } = crowd;
  return shortages(demands.map((demand) => crowd.wishes(demand)))
    .flatMap((shortage) => ofOneKind(shortage, demands))
    .flatMap(({ lefts, rights }) => {
      const lines = lefts.map((index) => plugs[index] as Line);
      // What stands where it cannot: nothing else is to be said of its socket.
      const misplaced = lines.filter(({ end }) => end && !rights.some((index) => ports[index] === end.port));
      const last = misplaced.at(-1) ?? lines.at(-1);
      if (lefts.length < 2 || !last) return [];
      const needy = lefts.map((index) => demands[index] as Demand);
      const excess = lefts.length - rights.length;
      const { fixes, ...elsewhere } = room(net, router(net), crowd, lefts, excess);
      return [
        finding(
          'capacity/too-few-inputs',
          `${last.run.id}/port`,
          {
            gear: piece.label,
            sources: lines.map((line) => lineLabel(net, line, lines)),
            kind: kindOf(needy),
            phantom: needy.every((demand) => demand.phantom),
            fed: needy.every((demand) => demand.phantom)
              ? []
              : lines.filter((_, at) => needy[at]?.phantom).map((line) => lineLabel(net, line, lines)),
            ports: rights.map((index) => ports[index]?.id ?? ''),
            ...elsewhere,
          },
          {
            about: misplaced.map(({ run }) => run.id),
            related: lines
              .slice(0, 8)
              .map((line) => ({ place: `${line.run.id}/port`, says: BESIDE.needsOne(lineLabel(net, line, lines)) })),
            fixes: fixes.length === 0 && excess === 1 ? leftOut(net, last) : fixes,
          },
        ),
      ];
    });
}

const KINDS = ['mic', 'instrument', 'line', 'digital'] as const;

/** What they all are, where that is one of those that inputs of gear are made for. */
function kindOf(demands: readonly Demand[]) {
  return KINDS.find((kind) => demands.every(({ kinds }) => kinds.length > 0 && kinds.every((each) => each === kind)));
}

/** What no port takes fights over nothing: it is told kind by kind, and of what is for no input at all it is told where it is plugged in. */
function ofOneKind(shortage: Shortage, demands: readonly Demand[]): Shortage[] {
  if (shortage.rights.length > 0) return [shortage];
  const byKind = new Map<SignalKind, number[]>();
  for (const index of shortage.lefts) {
    const kind = kindOf(demands.slice(index, index + 1));
    if (kind) push(byKind, kind, index);
  }
  return [...byKind.values()].map((lefts) => ({ lefts, rights: [] }));
}

/** Without a source: its only line, and what the mixes have of it. */
function leftOut({ rig, linesOf }: Network, { run, signal = '' }: Line): Fix[] {
  if (linesOf(signal).some((line) => line.run !== run)) return [];
  const sends = [...rig.mixes.values()].flatMap((mix) => mix.sends.filter(({ source }) => source === signal));
  return [
    {
      kind: 'several',
      fixes: [{ kind: 'remove', statement: run.id }, ...sends.map(({ place }): Fix => ({ kind: 'remove-send', send: place }))],
    },
  ];
}

/** `Organ`, and `Organ left` where the other side is among them too. */
function lineLabel(net: Network, line: Line, among: readonly Line[]): string {
  const label = signalLabel(net.rig, line.signal);
  const twice = line.channel !== undefined && among.some((other) => other !== line && other.signal === line.signal);
  return twice ? `${label} ${line.channel}` : label;
}

/** One line for each plug, as one serves all the lines that share it. */
function plugsByPiece(net: Network): ReadonlyMap<string, readonly Line[]> {
  const byPiece = new Map<string, Line[]>();
  for (const line of net.lines) if (line.run.kind === 'input' && line.joints.length > 0) push(byPiece, line.run.to.piece, line);
  for (const [id, lines] of byPiece)
    byPiece.set(
      id,
      net.kept.once('plugs', id, lines, () => plugsAmong(lines)),
    );
  return byPiece;
}

function plugsAmong(lines: readonly Line[]): Line[] {
  return [...new Map(lines.map((line) => [line.joints.at(-1), line])).values()];
}

function crowdOf(net: Network, piece: Piece, plugs: readonly Line[]): Crowd {
  const ports = piece.model.ports.filter((port) => port.direction === 'input');
  const wishes = (demand: Demand) =>
    memoryOf(piece.model).once('wishes', askedBy(demand), () => ports.flatMap((port, index) => (canTake(port, demand) ? [index] : [])));
  return { piece, ports, plugs, demands: plugs.map((line) => demandOf(net, line)), wishes };
}
