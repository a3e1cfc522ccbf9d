/** Times in milliseconds, and what is told of many. */

export interface Times {
  readonly median: number;
  readonly p95: number;
  readonly least: number;
  readonly most: number;
  readonly count: number;
}

export function summed(times: readonly number[]): Times {
  const sorted = times.toSorted((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
  return { median: at(0.5), p95: at(0.95), least: at(0), most: at(1), count: sorted.length };
}

/** How long each of so many runs takes, after as many more to warm up as are asked for. */
export function timed(runs: number, warmUp: number, work: () => unknown): Times {
  const times: number[] = [];
  for (let run = -warmUp; run < runs; run++) {
    const start = performance.now();
    work();
    if (run >= 0) times.push(performance.now() - start);
  }
  return summed(times);
}

export function ms(time: number): string {
  return time < 10 ? time.toFixed(2) : time < 100 ? time.toFixed(1) : time.toFixed(0);
}

export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  return [head, head.map((_, index) => (index === 0 ? '---' : '---:')), ...rows].map((cells) => `| ${cells.join(' | ')} |`).join('\n');
}
