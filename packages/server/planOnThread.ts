/** Makes plans on a thread of their own, so that nobody who asks the server something has to wait for one. */
import { Worker } from 'node:worker_threads';
import type { Planner } from './planning';
import type { FromPlanThread } from './planThread';

/** A thread that knows its way about is several times as fast as a new one, and holds memory. */
const KEPT_MS = 300_000;

/**
 * By a thread that runs this file, a bundle of `planThread.ts`. It is started for the first plan and kept for the next ones, some minutes long;
 * one that is wanted while another is made has a thread of its own. Where nobody waits for a plan its thread is ended, as nothing else ends
 * what it does. It keeps no process alive.
 */
export function planOnThread(file: string, keptMs = KEPT_MS): Planner {
  let idle: Worker | undefined;
  let ending: NodeJS.Timeout | undefined;
  const drop = (worker: Worker) => {
    if (idle === worker) idle = undefined;
    void worker.terminate();
  };
  const keep = (worker: Worker) => {
    if (idle) return drop(worker);
    idle = worker;
    ending = setTimeout(() => drop(worker), keptMs);
    ending.unref();
  };
  const start = (): Worker => {
    // What is written on standard output is the protocol's.
    const worker = new Worker(file, { stdout: true });
    worker.unref();
    // Also one that has nothing to do, of which nobody is told: the next plan has a new one.
    for (const event of ['error', 'exit']) worker.on(event, () => drop(worker));
    return worker;
  };
  return (work, signal, told) =>
    new Promise((resolve, reject) => {
      if (signal.aborted) return reject(signal.reason);
      clearTimeout(ending);
      const worker = idle ?? start();
      idle = undefined;
      const end = (after: (worker: Worker) => void, settle: () => void) => {
        signal.removeEventListener('abort', stop);
        worker.off('message', heard).off('error', failed).off('exit', gone);
        after(worker);
        settle();
      };
      const stop = () => end(drop, () => reject(signal.reason));
      const failed = (problem: unknown) => end(drop, () => reject(problem));
      const gone = () => failed(new Error('The thread that made the plan has ended.'));
      const heard = (message: FromPlanThread) => {
        if (message.kind === 'doing') told(message.done);
        else if (message.kind === 'made') end(keep, () => resolve(message.made));
        else end(keep, () => reject(new Error(message.why)));
      };
      signal.addEventListener('abort', stop, { once: true });
      worker.on('message', heard).on('error', failed).on('exit', gone);
      worker.postMessage(work);
    });
}
