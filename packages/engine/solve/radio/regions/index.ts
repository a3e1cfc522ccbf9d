/** What is known of the place where a rig is played. */
import type { Settings } from '#rig';
import { CEPT, EUROPE, EUROPEAN_UNION, GERMANY, UNITED_KINGDOM } from './europe';
import { AUSTRALIA, CANADA, JAPAN, UNITED_STATES } from './overseas';
import type { RadioRange, RadioRegion } from './range';

export type { RadioRange, RadioRegion } from './range';

/** Every one there is a source for. */
export const REGIONS: readonly RadioRegion[] = [EUROPE, GERMANY, UNITED_KINGDOM, UNITED_STATES, CANADA, AUSTRALIA, JAPAN];

/** Other ways to write one. */
const ALIASES: Readonly<Record<string, string>> = { GB: 'UK', USA: 'US', CEPT: 'EU', EUROPE: 'EU' };

function known(written: string | undefined): RadioRegion | undefined {
  const code = written?.toUpperCase() ?? '';
  return REGIONS.find((region) => region.code === (ALIASES[code] ?? code));
}

/** `unstated`: the rig says neither a region nor a country; `unknown`: there is no source here for what it says. */
export type Where = RadioRegion | 'unstated' | 'unknown';

/** A country counts before its region; one of the CEPT that is not known by itself has what is recommended. */
export function whereOf({ region, country }: Pick<Settings, 'region' | 'country'>): Where {
  if (region === undefined && country === undefined) return 'unstated';
  const own = known(country);
  if (own) return own;
  const wide = known(region);
  if (country === undefined) return wide ?? (isCept(region) ? EUROPE : 'unknown');
  if (isCept(country)) return EUROPE;
  // What holds in a region that is one country does not hold in another.
  return wide === EUROPE ? EUROPE : 'unknown';
}

function isCept(country: string | undefined): boolean {
  return CEPT.has(country?.toUpperCase() ?? '');
}

/** Whether the Directive on noise at work holds there; nothing where the rig does not say enough. */
export function isEuropeanUnion({ region, country }: Pick<Settings, 'region' | 'country'>): boolean {
  if (country !== undefined) return EUROPEAN_UNION.has(country.toUpperCase());
  return region !== undefined && (known(region) === EUROPE || EUROPEAN_UNION.has(region.toUpperCase()));
}

export function isUnitedKingdom({ region, country }: Pick<Settings, 'region' | 'country'>): boolean {
  return known(country ?? region) === UNITED_KINGDOM;
}

/** The range that a carrier lies in with all of its width, those without a licence first. */
export function rangeFor({ ranges }: RadioRegion, hz: number, bandwidthHz: number): RadioRange | undefined {
  const within = ranges.filter((range) => isInside(range, hz, bandwidthHz));
  return within.find(({ licence }) => licence === 'none') ?? within[0];
}

export function isInside({ lowHz, highHz, centres }: RadioRange, hz: number, bandwidthHz: number): boolean {
  const half = centres ? 0 : bandwidthHz / 2;
  return hz - half >= lowHz && hz + half <= highHz;
}
