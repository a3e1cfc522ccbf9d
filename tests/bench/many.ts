/**
 * Many files in one folder: how long the built server and the built command line take over them, and the most memory either had.
 * Processor time and memory are the process's own count, so that other work on the machine changes them little.
 */
import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import {
  createProtocolConnection,
  DidChangeTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  InitializedNotification,
  InitializeRequest,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  RegistrationRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver/node';
import { generateRig } from '../generate';
import { summed, type Times } from './times';

/** What a process has used up. */
export interface Used {
  readonly findings: number;
  readonly processorMs: number;
  /** The most memory that it ever had, all of it, in MB. */
  readonly mostMb: number;
}

export interface Keys {
  /** Until what is open has been checked. */
  readonly shown: Times;
  /** The processor's time for one key, all that hangs on it included. */
  readonly processorMs: number;
}

/** Rigs that know nothing of each other. */
export function rigs(count: number): Record<string, string> {
  return Object.fromEntries(Array.from({ length: count }, (_, index) => [`rig-${index}.rig`, generateRig(75, index + 1)]));
}

/** Each file uses the next; the last has a model that the first takes. */
export function chain(count: number): Record<string, string> {
  const last = count - 1;
  const name = (index: number) => `link-${index}.rig`;
  return Object.fromEntries(
    Array.from({ length: count }, (_, index) => {
      const own = `model mic-${index} is dynamic-mic { peak 120 dB SPL }\n`;
      return [name(index), index < last ? `use "${name(index + 1)}"\n${own}` : own];
    }),
  );
}

/** Has the process say at its end, or when asked, what it has used. */
const TELLS = `import { writeSync } from 'node:fs';
const used = () => { const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage(); return { processorMs: (userCPUTime + systemCPUTime) / 1000, mostMb: maxRSS / 1024 }; };
process.on('message', () => process.send(used())); process.channel?.unref();
process.on('exit', () => writeSync(2, 'used ' + JSON.stringify(used()) + '\\n'));`;
const TELLING = ['--import', `data:text/javascript,${encodeURIComponent(TELLS)}`];

export async function inFolder<T>(files: Readonly<Record<string, string>>, work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'earloom-bench-'));
  try {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(path.dirname(path.join(folder, name)), { recursive: true });
      writeFileSync(path.join(folder, name), text);
    }
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** `earloom check` of a folder. */
export function checked(folder: string): Used {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [...TELLING, path.resolve('dist/cli.cjs'), 'check', folder, '--format', 'json'],
    {
      encoding: 'utf8',
      maxBuffer: 2 ** 30,
    },
  );
  const used = /^used (.*)$/m.exec(stderr)?.[1];
  if (!used || status === null || status > 1) throw new Error(`The check has failed (${status}): ${stderr}`);
  return { findings: stdout.match(/"code"/g)?.length ?? 0, ...JSON.parse(used) };
}

interface Server {
  readonly connection: ProtocolConnection;
  readonly uri: string;
  /** How many findings each file has that has been checked. */
  readonly findings: ReadonlyMap<string, number>;
  /** Is told of each file that has been checked. */
  onChecked: (uri: string, version: number | undefined) => void;
  used(): Promise<Used>;
  stop(): Promise<void>;
}

/** The built server with a folder open. */
async function start(folder: string): Promise<Server> {
  const process_ = spawn(process.execPath, [...TELLING, path.resolve('dist/server.cjs'), '--stdio'], {
    stdio: ['pipe', 'pipe', 'ignore', 'ipc'],
  });
  if (!process_.stdin || !process_.stdout) throw new Error('The server has no standard input and output.');
  const connection = createProtocolConnection(new StreamMessageReader(process_.stdout), new StreamMessageWriter(process_.stdin));
  const findings = new Map<string, number>();
  const uri = pathToFileURL(folder).toString();
  const server: Server = {
    connection,
    uri,
    findings,
    onChecked: () => undefined,
    used: () =>
      new Promise((resolve) => {
        process_.once('message', (message) =>
          resolve({ findings: [...findings.values()].reduce((sum, each) => sum + each, 0), ...(message as Omit<Used, 'findings'>) }),
        );
        process_.send('used');
      }),
    async stop() {
      await connection.sendRequest(ShutdownRequest.type);
      await connection.sendNotification(ExitNotification.type);
      connection.dispose();
    },
  };
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    findings.set(params.uri, params.diagnostics.length);
    server.onChecked(params.uri, params.version);
  });
  connection.onRequest(RegistrationRequest.type, () => undefined);
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: uri,
    workspaceFolders: [{ uri, name: 'bench' }],
    capabilities: { textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } } },
  });
  return server;
}

/** Somebody types into one file of the folder: a space in its last model or line but one, and away again. */
async function typist({ connection, uri }: Server, listen: (hear: Server['onChecked']) => void, folder: string, file: string) {
  const textDocument = { uri: `${uri}/${file}` };
  const text = readFileSync(path.join(folder, file), 'utf8');
  const lines = text.split('\n');
  const at = { line: lines.length - 2, character: (lines.at(-2)?.length ?? 0) - 1 };
  let version = 1;
  const shown = () =>
    new Promise<number>((resolve) => {
      const from = performance.now();
      const wanted = version;
      listen((told, which) => told === textDocument.uri && which === wanted && resolve(performance.now() - from));
    });
  const first = shown();
  await connection.sendNotification(DidOpenTextDocumentNotification.type, {
    textDocument: { ...textDocument, languageId: 'rig', version, text },
  });
  return {
    first,
    textDocument,
    position: at,
    async type(): Promise<number> {
      version++;
      const answer = shown();
      const end = { ...at, character: at.character + 1 };
      const change = version % 2 === 0 ? { range: { start: at, end: at }, text: ' ' } : { range: { start: at, end }, text: '' };
      await connection.sendNotification(DidChangeTextDocumentNotification.type, {
        textDocument: { ...textDocument, version },
        contentChanges: [change],
      });
      return answer;
    },
  };
}

/** A folder opened in the server until every file in it has been checked, and then typed into one of them. */
export async function opened(
  folder: string,
  count: number,
  typeInto?: string,
  strokes = 0,
): Promise<{ opening: Used; keys?: Keys; after: Used }> {
  const server = await start(folder);
  const { connection, findings, used } = server;
  const all = new Promise<void>((resolve) => {
    server.onChecked = () => findings.size >= count && resolve();
  });
  await connection.sendNotification(InitializedNotification.type, {});
  await all;
  const opening = await used();

  let keys: Keys | undefined;
  if (typeInto !== undefined) {
    /** Nothing has been said for a while: what hangs on the last key has been done. */
    const quiet = async () => {
      for (let before = -1, now = (await used()).processorMs; now - before > 20; ) {
        before = now;
        await new Promise((resolve) => setTimeout(resolve, 150));
        now = (await used()).processorMs;
      }
    };
    const hand = await typist(server, (hear) => (server.onChecked = hear), folder, typeInto);
    await hand.first;
    await quiet();
    const times: number[] = [];
    const before = await used();
    for (let stroke = 0; stroke < strokes; stroke++) {
      times.push(await hand.type());
      await quiet();
    }
    keys = { shown: summed(times), processorMs: ((await used()).processorMs - before.processorMs) / strokes };
  }
  const after = await used();
  await server.stop();
  return { opening, keys, after };
}

export interface Waits {
  /** From the start until the open file has been checked, until every name of the folder is found, and until all has been checked. */
  readonly openMs: number;
  readonly namesMs: number;
  readonly allMs: number;
  /** The processor's time until every name is found, the start of the process included. */
  readonly namesProcessorMs: number;
  /** While the other files are checked. */
  readonly while: Readonly<Record<string, Times>>;
}

const MEANWHILE = ['textDocument/hover', 'textDocument/completion', 'textDocument/definition'];

/** A folder opened with one file, in which somebody types and asks from the first moment until all have been checked. */
export async function waits(folder: string, count: number, file: string): Promise<Waits> {
  const server = await start(folder);
  const { connection, findings, used } = server;
  const from = performance.now();
  const since = () => performance.now() - from;
  let hear: Server['onChecked'] = () => undefined;
  let allMs = 0;
  server.onChecked = (uri, version) => {
    if (allMs === 0 && findings.size >= count) allMs = since();
    hear(uri, version);
  };
  await connection.sendNotification(InitializedNotification.type, {});
  const hand = await typist(server, (each) => (hear = each), folder, file);
  const names = connection.sendRequest('workspace/symbol', { query: 'a' }).then(async () => {
    const namesMs = since();
    return { namesMs, namesProcessorMs: (await used()).processorMs };
  });
  const openMs = await hand.first.then(since);
  const known = await names;
  const found: Record<string, number[]> = {};
  for (let turn = 0; allMs === 0; turn++) {
    const method = turn % 2 === 0 ? 'a key, until its diagnostics' : (MEANWHILE[((turn - 1) / 2) % MEANWHILE.length] as string);
    const asked = performance.now();
    if (turn % 2 === 0) await hand.type();
    else await connection.sendRequest(method, { textDocument: hand.textDocument, position: hand.position });
    const times = found[method] ?? [];
    times.push(performance.now() - asked);
    found[method] = times;
    // As fast as anybody types.
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  await server.stop();
  return { openMs, ...known, allMs, while: Object.fromEntries(Object.entries(found).map(([method, times]) => [method, summed(times)])) };
}
