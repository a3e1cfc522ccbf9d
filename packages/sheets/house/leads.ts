/** The house's own leads that our lines need: each kind with its length, how many, and on which lines. */
import type { Place } from '#rig';
import { type ListedLead, plugsOf } from '../leads/list';
import { unique } from '../shared/draft';
import { leadKind } from '../shared/leads';
import type { HandedLine } from './lines';

export interface TheirLeads {
  readonly count: number;
  /** `XLR`, `6.35 mm TRS jack to XLR male`. */
  readonly plugs: string;
  /** `XLR lead, balanced`. */
  readonly kind: string;
  readonly length: string;
  /** Of the house's lines, in their order. */
  readonly numbers: readonly string[];
  readonly places: readonly Place[];
}

/** What hangs on gear of theirs comes with it, and is none of these. */
export function theirLeads(lines: readonly HandedLine[], all: readonly ListedLead[]): TheirLeads[] {
  const groups = new Map<string, { lead: ListedLead; count: number; places: Place[] }>();
  for (const lead of all) {
    const { ownM, lengthM } = lead.reckoned;
    const places = lead.row.about.filter((place) => lines.some(({ run }) => run.place === place));
    if (lead.number === undefined || !lead.theirs || places.length === 0 || (ownM !== undefined && lengthM === undefined)) continue;
    const key = `${plugsOf(lead)} ${lead.row.wiring} ${lead.row.length}`;
    const { count, places: before } = groups.get(key) ?? { count: 0, places: [] };
    groups.set(key, { lead, count: count + 1, places: [...before, ...places] });
  }
  return [...groups.values()].map(({ lead, count, places }) => {
    const { row, reckoned } = lead;
    return {
      count,
      plugs: plugsOf(lead),
      kind: reckoned.lead && row.wiring ? leadKind(reckoned.lead, row.wiring) : '',
      length: row.length,
      numbers: unique(lines.flatMap(({ run }) => (places.includes(run.place) ? [run.number] : []))),
      places: unique(places),
    };
  });
}
