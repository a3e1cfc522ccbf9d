/** What is other in sheets that have been sent before; and on the client's side, the sheets it makes of them. */
import { isSame, type Place } from '#rig';
import { sharing } from '#sheets/sharing';
import type { Sheet } from '#sheets/sheet';
import { updated, updateOf } from '#sheets/update';
import type { Sheets, SheetsUpdate, Spot } from './protocol';

/** The same, with all of the sheets before wherever they say the same. */
export function sharingSheets(before: Sheets | undefined, now: Sheets): Sheets {
  return { ...now, sheets: now.sheets?.map((sheet, index) => sharing(before?.sheets?.[index] ?? sheet, sheet)) };
}

/** Nothing where others were sent, so that these have to be sent whole. Of two of which the later shares what is the same (`sharingSheets`). */
export function sheetsUpdateOf(before: Sheets | undefined, now: Sheets): SheetsUpdate | undefined {
  const known: readonly Sheet<string>[] = before?.sheets ?? [];
  const { sheets, ...rest } = now;
  if (!before || !sheets || sheets.length !== known.length || sheets.some(({ id }, index) => id !== known[index]?.id)) return undefined;
  const spots: Record<Place, Spot> = {};
  for (const [place, spot] of Object.entries(now.spots)) if (!isSame(spot, before.spots[place])) spots[place] = spot;
  return {
    ...rest,
    updates: sheets.map((sheet, index) => updateOf(before.sheets?.[index] ?? sheet, sheet)),
    spots,
    gone: Object.keys(before.spots).filter((place) => !(place in now.spots)),
  };
}

export function sheetsUpdated(before: Sheets, { updates, gone, ...rest }: SheetsUpdate): Sheets {
  const spots = { ...before.spots, ...rest.spots };
  for (const place of gone) delete spots[place];
  return { ...rest, spots, sheets: before.sheets?.flatMap((sheet, index) => (updates[index] ? updated(sheet, updates[index]) : sheet)) };
}
