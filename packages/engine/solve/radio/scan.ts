/** A scan of what is on the air in a room: plain CSV with a frequency in MHz and a level in dBm in each line, as receivers and analysers write it. */
import type { LoudSpan, ScanPoint } from '#rig';

/** Why a line is none of a scan. */
export type ScanSlip = 'no-numbers' | 'not-mhz' | 'not-dbm';

export type Scan =
  /** In rising order; at least one. */
  | { readonly kind: 'read'; readonly points: readonly ScanPoint[] }
  /** `line` counts from 1. */
  | { readonly kind: 'unreadable'; readonly line: number; readonly text: string; readonly why: ScanSlip }
  | { readonly kind: 'empty' };

/** In MHz: below and above is no radio microphone, and most likely another unit. */
const SENSIBLE_MHZ = { least: 1, most: 10_000 };
/** In dBm: from below any noise to what no receiver survives. */
const SENSIBLE_DBM = { least: -200, most: 60 };

/** Separated by commas, semicolons, tabs or spaces; a decimal comma where the separator is another. More columns are not looked at. */
export function readScan(text: string): Scan {
  const points: ScanPoint[] = [];
  let number = 0;
  for (const line of text.split(/\r\n|\n|\r/)) {
    number++;
    const bare = line.replace(/^\uFEFF/, '').trim();
    if (bare === '' || bare.startsWith('#')) continue;
    const cells = cellsOf(bare);
    const [mhz, dbm] = cells.map(Number);
    if (mhz === undefined || dbm === undefined || !Number.isFinite(mhz) || !Number.isFinite(dbm)) {
      if (points.length > 0) return { kind: 'unreadable', line: number, text: bare.slice(0, 60), why: 'no-numbers' };
      continue;
    }
    if (mhz < SENSIBLE_MHZ.least || mhz > SENSIBLE_MHZ.most)
      return { kind: 'unreadable', line: number, text: bare.slice(0, 60), why: 'not-mhz' };
    if (dbm < SENSIBLE_DBM.least || dbm > SENSIBLE_DBM.most)
      return { kind: 'unreadable', line: number, text: bare.slice(0, 60), why: 'not-dbm' };
    points.push({ hz: mhz * 1e6, dbm });
  }
  if (points.length === 0) return { kind: 'empty' };
  return { kind: 'read', points: points.sort((a, b) => a.hz - b.hz) };
}

function cellsOf(line: string): string[] {
  const separator = line.includes(';') ? ';' : line.includes('\t') ? '\t' : line.includes(',') ? ',' : /\s+/;
  const cells = line.split(separator).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'));
  // `Number('')` is nought, and an empty cell is none.
  return cells.map((cell) => (cell === '' ? 'nothing' : separator === ',' ? cell : cell.replace(',', '.')).replace(/^[\u2212\u2013]/, '-'));
}

/** Where it is louder than a level: each point stands for half the way to the next on either side. */
export function louderThan(points: readonly ScanPoint[], dbm: number): LoudSpan[] {
  const found: { low: number; high: number; mostDbm: number }[] = [];
  const usual = stepOf(points);
  for (const [index, { hz, dbm: level }] of points.entries()) {
    if (level <= dbm) continue;
    // A gap in the scan is not known to be loud.
    const half = (other: ScanPoint | undefined) => (other ? Math.min(usual, Math.abs(other.hz - hz)) / 2 : usual / 2);
    const low = hz - half(points[index - 1]);
    const high = hz + half(points[index + 1]);
    const last = found.at(-1);
    if (last && low <= last.high + 1) {
      last.high = Math.max(last.high, high);
      last.mostDbm = Math.max(last.mostDbm, level);
    } else found.push({ low, high, mostDbm: level });
  }
  return found;
}

/** The step that most of its points are apart: the middle one of all. */
function stepOf(points: readonly ScanPoint[]): number {
  const steps = points.slice(1).map(({ hz }, index) => hz - (points[index] as ScanPoint).hz);
  return steps.sort((a, b) => a - b)[steps.length >> 1] ?? 0;
}
