/** Lays graphs out on a thread of their own, so that nobody who asks the server something has to wait for one. */
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { type LayOut, layOutHere, TooLarge } from '#sheets';
import type { FromLayoutThread } from './layoutThread';

type Graph = Parameters<LayOut>[0];

const MOST_MS = 30_000;

/**
 * By a thread that runs this file, a bundle of `layoutThread.ts`. It is started for the first graph and kept for the next; only
 * ending it ends a layout that is under way. It keeps no process alive. Where there can be no such thread, it is done on this one.
 */
export function layOutOnThread(file: string, mostMs = MOST_MS): LayOut {
  const thread = new LayoutThread(file, mostMs);
  let before: Promise<unknown> = Promise.resolve();
  return (graph, signal) => {
    const laid = before.then(() => thread.layOut(graph, signal));
    before = laid.catch(() => undefined);
    return laid;
  };
}

class LayoutThread {
  private worker: Worker | undefined;
  private impossible = false;

  constructor(
    private readonly file: string,
    private readonly mostMs: number,
  ) {}

  /** One at a time. */
  async layOut(graph: Graph, signal: AbortSignal): Promise<Graph> {
    signal.throwIfAborted();
    const worker = await this.started(signal);
    return worker ? this.answer(worker, graph, signal) : layOutHere(graph, signal);
  }

  private async started(signal: AbortSignal): Promise<Worker | undefined> {
    if (this.worker || this.impossible) return this.worker;
    let worker: Worker | undefined;
    try {
      // What is written on standard output is the protocol's.
      worker = new Worker(this.file, { stdout: true });
      worker.unref();
      await once(worker, 'message', { signal });
    } catch (problem) {
      void worker?.terminate();
      signal.throwIfAborted();
      this.impossible = true;
      console.warn('The signal flow is laid out between other work: no thread could be started for it.', problem);
      return undefined;
    }
    worker.on('error', () => this.drop(worker));
    this.worker = worker;
    return worker;
  }

  private async answer(worker: Worker, graph: Graph, signal: AbortSignal): Promise<Graph> {
    const end = new AbortController();
    const superseded = () => end.abort();
    signal.addEventListener('abort', superseded, { once: true });
    const timer = setTimeout(() => end.abort(), this.mostMs);
    timer.unref();
    try {
      worker.postMessage(graph);
      const [told]: FromLayoutThread[] = await once(worker, 'message', { signal: end.signal });
      if (told?.kind === 'laid') return told.graph;
      throw new Error(told?.kind === 'refused' ? told.why : 'The layout was not answered.');
    } catch (problem) {
      if (!end.signal.aborted) throw problem;
      this.drop(worker);
      signal.throwIfAborted();
      throw new TooLarge(`No layout within ${this.mostMs} ms.`);
    } finally {
      clearTimeout(timer);
      signal.removeEventListener('abort', superseded);
    }
  }

  private drop(worker: Worker): void {
    if (this.worker === worker) this.worker = undefined;
    void worker.terminate();
  }
}
