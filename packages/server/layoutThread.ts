/** A thread that lays graphs out, one at a time, and does nothing else. */
import { parentPort } from 'node:worker_threads';
import Elk, { type ElkNode } from 'elkjs/lib/elk.bundled.js';

/** What it says: once that it can begin, then one answer for each graph. */
export type FromLayoutThread = { readonly kind: 'ready' } | { readonly kind: 'laid'; readonly graph: ElkNode } | Refused;

interface Refused {
  readonly kind: 'refused';
  readonly why: string;
}

const engine = new Elk();
const tell = (told: FromLayoutThread) => parentPort?.postMessage(told);

parentPort?.on('message', (graph: ElkNode) => {
  engine.layout(graph).then(
    (laid) => tell({ kind: 'laid', graph: laid }),
    (problem: unknown) => tell({ kind: 'refused', why: problem instanceof Error ? problem.message : String(problem) }),
  );
});
tell({ kind: 'ready' });
