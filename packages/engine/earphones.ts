/** Whether what a performer wears in their ears reaches the socket it is plugged into. */
import type { Mix, Model, OutputRun, Performer, Port, Position } from '#rig';
import { type Finding, finding } from './findings';
import { floorLength, type JointLead, placed, samePlace, stockLength } from './leads';
import { socketName } from './naming';
import type { Network, Socket } from './network';
import { type Way, waysOf } from './ways';

export interface ShortEarphones {
  readonly performer: Performer;
  readonly mix: Mix;
  readonly run: OutputRun;
  readonly socket: Socket;
  readonly model: Model;
  /** The earphones' plug, at the end of their own lead. */
  readonly plug: Port;
  readonly tailM: number;
  /** Metres along the floor with slack. */
  readonly neededM: number;
  /** The length to take, from those that can be had. */
  readonly extensionM: number;
}

/**
 * Of each performer's mixes, those that no socket of theirs can be reached for. Nothing is said where the ears, their lead or
 * one of the places is not known, nor of a socket that is worn.
 */
export function shortEarphones(net: Network, joined: readonly JointLead[]): ShortEarphones[] {
  const stands = new Map<string, Position>();
  for (const { joint, fromAt, toAt } of joined) {
    if (fromAt) stands.set(joint.from.piece.id, fromAt);
    if (toAt) stands.set(joint.to.piece.id, toAt);
  }
  const ways = waysOf(net).filter(({ how, end }) => how === 'phones' && end.port.direction === 'output');
  return [...net.rig.performers.values()].flatMap((performer) => {
    const { at, ears: model } = performer;
    const plug = model?.ports.find(({ direction, tailM }) => direction === 'input' && tailM !== undefined);
    if (!model || !at || plug?.tailM === undefined) return [];
    const { tailM } = plug;
    const mine = ways.filter(({ mix, end }) => mix.for.includes(performer.id) && belongs(end.piece.for, performer));
    return [...new Set(mine.map(({ mix }) => mix))].flatMap((mix): ShortEarphones[] => {
      const reached = mine.filter((way) => way.mix === mix).map((way) => away(net, stands, way, at));
      // The nearest, where all places are known.
      const known = reached.flatMap((each) => (each.neededM === undefined ? [] : [{ ...each, neededM: each.neededM }]));
      const [first, ...others] = known;
      if (!first || known.length < reached.length) return [];
      const { way, neededM } = others.reduce((best, each) => (each.neededM < best.neededM ? each : best), first);
      const { run } = way.line;
      if (neededM <= tailM || run.kind !== 'output') return [];
      return [{ performer, mix, run, socket: way.end, model, plug, tailM, neededM, extensionM: stockLength(net.rig, neededM - tailM) }];
    });
  });
}

/** Two on one mix have a pack each, and it says for whom; what says nothing is for all. */
export function belongs(owners: readonly string[], performer: Performer): boolean {
  return owners.length === 0 || owners.includes(performer.id);
}

function away(net: Network, stands: ReadonlyMap<string, Position>, way: Way, at: Position): { way: Way; neededM: number | undefined } {
  const { piece } = way.end;
  const from = placed(net.rig, piece) ?? stands.get(piece.id);
  return { way, neededM: from && samePlace(from, at) ? 0 : floorLength(from, at) };
}

export function earphonesReach(net: Network, joined: readonly JointLead[]): Finding[] {
  return shortEarphones(net, joined).map(({ performer, run, socket, model, tailM, neededM, extensionM }) =>
    finding(
      'connectors/earphones-too-short',
      run.via.length > 0 ? `${run.id}/via.${run.via.length - 1}` : `${run.id}/port`,
      { performer: performer.label, earphones: model.label, socket: socketName(socket), tailM, neededM, extensionM },
      { about: [performer.id], related: [{ place: performer.place, says: `where ${performer.label} is` }] },
    ),
  );
}
