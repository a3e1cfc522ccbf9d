/** One rig open in the built server, as an editor has it, over standard input and output. */
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
  type PublishDiagnosticsParams,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { SHEETS, type Sheets, type SheetsUpdate, WATCH, type Watched } from '#server/protocol';
import { sheetsUpdated } from '#server/sheetsUpdate';
import type { SheetId } from '#sheets';

/** An edit without an answer for so long means that the server has stumbled. */
const PATIENCE_MS = 30_000;

export interface Session {
  readonly openingMs: number;
  /** What is wrong, as it was published last. */
  readonly diagnostics: PublishDiagnosticsParams['diagnostics'];
  /** A letter typed at a random place, or the last one taken away again; until it has been checked. In ms. */
  type(random: () => number): Promise<number>;
  /** Asks for something about the whole text. */
  ask(method: string, params?: object): Promise<unknown>;
  /** A place in the text. */
  place(random: () => number): { line: number; character: number };
  readonly end: { line: number; character: number };
  /** Needs `watched`. */
  memory(): Promise<{ heapMb: number; rssMb: number }>;
  /** The sheets of the text as it is now, once they come. Needs `sheet`. */
  sheets(): Promise<Sheets>;
  stop(): Promise<void>;
}

/** Runs in the server's process where it is watched: collects what nobody needs, and says what is left. */
const WATCHING = `process.on('message', () => setTimeout(() => { for (let i = 0; i < 4; i++) gc(); const { heapUsed, rss } = process.memoryUsage(); process.send({ heapUsed, rss }); }, 50)); process.channel.unref();`;

export async function startSession(
  text: string,
  { watched = false, sheet }: { readonly watched?: boolean; readonly sheet?: SheetId } = {},
): Promise<Session> {
  const watch = watched ? ['--expose-gc', '--import', `data:text/javascript,${encodeURIComponent(WATCHING)}`] : [];
  const server = spawn(process.execPath, [...watch, path.resolve('dist/server.cjs'), '--stdio'], {
    stdio: ['pipe', 'pipe', 'inherit', ...(watched ? (['ipc'] as const) : [])],
  });
  if (!server.stdin || !server.stdout) throw new Error('The server has no standard input and output.');
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const uri = 'untitled:bench.rig';
  const textDocument = { uri };
  let diagnostics: PublishDiagnosticsParams['diagnostics'] = [];
  let heard: (version: number) => void = () => undefined;
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    if (params.uri !== uri) return;
    diagnostics = params.diagnostics;
    heard(params.version ?? 0);
  });
  connection.onRequest(RegistrationRequest.type, () => undefined);
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: null,
    workspaceFolders: null,
    capabilities: {
      textDocument: {
        publishDiagnostics: { versionSupport: true, relatedInformation: true },
        semanticTokens: { requests: { full: { delta: true } }, tokenTypes: [], tokenModifiers: [], formats: ['relative'] },
      },
    },
  });
  await connection.sendNotification(InitializedNotification.type, {});
  const published = (wanted: number) =>
    new Promise<void>((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`No diagnostics of version ${wanted}.`)), PATIENCE_MS);
      heard = (version) => {
        if (version < wanted) return;
        clearTimeout(timer);
        resolve();
      };
    });
  let drawn: (sheets: Sheets) => void = () => undefined;
  let had: Sheets | undefined;
  connection.onNotification(SHEETS, (told: Sheets | SheetsUpdate) => {
    had = 'updates' in told ? had && sheetsUpdated(had, told) : told;
    if (had) drawn(had);
  });
  if (sheet) await connection.sendNotification(WATCH, { uri, sheets: [sheet], updates: true } satisfies Watched);
  const opened = performance.now();
  const first = published(1);
  await connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'rig', version: 1, text } });
  await first;
  const openingMs = performance.now() - opened;

  const document = TextDocument.create(uri, 'rig', 1, text);
  const place = (random: () => number) => document.positionAt(Math.floor(random() * text.length));
  let version = 1;
  let typed: { line: number; character: number } | undefined;
  return {
    openingMs,
    get diagnostics() {
      return diagnostics;
    },
    place,
    end: document.positionAt(text.length),
    async type(random) {
      const start = typed ?? place(random);
      const letter = 'aeinorst012'[Math.floor(random() * 11)] as string;
      const edit = typed
        ? { range: { start, end: { line: start.line, character: start.character + 1 } }, text: '' }
        : { range: { start, end: start }, text: letter };
      typed = typed ? undefined : start;
      version++;
      const answer = published(version);
      const from = performance.now();
      void connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges: [edit] });
      await answer;
      return performance.now() - from;
    },
    ask: (method, params = {}) => connection.sendRequest(method, { textDocument, ...params }),
    memory: () =>
      new Promise((resolve) => {
        server.once('message', (message) => {
          const { heapUsed, rss } = message as { heapUsed: number; rss: number };
          resolve({ heapMb: heapUsed / 1e6, rssMb: rss / 1e6 });
        });
        server.send('memory');
      }),
    sheets: () => {
      const wanted = version;
      return new Promise((resolve) => {
        drawn = (sheets) => sheets.version === wanted && resolve(sheets);
      });
    },
    async stop() {
      await connection.sendRequest(ShutdownRequest.type);
      await connection.sendNotification(ExitNotification.type);
      connection.dispose();
    },
  };
}
