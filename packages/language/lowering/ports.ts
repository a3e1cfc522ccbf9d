/** Ranges of ports: `1..8`, `usb1..usb8`. */
import { type AstNode, AstUtils } from 'langium';
import type { PortRange } from '../generated/ast';
import { isLibrary } from '../library';
import type { Context } from './context';

/** More than any gear has; a slip of a finger must not make a million ports. */
const MOST_PORTS = 256;

export function portRange(context: Context, range: PortRange): string[] {
  return spread(context, range, range.first, range.last);
}

export function spread(context: Context, node: AstNode, first: string | undefined, last: string | undefined): string[] {
  if (first === undefined) return [];
  if (last === undefined) return [first];
  const from = /^(.*?)(\d+)$/.exec(first);
  const to = /^(.*?)(\d+)$/.exec(last);
  const low = Number(from?.[2]);
  const high = Number(to?.[2]);
  if (!from || !to || from[1] !== to[1] || !(low < high) || high - low >= MOST_PORTS) {
    // The two ends the wrong way round, in a model; at a run's port the node is more than the range.
    const turned = from && to && from[1] === to[1] && high < low && node.$type === 'PortRange';
    context.report(
      'models/bad-range',
      { node },
      { written: `${first}..${last}` },
      { fixes: turned ? [{ with: `${last}..${first}` }] : [] },
    );
    return [first];
  }
  // The library's are lowered once for all rigs.
  if (!isLibrary(AstUtils.getDocument(node).uri) && !context.mayMake(high - low, { node })) return [first];
  return Array.from({ length: high - low + 1 }, (_, index) => `${from[1]}${low + index}`);
}
