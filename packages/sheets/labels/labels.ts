/** What stands on the labels of the leads: one for each end of each, the same but for the end, and one for each side of a joint on the way. */
import type { Checked } from '#engine';
import type { Place, Settings } from '#rig';
import { type ListedLead, leadListOf, numbered, piecesOf } from '../leads/list';

export interface Label {
  readonly key: string;
  /**
   * The number in the list of leads, with the end: `12 A`. A figure behind the letter is a joint on the way: `12 A1`, the side that comes
   * from A, goes together with `12 B1`.
   */
  readonly mark: string;
  /** Which end it is, or which side of a joint. */
  readonly end: 'A' | 'B';
  /** It is at a joint, and not at an end. */
  readonly joint: boolean;
  /** `Kick → Interface 5`. */
  readonly name: string;
  /** The name in two, for two lines: `Kick` for end A, `→ Interface 5` for end B. */
  readonly halves: readonly [string, string];
  /** Of the lead, or of this piece of it: `10 m`; empty where it is not known. */
  readonly length: string;
  /** The plug, `XLR female`; of a joint what goes there, `joint to 12 B1`. */
  readonly plug: string;
  readonly place: Place;
}

/** In the order of the list of leads, from end A to end B. Ours alone, or those that the house brings as well. Pure. */
export function labelsOf(checked: Checked, { all = false }: { readonly all?: boolean } = {}): Label[] {
  return numbered(leadListOf(checked)).flatMap((lead) => (lead.theirs && !all ? [] : labelsOfOne(lead, checked.rig.settings)));
}

type Numbered = ListedLead & { readonly number: number };
type End = Pick<Label, 'end' | 'joint' | 'length' | 'plug'> & { readonly mark: string };

function labelsOfOne(lead: Numbered, settings: Settings): Label[] {
  const { number, name, row } = lead;
  const at = name.lastIndexOf(` → ${row.to}`);
  const common = {
    name,
    // The arrow stays with what it points at.
    halves: [name.slice(0, at), `→\u00a0${row.to}`] as const,
    place: row.place,
  };
  return endsOf(lead, settings).map((end) => ({ ...common, ...end, key: `${row.key}/${end.mark}`, mark: `${number} ${end.mark}` }));
}

/** From A to B; what is joined of several has two sides at each joint. */
function endsOf(lead: Numbered, settings: Settings): End[] {
  const { number, row, lengthens } = lead;
  const pieces = piecesOf(lead, settings);
  const joined = (mark: string, to: string, length: string): End => ({
    mark,
    end: mark.startsWith('A') ? 'A' : 'B',
    joint: true,
    length,
    plug: `joint to ${number} ${to}`,
  });
  const ends = pieces.flatMap((length, index): End[] => {
    const [before, after] = [index, index + 1];
    return [
      before === 0 ? { mark: 'A', end: 'A', joint: false, length, plug: row.fromEnd } : joined(`B${before}`, `A${before}`, length),
      after === pieces.length ? { mark: 'B', end: 'B', joint: false, length, plug: row.toEnd } : joined(`A${after}`, `B${after}`, length),
    ];
  });
  // The plug of the earphones' own lead.
  return lengthens ? [...ends, joined(`B${pieces.length}`, 'B', '')] : ends;
}
