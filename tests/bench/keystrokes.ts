/** From a keystroke to the diagnostics it leads to, through the built server over standard input and output. */
import { spawn } from 'node:child_process';
import path from 'node:path';
import {
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  InitializedNotification,
  InitializeRequest,
  PublishDiagnosticsNotification,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { randomFrom } from '../generate';
import { summed, type Times } from './times';

/** How many are measured; each is a letter typed, or taken away again. */
const KEYSTROKES = 60;
const WARM_UP = 30;
/** A keystroke without an answer for so long means that the server has stumbled. */
const PATIENCE_MS = 30_000;

export interface Typing {
  readonly keystrokes: Times;
  /** From opening the file to its first diagnostics, in a server that has just started. */
  readonly openingMs: number;
  readonly findings: number;
}

export async function keystrokes(text: string, seed: number): Promise<Typing> {
  const server = spawn(process.execPath, [path.resolve('dist/server.cjs'), '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const uri = 'untitled:bench.rig';
  let heard: (version: number, findings: number) => void = () => undefined;
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    if (params.uri === uri) heard(params.version ?? 0, params.diagnostics.length);
  });
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: null,
    capabilities: { textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } } },
  });
  await connection.sendNotification(InitializedNotification.type, {});

  const published = (wanted: number) =>
    new Promise<number>((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`No diagnostics of version ${wanted}.`)), PATIENCE_MS);
      heard = (version, findings) => {
        if (version < wanted) return;
        clearTimeout(timer);
        resolve(findings);
      };
    });

  const opened = performance.now();
  const first = published(1);
  await connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'rig', version: 1, text } });
  const findings = await first;
  const openingMs = performance.now() - opened;

  const document = TextDocument.create(uri, 'rig', 1, text);
  const random = randomFrom(seed);
  const times: number[] = [];
  let version = 1;
  for (let stroke = 0; stroke < (KEYSTROKES + WARM_UP) / 2; stroke++) {
    const start = document.positionAt(Math.floor(random() * text.length));
    const letter = 'aeinorst012'[Math.floor(random() * 11)] as string;
    const edits = [
      { range: { start, end: start }, text: letter },
      { range: { start, end: { line: start.line, character: start.character + 1 } }, text: '' },
    ];
    for (const edit of edits) {
      version++;
      const answer = published(version);
      const typed = performance.now();
      void connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges: [edit] });
      await answer;
      times.push(performance.now() - typed);
      // Nobody types without a pause.
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
  }
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  connection.dispose();
  return { keystrokes: summed(times.slice(WARM_UP)), openingMs, findings };
}
