/** The language server over any connection and any file system: the language, its editor services, and what only a server needs. */
import { DocumentState, eagerLoad, type FileSystemProvider, inject, URI } from 'langium';
import {
  createDefaultModule,
  createDefaultSharedModule,
  createServerRequestHandler,
  DefaultLanguageServer,
  DefaultTextDocumentContentProvider,
  type LangiumSharedServices,
  startLanguageServer,
} from 'langium/lsp';
import { type Connection, type InitializeParams, type InitializeResult, PositionEncodingKind } from 'vscode-languageserver';
import {
  isLibrary,
  LIBRARY_SCHEME,
  type LoaderOptions,
  RigGeneratedModule,
  RigGeneratedSharedModule,
  rigModule,
  rigSharedModule,
  type Trees,
  UsedFiles,
  Workspace,
} from '#language';
import { ACTION_KINDS, type RigEditorServices, rigEditorModule, rigEditorSharedModule } from '#language/editor';
import type { LayOut } from '#sheets';
import { version } from '../../package.json';
import { readLibraryAfterwards } from './afterwards';
import { answerBeginners } from './beginners';
import { ServerDocumentBuilder } from './builder';
import { answerCompare, type Past, rigsOf } from './comparing';
import { RigConfigurationProvider } from './configuration';
import { ServerWorkspaceManager } from './folders';
import { collectWhenIdle } from './idle';
import { answerPlans, type Planner, Plans } from './planning';
import { Refresher } from './refresh';
import { type Printer, sendSheets } from './sheets';
import { answerSummaries } from './summaries';
import { RigUpdateHandler } from './updates';

/** What a server can do besides, by where it runs. */
export interface Means {
  /** Without it no PDF is made. */
  readonly printer?: Printer;
  /** Without it the server lays out by itself. */
  readonly layOut?: LayOut;
  readonly planner: Planner;
  /** Without it there are no commits to compare with. */
  readonly past?: Past;
  /** Has what was made lately and nobody needs any more collected. Without it, that is done whenever the room for it is full. */
  readonly collect?: () => void;
}

/** Answers a client on this connection until it hangs up. */
export function serve(
  connection: Connection,
  files: FileSystemProvider & LoaderOptions,
  { printer, layOut, planner, past, collect }: Means,
): void {
  const workspace = new Workspace();
  let language: RigEditorServices | undefined;
  const rig = (): RigEditorServices => {
    if (!language) throw new Error('The language was asked for before it was there.');
    return language;
  };
  const builder = (services: LangiumSharedServices) => services.workspace.DocumentBuilder as ServerDocumentBuilder;
  const folders = (services: LangiumSharedServices) => services.workspace.WorkspaceManager as ServerWorkspaceManager;
  const updates = (services: LangiumSharedServices) => services.lsp.DocumentUpdateHandler as RigUpdateHandler;
  const shared: LangiumSharedServices = inject(
    createDefaultSharedModule({ connection: tellingVersions(connection, () => shared), fileSystemProvider: () => files }),
    RigGeneratedSharedModule,
    rigSharedModule(workspace, rig),
    rigEditorSharedModule(rig),
    {
      lsp: {
        LanguageServer: (services: LangiumSharedServices) => new RigLanguageServer(services),
        DocumentUpdateHandler: (services: LangiumSharedServices) => new RigUpdateHandler(services, builder(services), rig),
        TextDocumentContentProvider: (services: LangiumSharedServices) => new DefaultTextDocumentContentProvider(services, LIBRARY_SCHEME),
      },
      workspace: {
        DocumentBuilder: (services: LangiumSharedServices) => new ServerDocumentBuilder(services, () => new UsedFiles(rig(), files), rig),
        WorkspaceManager: (services: LangiumSharedServices) => new ServerWorkspaceManager(services, workspace),
        ConfigurationProvider: (services: LangiumSharedServices) =>
          new RigConfigurationProvider(services, (section) => {
            if (rig().editor.Settings.take(section)) refresher.shown();
          }),
      },
    },
  );
  language = inject(createDefaultModule({ shared }), RigGeneratedModule, rigModule(workspace), rigEditorModule);
  shared.ServiceRegistry.register(language);
  letGoLater(language.rig.Trees);
  readLibraryAfterwards(shared);
  if (collect) collectWhenIdle(shared, collect);
  const rigs = rigsOf(shared, language, past);
  const plans = new Plans(language, planner);
  sendSheets(connection, shared, language, rigs, plans, printer, layOut);
  answerBeginners(connection, shared, language);
  answerSummaries(connection, shared, language);
  answerPlans(connection, shared, language, plans);
  answerCompare(connection, rigs);
  const refresher = new Refresher(connection, shared);
  const { Settings, Abilities, SelectionProvider } = language.editor;
  connection.onSelectionRanges(
    createServerRequestHandler(
      (_services, document, params) => SelectionProvider.getSelectionRanges(document, params),
      shared,
      DocumentState.Parsed,
    ),
  );

  shared.lsp.LanguageServer.onInitialize(({ capabilities, initializationOptions }) => {
    Settings.takeCommands(initializationOptions);
    Abilities.take(capabilities);
    if (!capabilities.workspace?.workspaceFolders) return;
    shared.lsp.LanguageServer.onInitialized(() => {
      connection.workspace.onDidChangeWorkspaceFolders(({ added, removed }) => {
        folders(shared).changeFolders(added, removed);
        updates(shared).didChangeFolders(
          added.map(({ uri }) => URI.parse(uri)),
          removed.map(({ uri }) => URI.parse(uri)),
        );
      });
    });
  });
  startLanguageServer(shared);
}

/** What was read for an answer, such as where a name is used in all files, is needed for that answer only. */
function letGoLater(trees: Trees): void {
  let waiting = false;
  trees.onRead = () => {
    if (waiting) return;
    waiting = true;
    setTimeout(() => {
      waiting = false;
      trees.settle();
    }, AFTER_AN_ANSWER_MS);
  };
}

const AFTER_AN_ANSWER_MS = 2000;

/** Diagnostics say which version of the text they are about. There are none of the library, which nobody can change. */
function tellingVersions(connection: Connection, shared: () => LangiumSharedServices): Connection {
  return {
    ...connection,
    sendDiagnostics: async (params) => {
      const uri = URI.parse(params.uri);
      if (!isLibrary(uri)) await connection.sendDiagnostics({ ...params, version: shared().workspace.TextDocuments.get(uri)?.version });
    },
  };
}

class RigLanguageServer extends DefaultLanguageServer {
  /** Those that hear how a client introduces itself. Nobody needs the parser of Langium's own completion, and the other one has time until there is a text. */
  protected override eagerLoadServices(): void {
    const languages = this.services.ServiceRegistry.all as readonly RigEditorServices[];
    eagerLoad(this.services);
    for (const { lsp } of languages) eagerLoad(lsp);
    setTimeout(() => {
      for (const { parser } of languages) void parser.LangiumParser;
    });
  }

  protected override buildInitializeResult(params: InitializeParams): InitializeResult {
    const result = super.buildInitializeResult(params);
    result.capabilities.positionEncoding = PositionEncodingKind.UTF16;
    result.capabilities.selectionRangeProvider = true;
    result.capabilities.codeActionProvider = { codeActionKinds: [...ACTION_KINDS] };
    result.capabilities.workspace = { ...result.capabilities.workspace, workspaceFolders: { supported: true, changeNotifications: true } };
    return { ...result, serverInfo: { name: 'Earloom', version } };
  }
}
