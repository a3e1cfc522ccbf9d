/**
 * A key in a statement, seen from outside: how long until its diagnostics, and what it costs the processor, in our built server and, in
 * the same run, in a general JSON and a general YAML language server (`servers/`, exact versions, installed here only). Those two have
 * no schema: they look at syntax alone, and wait on purpose before they do, so that only the processor's time compares.
 */
import { execFileSync, spawn } from 'node:child_process';
import { cpSync, existsSync } from 'node:fs';
import path from 'node:path';
import {
  ConfigurationRequest,
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
import { TextDocument } from 'vscode-languageserver-textdocument';
import { generateRig } from '../generate';
import { summed, type Times } from './times';

const STROKES = 120;
/** A server that has only just been opened, and one that somebody has typed in for a while. */
export const WARM_UPS = { few: 20, many: 200 } as const;

/** How much is found in a rig. */
export type Richness = 'many' | 'few' | 'none';

/** Where the letters go. */
export type Where = 'in a statement' | 'at its end' | 'in a comment';

export interface Outside {
  readonly findings: number;
  readonly shown: Times;
  /** The processor's time for one key. */
  readonly processorMs: number;
}

/** A general language server, with the same content in its own language. */
export interface Other {
  readonly name: string;
  readonly languageId: string;
  readonly program: string;
  written(rig: string): string;
}

const SERVERS = 'out/bench-servers';

const fields = (line: string) => line.split(/\s{2,}|\s(?=takes|is|by|for|via|carries)/).filter((each) => each !== '');

export const OTHERS: readonly Other[] = [
  {
    name: 'JSON, no schema',
    languageId: 'json',
    program: `${SERVERS}/node_modules/vscode-json-languageserver/bin/vscode-json-languageserver`,
    written: (rig) =>
      `[\n${rig
        .trimEnd()
        .split('\n')
        .map((line) => `  ${JSON.stringify(fields(line))}`)
        .join(',\n')}\n]\n`,
  },
  {
    name: 'YAML, no schema',
    languageId: 'yaml',
    program: `${SERVERS}/node_modules/yaml-language-server/bin/yaml-language-server`,
    written: (rig) =>
      `${rig
        .trimEnd()
        .split('\n')
        .map((line) => `- ${JSON.stringify(fields(line))}`)
        .join('\n')}\n`,
  },
];

/** Puts the other servers where they can be run, once. */
export function install(): void {
  if (OTHERS.every(({ program }) => existsSync(program))) return;
  cpSync('tests/bench/servers', SERVERS, { recursive: true });
  execFileSync('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund'], { cwd: SERVERS, stdio: 'inherit' });
}

/** A rig with about so many lines, in which much is wrong, something, or nothing. */
export function rigWith(richness: Richness, lines: number, seed: number): string {
  const text = generateRig(lines, seed);
  if (richness === 'few') return text;
  if (richness === 'none') {
    // Nobody listens, and nothing goes to a house.
    const kept = text
      .replace(/^mix .*\{[^}]*\}$/gm, '')
      .split('\n')
      .filter((line) => !/^(performer|output|house|gear pack|gear tx) ?/.test(line));
    return kept.map((line) => line.replace(/ {2}(by|gain|via transformer-split\S*) ?.*$/, '')).join('\n');
  }
  return text
    .split('\n')
    .map((line) => line.replace(/ via (transformer-split\.iso|active-di|passive-di)$/, '').replace(/ gain \d+ dB/, '  gain 60 dB'))
    .join('\n');
}

const TELLS = `process.on('message', () => { const { userCPUTime, systemCPUTime } = process.resourceUsage(); process.send((userCPUTime + systemCPUTime) / 1000); }); process.channel?.unref();`;

/** A function, with the bytes that were allocated in it, and what it called. */
export interface Allocating {
  readonly callFrame: { readonly functionName: string };
  readonly selfSize: number;
  readonly children: readonly Allocating[];
}

/** In a server: what is allocated from the first message to the second, which answers with it. What has been let go since counts as well. */
const SAMPLES = `const { Session } = await import('node:inspector'); const session = new Session(); session.connect(); let begun = false;
process.on('message', () => {
  if (!begun) session.post('HeapProfiler.startSampling', { samplingInterval: 4096, includeObjectsCollectedByMajorGC: true, includeObjectsCollectedByMinorGC: true }, () => process.send(0));
  else session.post('HeapProfiler.stopSampling', (_, { profile }) => process.send(profile.head));
  begun = true;
}); process.channel?.unref();`;

/** Letters typed at one place of a text in the server of `program`, each taken away again. */
export async function outside(
  program: string,
  languageId: string,
  text: string,
  offset: number,
  warmUp: number = WARM_UPS.few,
): Promise<Outside> {
  const { findings, times, told } = await typing(program, languageId, text, offset, TELLS, STROKES, warmUp);
  const [before, after] = told as [number, number];
  return { findings, shown: summed(times), processorMs: (after - before) / STROKES };
}

/** What so many keys allocate, by who called whom. It slows the server down: no times are measured beside it. */
export async function allocating(program: string, text: string, offset: number, strokes: number): Promise<Allocating> {
  const { told } = await typing(program, 'rig', text, offset, SAMPLES, strokes, WARM_UPS.few);
  return told[1] as Allocating;
}

/** `tells` answers a message from within the server, once before what is measured and once after. */
async function typing(
  program: string,
  languageId: string,
  text: string,
  offset: number,
  tells: string,
  strokes: number,
  warmUp: number,
): Promise<{ readonly findings: number; readonly times: readonly number[]; readonly told: readonly unknown[] }> {
  const server = spawn(
    process.execPath,
    ['--import', `data:text/javascript,${encodeURIComponent(tells)}`, path.resolve(program), '--stdio'],
    {
      stdio: ['pipe', 'pipe', 'inherit', 'ipc'],
    },
  );
  if (!server.stdin || !server.stdout) throw new Error('The server has no standard input and output.');
  const connection = createProtocolConnection(new StreamMessageReader(server.stdout), new StreamMessageWriter(server.stdin));
  const tell = () =>
    new Promise<unknown>((resolve) => {
      server.once('message', resolve);
      server.send('');
    });
  const uri = `untitled:bench.${languageId}`;
  let findings = 0;
  let heard: () => void = () => undefined;
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    findings = params.diagnostics.length;
    heard();
  });
  // What a server asks the editor for gets an empty answer.
  connection.onRequest(RegistrationRequest.type, () => undefined);
  connection.onRequest(ConfigurationRequest.type, ({ items }) => items.map(() => ({})));
  connection.listen();
  await connection.sendRequest(InitializeRequest.type, { processId: process.pid, rootUri: null, workspaceFolders: null, capabilities: {} });
  await connection.sendNotification(InitializedNotification.type, {});
  const published = () => new Promise<void>((resolve) => (heard = resolve));
  const first = published();
  await connection.sendNotification(DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId, version: 1, text } });
  await first;
  const start = TextDocument.create(uri, languageId, 1, text).positionAt(offset);
  const times: number[] = [];
  let before: unknown;
  for (let stroke = 0; stroke < strokes + warmUp; stroke++) {
    if (stroke === warmUp) before = await tell();
    const typed = stroke % 2 === 0;
    const edit = typed
      ? { range: { start, end: start }, text: 'x' }
      : { range: { start, end: { line: start.line, character: start.character + 1 } }, text: '' };
    const answer = published();
    const from = performance.now();
    void connection.sendNotification(DidChangeTextDocumentNotification.type, {
      textDocument: { uri, version: stroke + 2 },
      contentChanges: [edit],
    });
    await answer;
    if (stroke >= warmUp) times.push(performance.now() - from);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  const after = await tell();
  await connection.sendRequest(ShutdownRequest.type);
  await connection.sendNotification(ExitNotification.type);
  connection.dispose();
  return { findings, times, told: [before, after] };
}

/** Where to type in a text: the middle line that a statement of this word begins. */
export function placeIn(text: string, where: Where): number {
  const lines = [...text.matchAll(where === 'in a comment' ? /^# .+$/gm : /^input \S+ {2}takes .+$/gm)];
  const middle = lines[Math.floor(lines.length / 2)];
  if (!middle) throw new Error(`Nothing to type in: ${where}.`);
  return where === 'in a statement' ? middle.index + middle[0].indexOf('takes ') + 'takes '.length + 1 : middle.index + middle[0].length;
}
