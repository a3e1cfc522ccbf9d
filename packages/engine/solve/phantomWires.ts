/** Over which wires phantom power goes: it comes out of XLR sockets alone, and needs three contacts all the way (IEC 61938). */
import { CONNECTORS, type Piece, type SignalKind } from '#rig';
import { leadBetween } from './mating';
import type { Joint, Network, Socket } from './network';
import { kindsAt, wholePath } from './path';
import { passesPhantom } from './ports';

/** How many contacts of a plugged lead are joined at both ends; none inside a machine or by radio. */
export function contactsOf({ from, to }: Joint): number {
  return Math.min(polesOf(from), polesOf(to));
}

function polesOf({ port: { connector } }: Socket): number {
  return connector === undefined ? 0 : CONNECTORS[connector].poles;
}

/** Whether a lead ends in the jack half of a combo socket, which carries no phantom power, for a signal of these kinds. */
export function inJackHalf({ from, to }: Joint, kinds: readonly SignalKind[]): boolean {
  if (to.port.connector !== 'combo') return false;
  const kind = kinds.find((each) => to.port.modes.some((mode) => mode.kind === each)) ?? kinds[0];
  const end = leadBetween(from.port, to.port, kind)?.ends[1];
  return end !== undefined && end.connector !== 'xlr';
}

/** As `inJackHalf`, for a joint wherever it is. */
export function endsInJackHalf(net: Network, joint: Joint): boolean {
  if (joint.to.port.connector !== 'combo') return false;
  const line = net.linesThrough(joint)[0];
  const path = line ? wholePath(net, line) : [];
  return inJackHalf(joint, kindsAt(path.slice(0, path.indexOf(joint) + 1)));
}

/**
 * The first piece on a path, seen from its end, that phantom power does not get through. The path is that of a line from where
 * its signal is made; `from` is the joint that leaves what needs it, or -1 where that is the source.
 */
export function blockOn(path: readonly Joint[], from = -1): Piece | undefined {
  for (let at = path.length - 1; at >= Math.max(0, from); at--) {
    const joint = path[at] as Joint;
    const { tie } = joint.from.port;
    if (at > from && tie && !passesPhantom(tie)) return joint.from.piece;
    if (contactsOf(joint) < 3) return joint.from.piece;
    if (at === path.length - 1 && inJackHalf(joint, kindsAt(path))) return joint.from.piece;
  }
  return undefined;
}

/** Where phantom power that is on at the end of a line comes to a stop: at an output, over three contacts or over two. */
export interface Reached {
  readonly at: Socket;
  /** A plug with two contacts on the way: one wire is shorted to the shield there, and the other has the 48 volts. */
  readonly unbalanced: boolean;
}

/** The output that phantom power at the end of a path reaches; undefined where a transformer or no wire is in between. */
export function reachedFrom(path: readonly Joint[]): Reached | undefined {
  let unbalanced = false;
  for (let at = path.length - 1; at >= 0; at--) {
    const joint = path[at] as Joint;
    const { tie } = joint.from.port;
    const contacts = contactsOf(joint);
    if (contacts < 2 || joint.clashes) return undefined;
    if (at === path.length - 1 && inJackHalf(joint, kindsAt(path))) return undefined;
    unbalanced ||= contacts < 3;
    if (tie?.isolated) return undefined;
    if (tie?.how !== 'parallel' && tie?.how !== 'switch') return { at: joint.from, unbalanced };
  }
  return undefined;
}
