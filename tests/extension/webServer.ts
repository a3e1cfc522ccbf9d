/** The built server for a browser, in a world that has what a worker has and nothing else, with a client that reads its files. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import vm from 'node:vm';

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: { readonly uri: string; readonly diagnostics: Diagnostic[] };
  readonly result?: unknown;
  readonly error?: { readonly message: string };
}

interface Diagnostic {
  readonly code: string;
  readonly message: string;
}

/** A text, or why there is none of it. */
type File = string | { readonly reason: string };

const PATIENCE_MS = 10_000;

export class WebServer {
  /** By their paths. */
  readonly files: Map<string, File>;
  /** What the server has asked of the client: method and address. */
  readonly asked: (readonly [string, string])[] = [];
  private readonly world: { onmessage?: (event: { data: unknown }) => void } = {};
  private readonly answers = new Map<number, (message: Message) => void>();
  private readonly diagnostics = new Map<string, Diagnostic[]>();
  private heard: () => void = () => undefined;
  private requests = 0;

  private constructor(root: string, files: Readonly<Record<string, File>>) {
    this.files = new Map(Object.entries(files));
    const { TextDecoder, TextEncoder, URL, setTimeout, clearTimeout, queueMicrotask, performance } = globalThis;
    const context = vm.createContext(
      Object.assign(this.world, {
        ...{ TextDecoder, TextEncoder, URL, setTimeout, clearTimeout, queueMicrotask, performance, console },
        ...{ WebAssembly, AbortController, WorkerGlobalScope: class {}, location: { href: 'https://editor.test/dist/server.web.js' } },
        // What stands beside the script, and nothing else.
        fetch: async (address: string | URL) =>
          new Response(readFileSync(path.join(root, new URL(address).pathname)), { headers: { 'content-type': 'application/wasm' } }),
        addEventListener: () => undefined,
        postMessage: (message: Message) => queueMicrotask(() => this.hear(structuredClone(message))),
      }),
    );
    vm.runInContext('var self = globalThis;', context);
    vm.runInContext(readFileSync(path.join(root, 'dist/server.web.js'), 'utf8'), context);
  }

  /** Started, with the folder `memory:/rigs` open. */
  static async start(root: string, files: Readonly<Record<string, File>>): Promise<WebServer> {
    const server = new WebServer(root, files);
    await server.request('initialize', {
      processId: null,
      rootUri: null,
      capabilities: { workspace: { workspaceFolders: true } },
      workspaceFolders: [{ uri: 'memory:/rigs', name: 'rigs' }],
    });
    server.notify('initialized', {});
    return server;
  }

  notify(method: string, params: unknown): void {
    this.send({ jsonrpc: '2.0', method, params });
  }

  async request<Result>(method: string, params?: unknown): Promise<Result> {
    const id = this.requests++;
    const answer = new Promise<Message>((resolve) => this.answers.set(id, resolve));
    this.send({ jsonrpc: '2.0', id, method, params });
    const { result, error } = await within(answer, method);
    if (error) throw new Error(error.message);
    return result as Result;
  }

  /** What is published next of this file, or has been since it was last forgotten. */
  async published(uri: string): Promise<Diagnostic[]> {
    for (;;) {
      const known = this.diagnostics.get(uri);
      if (known) return known;
      await within(new Promise<void>((resolve) => (this.heard = resolve)), `diagnostics of ${uri}`);
    }
  }

  async codes(uri: string): Promise<string[]> {
    return (await this.published(uri)).map(({ code }) => code);
  }

  forgetPublished(): void {
    this.diagnostics.clear();
  }

  private send(data: unknown): void {
    this.world.onmessage?.({ data: structuredClone(data) });
  }

  private hear(message: Message): void {
    const { id, method, params } = message;
    if (method === undefined) {
      if (id !== undefined) this.answers.get(id)?.(message);
    } else if (id !== undefined) {
      this.send({ jsonrpc: '2.0', id, ...this.answer(method, params?.uri ?? '') });
    } else if (method === 'textDocument/publishDiagnostics' && params) {
      this.diagnostics.set(params.uri, params.diagnostics);
      this.heard();
    }
  }

  private answer(method: string, uri: string): { result: unknown } | { error: { code: number; message: string } } {
    if (!method.startsWith('earloom/')) return { result: null };
    this.asked.push([method, uri]);
    const file = uri.replace(/^memory:/, '');
    const inside = [...this.files.keys()].filter((each) => each.startsWith(`${file}/`)).map((each) => each.slice(file.length + 1));
    const known = this.files.get(file);
    if (method === 'earloom/list') {
      const names = new Set(inside.map((each) => each.replace(/\/.*/, '')));
      return { result: [...names].map((name) => ({ name, kind: inside.includes(name) ? 'file' : 'folder' })) };
    }
    if (known === undefined && inside.length === 0) return { error: { code: -32000, message: `There is no ${uri}.` } };
    if (method === 'earloom/stat') return { result: known === undefined ? 'folder' : 'file' };
    return { result: typeof known === 'string' ? { text: known } : known };
  }
}

function within<T>(promise: Promise<T>, what: string): Promise<T> {
  let timer: ReturnType<typeof setTimeout>;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error(`Waited in vain for ${what}.`)), PATIENCE_MS);
  });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}
