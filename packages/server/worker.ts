/** The server in a browser's worker. It has no files of its own: the client reads them for it. */
import 'core-js/actual/object/group-by.js';
import { BrowserMessageReader, BrowserMessageWriter, createConnection, ProposedFeatures } from 'vscode-languageserver/browser';
import { ClientFiles } from './clientFiles';
import { serve } from './server';

/** The worker's own end of the line to whoever has started it. */
declare const self: Worker & Pick<typeof globalThis, 'addEventListener'>;

const connection = createConnection(ProposedFeatures.all, new BrowserMessageReader(self), new BrowserMessageWriter(self));

// Whatever goes wrong in one answer is told and does not end the others.
self.addEventListener('unhandledrejection', ({ reason }: PromiseRejectionEvent) =>
  connection.console.error(reason instanceof Error ? (reason.stack ?? reason.message) : String(reason)),
);
serve(connection, new ClientFiles(connection));
