/** What stands on the labels of the leads: one for each end of each, the same but for the end. */
import { type Checked, lengthText } from '#engine';
import type { Place } from '#rig';
import { leadListOf, numbered } from '../leads/list';

export interface Label {
  readonly key: string;
  /** As in the list of leads, with the end: `12 A`. */
  readonly mark: string;
  readonly end: 'A' | 'B';
  /** `Kick → Interface 5`. */
  readonly name: string;
  /** The name in two, for two lines: `Kick` for end A, `→ Interface 5` for end B. */
  readonly halves: readonly [string, string];
  /** Of this end: `XLR female`. */
  readonly plug: string;
  /** Of the lead: `10 m`; empty where it is not known or is the gear's own. */
  readonly length: string;
  readonly place: Place;
}

/** In the order of the list of leads, end A before end B. Pure. */
export function labelsOf(checked: Checked): Label[] {
  return numbered(leadListOf(checked)).flatMap(({ number, name, row, reckoned }) => {
    const at = name.lastIndexOf(` → ${row.to}`);
    const common = {
      name,
      // The arrow stays with what it points at.
      halves: [name.slice(0, at), `→\u00a0${row.to}`] as const,
      length: reckoned.lengthM === undefined ? '' : lengthText(reckoned.lengthM, checked.rig.settings),
      place: row.place,
    };
    const ends = [
      ['A', row.fromEnd],
      ['B', row.toEnd],
    ] as const;
    return ends.map(([end, plug]) => ({ ...common, key: `${row.key}/${end}`, mark: `${number} ${end}`, end, plug }));
  });
}
