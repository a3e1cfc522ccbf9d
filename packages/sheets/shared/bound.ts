/** Sheets bound as one set: what several of them caution about stands once, in front of all. */
import type { Block, CautionsBlock, Sheet } from '../sheet';
import type { Caution } from './model';
import { CAUTIONS } from './titles';

export interface Bound<Id extends string> {
  /** What the set begins with; nothing where no two of the sheets caution about the same. */
  readonly cautions?: CautionsBlock;
  readonly sheets: readonly Sheet<Id>[];
}

/** One sheet is no set, and keeps what it has. */
export function bound<Id extends string>(sheets: readonly Sheet<Id>[]): Bound<Id> {
  const count = new Map<string, number>();
  const all = new Map<string, Caution>();
  const key = ({ subject, text }: Caution) => `${subject}: ${text}`;
  const of = (sheet: Sheet<Id>) => sheet.blocks.flatMap((block) => (block.kind === 'cautions' ? block.cautions : []));
  for (const caution of sheets.flatMap(of)) {
    all.set(key(caution), caution);
    count.set(key(caution), (count.get(key(caution)) ?? 0) + 1);
  }
  const shared = new Map([...all].filter(([each]) => (count.get(each) ?? 0) > 1));
  if (shared.size === 0) return { sheets };
  const left = (sheet: Sheet<Id>): Sheet<Id> => ({
    ...sheet,
    blocks: sheet.blocks.flatMap((block): Block[] => {
      if (block.kind !== 'cautions') return [block];
      const own = block.cautions.filter((caution) => !shared.has(key(caution)));
      return own.length > 0 ? [{ ...block, cautions: own }] : [];
    }),
  });
  return { cautions: { kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [...shared.values()] }, sheets: sheets.map(left) };
}
