/** The language server over any connection and any file system: the language, its editor services, and what only a server needs. */
import { type FileSystemProvider, inject, URI } from 'langium';
import {
  createDefaultModule,
  createDefaultSharedModule,
  DefaultLanguageServer,
  DefaultTextDocumentContentProvider,
  type LangiumServices,
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
  type RigServices,
  rigModule,
  rigSharedModule,
  UsedFiles,
  Workspace,
} from '#language';
import { rigEditorModule } from '#language/editor';
import { version } from '../../package.json';
import { ServerDocumentBuilder } from './builder';
import { ServerWorkspaceManager } from './folders';
import { sendSheets } from './sheets';
import { RigUpdateHandler } from './updates';

/** Answers a client on this connection until it hangs up. */
export function serve(connection: Connection, files: FileSystemProvider & LoaderOptions): void {
  const workspace = new Workspace();
  let language: (LangiumServices & RigServices) | undefined;
  const rig = (): LangiumServices & RigServices => {
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
    {
      lsp: {
        LanguageServer: (services: LangiumSharedServices) => new RigLanguageServer(services),
        DocumentUpdateHandler: (services: LangiumSharedServices) => new RigUpdateHandler(services, builder(services), rig),
        TextDocumentContentProvider: (services: LangiumSharedServices) => new DefaultTextDocumentContentProvider(services, LIBRARY_SCHEME),
      },
      workspace: {
        DocumentBuilder: (services: LangiumSharedServices) => new ServerDocumentBuilder(services, () => new UsedFiles(rig(), files)),
        WorkspaceManager: (services: LangiumSharedServices) => new ServerWorkspaceManager(services, workspace),
      },
    },
  );
  language = inject(createDefaultModule({ shared }), RigGeneratedModule, rigModule(workspace), rigEditorModule);
  shared.ServiceRegistry.register(language);
  sendSheets(connection, shared, language);

  shared.lsp.LanguageServer.onInitialize(({ capabilities }) => {
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
  protected override buildInitializeResult(params: InitializeParams): InitializeResult {
    const result = super.buildInitializeResult(params);
    result.capabilities.positionEncoding = PositionEncodingKind.UTF16;
    result.capabilities.workspace = { ...result.capabilities.workspace, workspaceFolders: { supported: true, changeNotifications: true } };
    return { ...result, serverInfo: { name: 'Earloom', version } };
  }
}
