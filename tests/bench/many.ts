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

/** A folder opened in the server until every file in it has been checked, and then typed into one of them. */
export async function opened(
  folder: string,
  count: number,
  typeInto?: string,
  strokes = 0,
): Promise<{ opening: Used; keys?: Keys; after: Used }> {
  const server = spawn(process.execPath, [...TELLING, path.resolve('dist/server.cjs'), '--stdio'], {
    stdio: ['pipe', 'pipe', 'ignore', 'ipc'],
  });
  if (!server.stdin || !server.stdout) throw new Error('The server has no standard input and output.');
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const findings = new Map<string, number>();
  let heard: (uri: string, version: number | undefined) => void = () => undefined;
  connection.onNotification(PublishDiagnosticsNotification.type, ({ uri, version, diagnostics }) => {
    findings.set(uri, diagnostics.length);
    heard(uri, version);
  });
  connection.onRequest(RegistrationRequest.type, () => undefined);
  connection.listen();
  const used = () =>
    new Promise<Used>((resolve) => {
      server.once('message', (message) =>
        resolve({ findings: [...findings.values()].reduce((sum, each) => sum + each, 0), ...(message as Omit<Used, 'findings'>) }),
      );
      server.send('used');
    });
  const uri = pathToFileURL(folder).toString();
  await connection.sendRequest(InitializeRequest.type, {
    processId: process.pid,
    rootUri: uri,
    workspaceFolders: [{ uri, name: 'bench' }],
    capabilities: { textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } } },
  });
  const all = new Promise<void>((resolve) => {
    heard = () => {
      if (findings.size >= count) resolve();
    };
  });
  await connection.sendNotification(InitializedNotification.type, {});
  await all;
  const opening = await used();

  let keys: Keys | undefined;
  if (typeInto !== undefined) {
    const textDocument = { uri: `${uri}/${typeInto}` };
    let version = 0;
    const shown = () =>
      new Promise<number>((resolve) => {
        const from = performance.now();
        const wanted = version;
        heard = (told, which) => told === textDocument.uri && which === wanted && resolve(performance.now() - from);
      });
    /** Nothing has been said for a while: what hangs on the last key has been done. */
    const quiet = async () => {
      for (let before = -1, now = (await used()).processorMs; now - before > 20; ) {
        before = now;
        await new Promise((resolve) => setTimeout(resolve, 150));
        now = (await used()).processorMs;
      }
    };
    version++;
    const first = shown();
    const text = readFileSync(path.join(folder, typeInto), 'utf8');
    await connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { ...textDocument, languageId: 'rig', version, text },
    });
    await first;
    await quiet();
    const times: number[] = [];
    const before = await used();
    const lines = text.split('\n');
    // In the model, where those who use the file can see it.
    const at = { line: lines.length - 2, character: (lines.at(-2)?.length ?? 0) - 1 };
    for (let stroke = 0; stroke < strokes; stroke++) {
      version++;
      const answer = shown();
      const change =
        stroke % 2 === 0
          ? { range: { start: at, end: at }, text: ' ' }
          : { range: { start: at, end: { ...at, character: at.character + 1 } }, text: '' };
      await connection.sendNotification(DidChangeTextDocumentNotification.type, {
        textDocument: { ...textDocument, version },
        contentChanges: [change],
      });
      times.push(await answer);
      await quiet();
    }
    keys = { shown: summed(times), processorMs: ((await used()).processorMs - before.processorMs) / strokes };
  }
  const after = await used();
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  connection.dispose();
  return { opening, keys, after };
}
