/** A client that drives the built server over standard input and output, and remembers what the server says. */
import { type ChildProcess, spawn } from 'node:child_process';
import path from 'node:path';
import { inject } from 'vitest';
import {
  type ClientCapabilities,
  CodeLensRefreshRequest,
  ConfigurationRequest,
  createProtocolConnection,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidChangeWatchedFilesNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  ExitNotification,
  type FileChangeType,
  InitializedNotification,
  InitializeRequest,
  type InitializeResult,
  InlayHintRefreshRequest,
  LogMessageNotification,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type PublishDiagnosticsParams,
  type Registration,
  RegistrationRequest,
  SemanticTokensRefreshRequest,
  ShutdownRequest,
  StreamMessageReader,
  StreamMessageWriter,
  type TextDocumentContentChangeEvent,
} from 'vscode-languageserver/node';
import { SHEETS, type Sheets } from '#server/protocol';
import { root } from '../build';

/** The very start of a text. */
export const START = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

export const SERVER = path.join(root, 'dist/server.cjs');

/** What the editor we ship for can do, as far as the server asks. */
const CAPABILITIES: ClientCapabilities = {
  general: { positionEncodings: ['utf-16'] },
  workspace: {
    workspaceFolders: true,
    didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: true },
    textDocumentContent: { dynamicRegistration: true },
  },
  textDocument: { publishDiagnostics: { versionSupport: true, relatedInformation: true } },
};

export class Client {
  readonly process: ChildProcess;
  readonly connection: ProtocolConnection;
  readonly published: PublishDiagnosticsParams[] = [];
  readonly sheets: Sheets[] = [];
  readonly registrations: Registration[] = [];
  /** What the server has told us to ask for again. */
  readonly refreshed: string[] = [];
  /** What the user has set, by section. */
  configuration: Readonly<Record<string, unknown>> = {};
  readonly log: string[] = [];
  readonly exit: Promise<number | null>;
  capabilities!: InitializeResult['capabilities'];
  private readonly versions = new Map<string, number>();
  private readonly waiting = new Set<() => void>();

  private constructor(args: readonly string[], env: Readonly<Record<string, string>>) {
    const failure = inject('buildFailure');
    if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
    this.process = spawn(process.execPath, [SERVER, ...args], { stdio: ['pipe', 'pipe', 'pipe'], env: { ...process.env, ...env } });
    this.exit = new Promise((resolve) => this.process.once('exit', resolve));
    this.process.stderr?.on('data', (data) => this.log.push(String(data)));
    const { stdin, stdout } = this.process;
    if (!stdin || !stdout) throw new Error('The server has no standard input and output.');
    this.connection = createProtocolConnection(new StreamMessageReader(stdout), new StreamMessageWriter(stdin));
    this.connection.onNotification(PublishDiagnosticsNotification.type, (params) => this.heard(() => this.published.push(params)));
    this.connection.onNotification(SHEETS, (params: Sheets) => this.heard(() => this.sheets.push(params)));
    this.connection.onNotification(LogMessageNotification.type, ({ message }) => this.heard(() => this.log.push(message)));
    this.connection.onRequest(RegistrationRequest.type, ({ registrations }) => this.heard(() => this.registrations.push(...registrations)));
    this.connection.onRequest(ConfigurationRequest.type, ({ items }) =>
      items.map(({ section }) => this.configuration[section ?? ''] ?? null),
    );
    for (const { method } of [InlayHintRefreshRequest, CodeLensRefreshRequest, SemanticTokensRefreshRequest]) {
      this.connection.onRequest(method, () => this.heard(() => this.refreshed.push(method)));
    }
    this.connection.listen();
  }

  /** Started and initialised, with these folders open. `workspace` is what else the client can do. */
  static async start({
    folders = [] as string[],
    args = ['--stdio'] as string[],
    env = {} as Readonly<Record<string, string>>,
    workspace = {} as NonNullable<ClientCapabilities['workspace']>,
    configuration = {} as Client['configuration'],
    initializationOptions = undefined as unknown,
  } = {}): Promise<Client> {
    const client = new Client(args, env);
    client.configuration = configuration;
    const { capabilities } = await client.connection.sendRequest(InitializeRequest.type, {
      processId: process.pid,
      rootUri: null,
      capabilities: { ...CAPABILITIES, workspace: { ...CAPABILITIES.workspace, ...workspace } },
      initializationOptions,
      workspaceFolders: folders.length > 0 ? folders.map((uri) => ({ uri, name: path.basename(uri) })) : null,
    });
    client.capabilities = capabilities;
    await client.connection.sendNotification(InitializedNotification.type, {});
    return client;
  }

  open(uri: string, text: string): Promise<void> {
    this.versions.set(uri, 1);
    return this.connection.sendNotification(DidOpenTextDocumentNotification.type, {
      textDocument: { uri, languageId: 'rig', version: 1, text },
    });
  }

  /** The edits of one moment, each on the text that the one before it has left. Gives the new version. */
  change(uri: string, ...contentChanges: TextDocumentContentChangeEvent[]): number {
    const version = (this.versions.get(uri) ?? 0) + 1;
    this.versions.set(uri, version);
    void this.connection.sendNotification(DidChangeTextDocumentNotification.type, { textDocument: { uri, version }, contentChanges });
    return version;
  }

  close(uri: string): Promise<void> {
    this.versions.delete(uri);
    return this.connection.sendNotification(DidCloseTextDocumentNotification.type, { textDocument: { uri } });
  }

  onDisk(uri: string, type: FileChangeType): Promise<void> {
    return this.connection.sendNotification(DidChangeWatchedFilesNotification.type, { changes: [{ uri, type }] });
  }

  /** The last that was published for a file. */
  latest(uri: string): PublishDiagnosticsParams | undefined {
    return this.published.findLast((each) => each.uri === uri);
  }

  /** What is published for this version of the text. */
  async diagnostics(uri: string, version = 1): Promise<Diagnostic[]> {
    await this.until(() => (this.latest(uri)?.version ?? 0) >= version, `diagnostics of version ${version} of ${uri}`);
    return this.latest(uri)?.diagnostics ?? [];
  }

  codes(uri: string): string[] {
    return (this.latest(uri)?.diagnostics ?? []).map(({ code }) => String(code));
  }

  /** Resolves as soon as this holds; it is asked after each message of the server. */
  async until(holds: () => boolean, what: string, patienceMs = 10_000): Promise<void> {
    if (holds()) return;
    await new Promise<void>((resolve, reject) => {
      const check = () => {
        if (!holds()) return;
        clearTimeout(timer);
        this.waiting.delete(check);
        resolve();
      };
      const timer = setTimeout(() => {
        this.waiting.delete(check);
        reject(new Error(`Waited in vain for ${what}. The server's log:\n${this.log.join('\n')}`));
      }, patienceMs);
      this.waiting.add(check);
    });
  }

  /** As an editor ends a server. Gives the exit code. */
  async stop(): Promise<number | null> {
    await this.connection.sendRequest(ShutdownRequest.type);
    await this.connection.sendNotification(ExitNotification.type);
    const code = await this.exit;
    this.connection.dispose();
    return code;
  }

  private heard(note: () => void): void {
    note();
    for (const check of [...this.waiting]) check();
  }
}
