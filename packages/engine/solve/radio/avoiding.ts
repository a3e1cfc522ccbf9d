/** What a rig is to keep clear of on the air: ranges that it says to avoid, and what is loud in its scans. */
import type { AirScan, Avoided, LoudSpan, Settings, Span } from '#rig';

/** A carrier as far as it is wide, in Hz. */
interface Carrier {
  readonly hz: number;
  readonly bandwidthHz: number;
}

/** Whether what a carrier occupies reaches into a range. */
export function touches({ low, high }: Span, { hz, bandwidthHz }: Carrier): boolean {
  return hz + bandwidthHz / 2 > low && hz - bandwidthHz / 2 < high;
}

/** The range to avoid that a carrier reaches into, if any. */
export function avoidedBy({ avoid }: Settings, carrier: Carrier): Avoided | undefined {
  return avoid.find((range) => touches(range, carrier));
}

export interface Occupied extends LoudSpan {
  readonly scan: AirScan;
}

/** The loudest of what a scan shows where a carrier is. */
export function occupiedAt({ scans }: Settings, carrier: Carrier): Occupied | undefined {
  const found = scans.flatMap((scan): Occupied[] => {
    const spans: LoudSpan[] = [];
    for (let at = firstBeyond(scan.loud, carrier.hz - carrier.bandwidthHz / 2); at < scan.loud.length; at++) {
      const span = scan.loud[at] as LoudSpan;
      if (!touches(span, carrier)) break;
      spans.push(span);
    }
    const [loudest] = spans.sort((a, b) => b.mostDbm - a.mostDbm);
    return loudest ? [{ ...loudest, scan }] : [];
  });
  return found.sort((a, b) => b.mostDbm - a.mostDbm)[0];
}

/** Tells of a carrier whether it reaches into any of these ranges: as quick for ten thousand of them as for one. */
export function reaching(ranges: readonly Span[]): (carrier: Carrier) => boolean {
  const apart: { low: number; high: number }[] = [];
  for (const { low, high } of ranges.toSorted((a, b) => a.low - b.low)) {
    const last = apart.at(-1);
    if (last && low <= last.high) last.high = Math.max(last.high, high);
    else apart.push({ low, high });
  }
  return (carrier) => {
    const next = apart[firstBeyond(apart, carrier.hz - carrier.bandwidthHz / 2)];
    return next !== undefined && touches(next, carrier);
  };
}

/** The first of ranges, which are apart and rise, that ends above a frequency. */
function firstBeyond(ranges: readonly Span[], hz: number): number {
  let low = 0;
  for (let high = ranges.length; low < high; ) {
    const middle = (low + high) >> 1;
    if ((ranges[middle] as Span).high <= hz) low = middle + 1;
    else high = middle;
  }
  return low;
}
