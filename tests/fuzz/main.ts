/**
 * Spoils rigs and looks at them, for as long as it is told to.
 *
 *   npm run fuzz -- --cases 100000 --seed 1
 *   npm run fuzz -- --seed 1 --only 4711     one case again
 *
 * The cases are made and looked at in a thread of their own; this one watches that it goes on. What fails is told with its seed, its number and the
 * least text that still shows it; a fault that has been told is not told again. Ends with 1 where anything has failed.
 */
import path from 'node:path';
import { parseArgs } from 'node:util';
import { isMainThread, parentPort, Worker, workerData } from 'node:worker_threads';
import { corpus } from './corpus';
import { Looker } from './look';
import { minimal } from './minimal';
import { randomOf, spoilt } from './mutate';

/** No case takes this long, however busy the machine is. */
const MOST_MS = 30_000;
const MOST_KINDS = 20;
const ROOT = path.resolve(__dirname, '..');

interface Task {
  readonly seed: number;
  readonly from: number;
  readonly to: number;
  /** The number of the case that is looked at; the time that the slowest so far has taken in ms, and its number; one more with each look. */
  readonly progress: SharedArrayBuffer;
}

/** What is about to be looked at while the least text is looked for. */
interface Trying {
  readonly trying: string;
}

interface Failure {
  readonly index: number;
  readonly says: string;
  readonly text: string;
}

/** What the looks at a case go by; the same however the text has been made shorter. */
const lookOf = (seed: number, index: number) => randomOf(seed + 1_000_003, index);

async function work({ seed, from, to, progress }: Task): Promise<void> {
  const { texts, used } = corpus(ROOT);
  const shared = new Int32Array(progress);
  const looker = new Looker(used);
  const told = new Set<string>();
  for (let index = from; index < to; index++) {
    Atomics.store(shared, 0, index);
    Atomics.add(shared, 3, 1);
    const text = spoilt(texts, randomOf(seed, index));
    const start = performance.now();
    const says = await wrong(looker, text, lookOf(seed, index), false);
    const took = Math.round(performance.now() - start);
    if (took > Atomics.load(shared, 1)) {
      Atomics.store(shared, 1, took);
      Atomics.store(shared, 2, index);
    }
    if (says === undefined || told.has(kindOf(says))) continue;
    told.add(kindOf(says));
    const shows = async (shorter: string) => {
      Atomics.add(shared, 3, 1);
      parentPort?.postMessage({ trying: shorter } satisfies Trying);
      const as = await wrong(looker, shorter, lookOf(seed, index), false);
      if (as !== undefined && kindOf(as) === kindOf(says)) return true;
      if (shorter.length > 400) return false;
      const thoroughly = await wrong(looker, shorter, lookOf(seed, index), true);
      return thoroughly !== undefined && kindOf(thoroughly) === kindOf(says);
    };
    parentPort?.postMessage({ index, says, text: await minimal(text, shows) } satisfies Failure);
    if (told.size >= MOST_KINDS) break;
  }
  Atomics.store(shared, 0, to);
}

async function wrong(looker: Looker, text: string, random: () => number, thorough: boolean): Promise<string | undefined> {
  try {
    await looker.look(text, random, { thorough });
    return undefined;
  } catch (problem) {
    return problem instanceof Error
      ? `${problem.name}: ${problem.message}\n${(problem.stack ?? '').split('\n').slice(1, 6).join('\n')}`
      : String(problem);
  }
}

/** Two failures of one kind are most likely one fault. */
function kindOf(says: string): string {
  const [message = '', , where = ''] = says.split('\n');
  return `${message.replace(/"[^"]*"|\d+/g, '').slice(0, 60)} ${/at (\S+)/.exec(where)?.[1] ?? ''}`;
}

function watch(seed: number, cases: number, only: number | undefined): void {
  const [from, to] = only === undefined ? [0, cases] : [only, only + 1];
  const progress = new SharedArrayBuffer(16);
  const shared = new Int32Array(progress);
  const started = performance.now();
  let failed = 0;
  const worker = new Worker(__filename, { workerData: { seed, from, to, progress } satisfies Task });
  let trying: string | undefined;
  worker.on('message', (message: Failure | Trying) => {
    trying = 'trying' in message ? message.trying : undefined;
    if ('trying' in message) return;
    failed++;
    const { index, says, text } = message;
    console.log(`\nSeed ${seed}, case ${index}: ${says}\nLeast text: ${JSON.stringify(text)}\n----\n${text}\n----`);
  });
  let [last, since] = [-1, performance.now()];
  const watching = setInterval(() => {
    const looks = Atomics.load(shared, 3);
    if (looks !== last) [last, since] = [looks, performance.now()];
    if (performance.now() - since < MOST_MS) return;
    failed++;
    const now = Atomics.load(shared, 0);
    const text = trying ?? spoilt(corpus(ROOT).texts, randomOf(seed, now));
    console.log(`\nSeed ${seed}, case ${now}: no end after ${MOST_MS / 1000} s\n${JSON.stringify(text)}\n----\n${text}\n----`);
    void worker.terminate();
  }, 1_000);
  const telling = setInterval(() => console.log(`${Atomics.load(shared, 0)} cases, ${seconds(started)} s`), 60_000);
  worker.on('error', (problem) => {
    failed++;
    console.log(`\nSeed ${seed}, case ${Atomics.load(shared, 0)}: the thread has ended.`, problem);
  });
  worker.on('exit', () => {
    clearInterval(watching);
    clearInterval(telling);
    const looked = Atomics.load(shared, 0) - from;
    const slowest = `the slowest, ${Atomics.load(shared, 2)}, took ${Atomics.load(shared, 1)} ms`;
    console.log(`Seed ${seed}: ${looked} of ${to - from} cases in ${seconds(started)} s; ${slowest}; ${failed} failed.`);
    process.exitCode = failed > 0 || looked < to - from ? 1 : 0;
  });
}

const seconds = (since: number) => ((performance.now() - since) / 1000).toFixed(0);

if (isMainThread) {
  const { values } = parseArgs({
    options: { cases: { type: 'string', default: '100000' }, seed: { type: 'string', default: '1' }, only: { type: 'string' } },
  });
  watch(Number(values.seed), Number(values.cases), values.only === undefined ? undefined : Number(values.only));
} else {
  work(workerData as Task).catch((problem: unknown) => {
    throw problem;
  });
}
