/** The server on Node, with the files of this machine. */
import type { Connection } from 'vscode-languageserver';
import { DiskFiles } from './files';
import { serve } from './server';

/** Answers a client on this connection until it hangs up. */
export function startServer(connection: Connection): void {
  serve(connection, new DiskFiles());
}
