/** A thread that makes plans, one after the other as they are asked for. */
import 'core-js/actual/object/group-by.js';
import { parentPort } from 'node:worker_threads';
import loadHighs from 'highs';
import { highsSolver } from '#plan/highs';
import { type PlanMade, type PlanWork, planHere } from './planHere';

/** What it says: how far it is, and at last what it has made. */
export type FromPlanThread =
  | { readonly kind: 'doing'; readonly done: number }
  | { readonly kind: 'made'; readonly made: PlanMade }
  | { readonly kind: 'refused'; readonly why: string };

const tell = (told: FromPlanThread) => parentPort?.postMessage(told);

let solver: Promise<ReturnType<typeof highsSolver>> | undefined;

async function answer(work: PlanWork): Promise<void> {
  try {
    // As soon as it is needed, and once: it is large.
    solver ??= loadHighs().then(highsSolver);
    tell({ kind: 'made', made: await planHere(work, await solver, async (done) => tell({ kind: 'doing', done })) });
  } catch (problem) {
    tell({ kind: 'refused', why: problem instanceof Error ? problem.message : String(problem) });
  }
}

parentPort?.on('message', (work: PlanWork) => void answer(work));
