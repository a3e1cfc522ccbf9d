/** A thread that makes one plan and ends. */
import { parentPort, workerData } from 'node:worker_threads';
import loadHighs from 'highs';
import { highsSolver } from '#plan/highs';
import { type PlanMade, type PlanWork, planHere } from './planHere';

/** What it says: how far it is, and at last what it has made. */
export type FromPlanThread =
  | { readonly kind: 'doing'; readonly done: number }
  | { readonly kind: 'made'; readonly made: PlanMade }
  | { readonly kind: 'refused'; readonly why: string };

const tell = (told: FromPlanThread) => parentPort?.postMessage(told);

async function work(): Promise<void> {
  const solver = highsSolver(await loadHighs());
  const made = await planHere(workerData as PlanWork, solver, async (done) => tell({ kind: 'doing', done }));
  tell({ kind: 'made', made });
}

work().catch((problem: unknown) => tell({ kind: 'refused', why: problem instanceof Error ? problem.message : String(problem) }));
