/** The server on Node, with the files of this machine and those that the client reads for it. */
import type { Connection } from 'vscode-languageserver';
import { ClientFiles } from './clientFiles';
import { DiskFiles } from './files';
import { serve } from './server';

/** Answers a client on this connection until it hangs up. */
export function startServer(connection: Connection): void {
  serve(connection, new DiskFiles(new ClientFiles(connection)), async (sheets, paper) => {
    // Large, and loaded when somebody asks for the first.
    const { pdf } = await import('#pdf');
    return Buffer.from(await pdf(sheets, { paper })).toString('base64');
  });
}
