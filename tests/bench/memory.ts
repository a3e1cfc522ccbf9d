/** Whether the server keeps anything of what it has done: its heap and all its memory over thousands of edits, with an editor's questions in between. */

import { type Session, startSession } from './session';

/** What the heap and the whole process hold, in MB, once what nobody needs has been collected. */
export interface Sample {
  readonly steps: number;
  readonly heapMb: number;
  readonly rssMb: number;
}

export interface Memory {
  readonly samples: readonly Sample[];
  /** Growth over the second half of the steps, in kB for each thousand of them: the first half warms up. */
  readonly heapKbPerThousand: number;
  readonly rssKbPerThousand: number;
}

/** `step` is what an editor does once. */
export async function memory(text: string, steps: number, step: (session: Session, count: number) => Promise<unknown>): Promise<Memory> {
  const session = await startSession(text, { watched: true });
  const samples: Sample[] = [{ steps: 0, ...(await session.memory()) }];
  const every = Math.ceil(steps / 10);
  for (let count = 1; count <= steps; count++) {
    await step(session, count);
    if (count % every === 0) samples.push({ steps: count, ...(await session.memory()) });
  }
  await session.stop();
  const later = samples.slice(Math.floor(samples.length / 2));
  return {
    samples,
    heapKbPerThousand: slope(later.map(({ steps: at, heapMb }) => [at, heapMb])) * 1e6,
    rssKbPerThousand: slope(later.map(({ steps: at, rssMb }) => [at, rssMb])) * 1e6,
  };
}

/** Of the straight line with the least squares through these points. */
function slope(points: readonly (readonly [number, number])[]): number {
  const mean = (values: readonly number[]) => values.reduce((sum, each) => sum + each, 0) / values.length;
  const [x, y] = [mean(points.map(([at]) => at)), mean(points.map(([, value]) => value))];
  const above = points.reduce((sum, [at, value]) => sum + (at - x) * (value - y), 0);
  return above / points.reduce((sum, [at]) => sum + (at - x) ** 2, 0);
}
