/** The server on Node, with the files of this machine and those that the client reads for it. */
import path from 'node:path';
import type { Connection } from 'vscode-languageserver';
import { ClientFiles } from './clientFiles';
import { collectYoung } from './collect';
import { DiskFiles } from './files';
import { layOutOnThread } from './layoutOnThread';
import { lastCommit } from './past';
import { planOnThread } from './planOnThread';
import { serve } from './server';
import type { Printer } from './sheets';

/** Answers a client on this connection until it hangs up. */
export function startServer(connection: Connection): void {
  // Large, and loaded when somebody asks for the first.
  const load = () => import('#pdf');
  const printer: Printer = {
    sheets: async (sheets, paper) => base64(await (await load()).pdf(sheets, { paper })),
    labels: async ({ title, pages }) => base64(await (await load()).pdfOfLabels(title, pages)),
  };
  const beside = (file: string) => path.join(__dirname, file);
  serve(connection, new DiskFiles(new ClientFiles(connection)), {
    printer,
    layOut: layOutOnThread(beside('layoutThread.cjs')),
    planner: planOnThread(beside('planThread.cjs')),
    past: lastCommit,
    collect: collectYoung,
  });
}

function base64(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('base64');
}
