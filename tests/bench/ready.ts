/** How soon a server that has just been started is ready, and how long the extension takes to be loaded. */
import { spawn, spawnSync } from 'node:child_process';
import path from 'node:path';
import {
  createProtocolConnection,
  DidOpenTextDocumentNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { summed, type Times } from './times';

export interface Ready {
  /** From starting the process to its answer to the first request. */
  readonly answers: Times;
  /** From starting the process to the first diagnostics of a rig. */
  readonly diagnoses: Times;
}

export async function ready(runs: number, text: string): Promise<Ready> {
  const answers: number[] = [];
  const diagnoses: number[] = [];
  for (let run = 0; run < runs; run++) {
    const start = performance.now();
    const server = spawn(process.execPath, [path.resolve('dist/server.cjs'), '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
    const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
    const published = new Promise<void>((resolve) => connection.onNotification(PublishDiagnosticsNotification.type, () => resolve()));
    connection.listen();
    await connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: null,
      workspaceFolders: null,
      capabilities: {},
    });
    answers.push(performance.now() - start);
    await connection.sendNotification(InitializedNotification.type, {});
    const textDocument = { uri: 'untitled:bench.rig', languageId: 'rig', version: 1, text };
    await connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument });
    await published;
    diagnoses.push(performance.now() - start);
    connection.dispose();
    server.kill();
  }
  return { answers: summed(answers), diagnoses: summed(diagnoses) };
}

/**
 * Loads the extension as an editor does, in a fresh process each time, with an editor's interface that has every name and does nothing.
 * What activating does after that (it waits for nothing) is told by the editor itself: "Developer: Show Running Extensions".
 */
const LOADING = `
  const Module = require('node:module');
  const some = new Proxy(function () {}, {
    getPrototypeOf: () => some,
    get: (target, name) => (name === 'prototype' ? target.prototype : name === 'then' || typeof name === 'symbol' ? undefined : some),
    construct: () => ({}),
    apply: () => some,
  });
  const load = Module._load;
  Module._load = (name, ...rest) => (name === 'vscode' ? some : load(name, ...rest));
  const start = performance.now();
  require(process.argv[1]);
  console.log(performance.now() - start);
`;

export function extensionLoading(runs: number): Times {
  const times: number[] = [];
  for (let run = 0; run < runs; run++) {
    const { stdout, stderr } = spawnSync(process.execPath, ['-e', LOADING, path.resolve('dist/extension.cjs')], { encoding: 'utf8' });
    const time = Number.parseFloat(stdout);
    if (Number.isNaN(time)) throw new Error(`The extension could not be loaded:\n${stderr}`);
    times.push(time);
  }
  return summed(times);
}
