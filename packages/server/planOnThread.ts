/** Makes plans on threads of their own, so that nobody who asks the server something has to wait for one. */
import { Worker } from 'node:worker_threads';
import type { Planner } from './planning';
import type { FromPlanThread } from './planThread';

/** By threads that run this file, a bundle of `planThread.ts`: one a plan, ended where nobody waits for it. */
export function planOnThread(file: string): Planner {
  return (work, signal, told) =>
    new Promise((resolve, reject) => {
      // What is written on standard output is the protocol's.
      const worker = new Worker(file, { workerData: work, stdout: true });
      const end = (settle: () => void) => {
        signal.removeEventListener('abort', stop);
        void worker.terminate();
        settle();
      };
      const stop = () => end(() => reject(signal.reason));
      if (signal.aborted) return stop();
      signal.addEventListener('abort', stop, { once: true });
      worker.on('message', (message: FromPlanThread) => {
        if (message.kind === 'doing') told(message.done);
        else if (message.kind === 'made') end(() => resolve(message.made));
        else end(() => reject(new Error(message.why)));
      });
      worker.on('error', (problem) => end(() => reject(problem)));
    });
}
