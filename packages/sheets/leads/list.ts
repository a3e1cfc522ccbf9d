/**
 * The leads of a rig with their numbers and names, for every sheet that speaks of one: the list of leads, the labels, setting up,
 * packing down. A number is the place in the list; end A goes into an output, end B into an input.
 */
import { type Checked, lengthText } from '#engine';
import type { Settings } from '#rig';
import { type Context, contextOf } from '../shared/context';
import { stock } from '../shared/figures';
import { houseRows } from '../shared/house';
import { inputRows } from '../shared/inputs';
import { laidLeads } from '../shared/laid';
import { type LeadDraft, plugsWords } from '../shared/leads';
import { outputRows } from '../shared/outputs';

export interface ListedLead extends LeadDraft {
  /** From 1; nothing where no lead joins the two, or none may. */
  readonly number?: number;
  /** `Kick → Interface 5`; `Lead vocal: Y-lead 1 → Interface 1` where it does not start at what makes the sound. */
  readonly name: string;
}

/** How many signals on one lead are named; a link's eight are counted. */
const MOST_SIGNALS = 2;

export function leadListOf(checked: Checked): readonly ListedLead[] {
  return contextOf(checked).once('leads', listed);
}

function listed(context: Context): readonly ListedLead[] {
  let last = 0;
  return laidLeads(context, [...inputRows(context), ...houseRows(context), ...outputRows(context)]).map((draft) => ({
    ...draft,
    number: draft.row.wiring === undefined ? undefined : ++last,
    name: nameOf(draft),
  }));
}

function nameOf({ joint, row, signals }: LeadDraft): string {
  const way = `${row.from} → ${row.to}`;
  if (signals.length === 0 || joint.from.piece.kind === 'source') return way;
  return `${signals.length > MOST_SIGNALS ? `${signals.length} signals` : row.carries}: ${way}`;
}

/** `XLR`, `6.35 mm TRS jack to XLR male`. */
export function plugsOf({ reckoned: { lead } }: ListedLead): string {
  return lead ? plugsWords(lead) : '';
}

/** The leads that are there to be plugged, each with its number. */
export function numbered(leadList: readonly ListedLead[]): (ListedLead & { readonly number: number })[] {
  return leadList.filter((lead): lead is ListedLead & { number: number } => lead.number !== undefined);
}

/** How long each is of which a lead is joined, from A to B: the gear’s own, and what makes it longer. One, without a length, where none is known. */
export function piecesOf({ reckoned: { lengthM, ownM, joint } }: ListedLead, settings: Settings): string[] {
  const own = ownM === undefined ? [] : [lengthText(ownM, settings)];
  if (lengthM === undefined) return own.length > 0 ? own : [''];
  const { count, eachM } = stock(lengthM, settings);
  const more = Array<string>(count).fill(lengthText(eachM, settings));
  return joint.from.port.tailM === undefined ? [...more, ...own] : [...own, ...more];
}
