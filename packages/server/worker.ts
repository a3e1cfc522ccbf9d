/** The server in a browser's worker. It has no files of its own: the client reads them for it. */
import { BrowserMessageReader, BrowserMessageWriter, createConnection, ProposedFeatures } from 'vscode-languageserver/browser';
import { highsSolver } from '#plan/highs';
import { ClientFiles } from './clientFiles';
import { planHere } from './planHere';
import type { Planner } from './planning';
import { serve } from './server';

/** The worker's own end of the line to whoever has started it. */
declare const self: Worker &
  Pick<typeof globalThis, 'addEventListener' | 'location'> & {
    /** The address of this script, beside which lies what is read when it is first asked for: what solves, and what lays out (esbuild.mjs). */
    beside: string;
  };

// Where an editor starts its workers by a script of its own, only the client knows the address.
self.beside = self.location.href;
self.addEventListener('message', ({ data }: MessageEvent) => {
  if (data.method === 'initialize') self.beside = data.params.initializationOptions?.script ?? self.beside;
});

const connection = createConnection(ProposedFeatures.all, new BrowserMessageReader(self), new BrowserMessageWriter(self));

// Whatever goes wrong in one answer is told and does not end the others.
self.addEventListener('unhandledrejection', ({ reason }: PromiseRejectionEvent) =>
  connection.console.error(reason instanceof Error ? (reason.stack ?? reason.message) : String(reason)),
);

/** This is a worker already; between the lines it tries and the aims it seeks it hears whether anybody still waits. */
const planner: Planner = async (work, signal, told) => {
  const { default: loadHighs } = await import('highs');
  const solver = highsSolver(await loadHighs({ locateFile: (file) => new URL(file, self.beside).href }));
  return planHere(work, solver, async (done) => {
    told(done);
    await new Promise((resolve) => setTimeout(resolve));
    signal.throwIfAborted();
  });
};
serve(connection, new ClientFiles(connection), { planner });
