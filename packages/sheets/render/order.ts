/** Where findings are told in a rendering that has no room for them at their rows. */
import type { Block, Sheet } from '../sheet';

/**
 * The blocks in their order, with all findings of the sheet at once: where those stand that no row stands for, or else at the
 * end, before the cautions.
 */
export function inOrder(sheet: Sheet<string>): (Exclude<Block, { kind: 'notes' }> | 'findings')[] {
  const { blocks } = sheet;
  const own = blocks.findIndex(({ kind }) => kind === 'notes');
  const end = blocks.at(-1)?.kind === 'cautions' ? blocks.length - 1 : blocks.length;
  const at = own < 0 ? end : own;
  const parts = (some: readonly Block[]) => some.flatMap((block) => (block.kind === 'notes' ? [] : [block]));
  return [...parts(blocks.slice(0, at)), 'findings', ...parts(blocks.slice(at))];
}
