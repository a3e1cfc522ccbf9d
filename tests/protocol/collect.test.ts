import { constants, PerformanceObserver } from 'node:perf_hooks';
import { expect, test } from 'vitest';
import { collectNow, collectYoung } from '#server/collect';

test('what is collected between two keys is what is young, and nothing else', async () => {
  const { NODE_PERFORMANCE_GC_MINOR: MINOR, NODE_PERFORMANCE_GC_MAJOR: MAJOR } = constants;
  expect(await kindsOf(collectYoung)).toEqual([MINOR]);
  expect(await kindsOf(collectNow)).toContain(MAJOR);
});

/** What Node says was collected in there. */
async function kindsOf(collect: () => void): Promise<(number | undefined)[]> {
  const all: PerformanceEntry[] = [];
  const observer = new PerformanceObserver((list) => all.push(...list.getEntries()));
  observer.observe({ entryTypes: ['gc'] });
  const from = performance.now();
  collect();
  const to = performance.now();
  // Told a turn later.
  await new Promise((resolve) => setTimeout(resolve, 20));
  observer.disconnect();
  return all
    .filter(({ startTime }) => from <= startTime && startTime <= to)
    .map((entry) => (entry as PerformanceEntry & { readonly detail?: { readonly kind?: number } }).detail?.kind);
}
