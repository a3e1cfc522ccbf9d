/** What is sent to whoever looks at sheets, and when. */
import { UriUtils } from 'langium';
import type { Analysis } from '#language';
import { placesOf, type Sheet } from '#sheets';
import type { TabId } from '#sheets/sheet';
import type { Sheets, Spot } from './protocol';

/** Resolves after a while without a word from the signal; never after one. */
export function quiet(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    signal.addEventListener('abort', () => clearTimeout(timer), { once: true });
  });
}

/** Sheets of an analysed document, with where each place that they speak of stands. */
export function message(
  uri: string,
  version: number,
  { document, checked, spotOf }: Analysis,
  sheets: readonly Sheet<TabId>[] | undefined,
): Sheets {
  const spots: Record<string, Spot> = {};
  for (const sheet of sheets ?? []) {
    for (const place of placesOf(sheet)) {
      const spot = spots[place] ? undefined : spotOf(place);
      if (spot) spots[place] = spot;
    }
  }
  const title = checked ? (checked.rig.label ?? sheets?.[0]?.title) : undefined;
  const types = new Set(document.parseResult.value.statements.map(({ $type }) => $type));
  const lends = types.has('Model') || types.has('Gear') || types.has('Use');
  return { uri, version, title: title ?? UriUtils.basename(document.uri), sheets, lends, titled: types.has('Header'), spots };
}
