/** What the client tells of its buffers and of files on disk, turned into builds. An open buffer counts, whatever the disk says. */
import { delayNextTick, type LangiumDocument, URI, UriUtils } from 'langium';
import { DefaultDocumentUpdateHandler, type LangiumSharedServices } from 'langium/lsp';
import {
  DidChangeWatchedFilesNotification,
  type DidChangeWatchedFilesParams,
  FileChangeType,
  type FileSystemWatcher,
  type TextDocumentChangeEvent,
  WatchKind,
} from 'vscode-languageserver';
import type { TextDocument } from 'vscode-languageserver-textdocument';
import { isLibrary, isRig, isScan, type RigServices } from '#language';
import type { ServerDocumentBuilder } from './builder';

export class RigUpdateHandler extends DefaultDocumentUpdateHandler {
  private readonly shared: LangiumSharedServices;
  private canWatchFolders = false;
  private readonly watchedFolders = new Set<string>();

  constructor(
    services: LangiumSharedServices,
    private readonly builder: ServerDocumentBuilder,
    private readonly rig: () => RigServices,
  ) {
    super(services);
    this.shared = services;
    services.lsp.LanguageServer.onInitialize(({ capabilities }) => {
      const watching = capabilities.workspace?.didChangeWatchedFiles;
      this.canWatchFolders = Boolean(watching?.dynamicRegistration && watching.relativePatternSupport);
    });
  }

  override didChangeContent({ document }: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(document.uri);
    // The library never changes, whoever reads in it.
    if (isLibrary(uri)) return;
    this.builder.outdate(uri);
    this.build(() => ({ changed: [uri], deleted: [] }));
  }

  /** Without its buffer a file is what stands on disk; one that no folder holds and nothing uses any more is none of our business. */
  didCloseDocument({ document }: TextDocumentChangeEvent<TextDocument>): void {
    const uri = URI.parse(document.uri);
    if (isLibrary(uri)) return;
    this.build(() => {
      const strays = this.strays();
      return { changed: strays.some((stray) => UriUtils.equals(stray, uri)) ? [] : [uri], deleted: strays };
    });
  }

  override didChangeWatchedFiles(params: DidChangeWatchedFilesParams): void {
    const { LangiumDocuments } = this.shared.workspace;
    const { Workspace, Scans } = this.rig().rig;
    const all = params.changes.map(({ uri, type }) => ({ uri: URI.parse(uri), isDeleted: type === FileChangeType.Deleted }));
    const scans = all.filter(({ uri }) => isScan(uri)).map(({ uri }) => uri);
    // Whatever is deleted from a folder is told of, and little of it is a rig or holds one.
    const changes = all.filter(
      ({ uri, isDeleted }) => !isScan(uri) && (!isDeleted || isRig(uri) || LangiumDocuments.getDocuments(uri).length > 0),
    );
    for (const { uri } of [...changes, ...all.filter((each) => isScan(each.uri))]) {
      Workspace.forget(uri.toString());
      Scans.forget(uri.toString());
    }
    // Most tables in a folder are no scan of anybody's.
    if (changes.length === 0 && this.scanning(scans).length === 0) return;
    this.build(() => {
      const uris = (deleted: boolean) => changes.filter(({ isDeleted }) => isDeleted === deleted).map(({ uri }) => uri);
      const closed = (uri: URI) => !this.isOpen(uri);
      return {
        changed: [...uris(false).filter(closed), ...this.scanning(scans)],
        // A folder goes with all that is in it.
        deleted: uris(true)
          .flatMap((uri) => LangiumDocuments.getDocuments(uri).map((document) => document.uri))
          .filter(closed),
      };
    });
  }

  /** Folders opened and closed while the server runs. */
  didChangeFolders(opened: readonly URI[], closed: readonly URI[]): void {
    this.build(() => {
      const { LangiumDocuments } = this.shared.workspace;
      const inClosed = closed.flatMap((folder) => LangiumDocuments.getDocuments(folder).map((document) => document.uri));
      // A folder inside another one, or around it, can still be open.
      const stays = (uri: URI) => this.isOpen(uri) || this.isInFolder(uri);
      return { changed: [...opened, ...inClosed.filter(stays)], deleted: inClosed.filter((uri) => !stays(uri)) };
    });
  }

  /** Builds once what is under way has stopped. What changed is asked for only then, so that it is the state of that moment. */
  private build(what: () => { changed: URI[]; deleted: URI[] }): void {
    this.workspaceManager.ready
      .then(() =>
        this.workspaceLock.write(async (token) => {
          // A check that is done before the next message is heard cannot be broken off: what has come in at once is heard first.
          await delayNextTick();
          const { changed, deleted } = what();
          // Also where nothing has changed after all: what was under way was broken off for this, and goes on with it.
          await this.builder.update(changed, deleted, token);
          this.watchFolders();
        }),
      )
      .catch((problem) => console.error('A change could not be worked in; the next one will be.', problem));
  }

  /** Those who name one of these scans, and who uses them: a night has the scans of its band. */
  private scanning(scans: readonly URI[]): URI[] {
    if (scans.length === 0) return [];
    const { Symbols } = this.rig().rig;
    const changed = new Set(scans.map(String));
    const naming = this.shared.workspace.LangiumDocuments.all.filter((document) =>
      Symbols.of(document).scans.some((uri) => changed.has(uri.toString())),
    );
    return [...Symbols.usersOf(naming.map(({ uri }) => uri.toString()).toArray())].map((uri) => URI.parse(uri));
  }

  private isOpen(uri: URI): boolean {
    return this.shared.workspace.TextDocuments.get(uri) !== undefined;
  }

  private isInFolder(uri: URI): boolean {
    return (this.workspaceManager.workspaceFolders ?? []).some((folder) => UriUtils.contains(folder.uri, uri));
  }

  /** Documents that are neither open, nor in an open folder, nor used by one that is. */
  private strays(): URI[] {
    const { Symbols } = this.rig().rig;
    const all = this.shared.workspace.LangiumDocuments.all.toArray();
    const kept = new Set<LangiumDocument>(all.filter(({ uri }) => isLibrary(uri)));
    for (const each of Symbols.reachable(all.filter(({ uri }) => this.isOpen(uri) || this.isInFolder(uri)))) kept.add(each);
    return all.filter((document) => !kept.has(document)).map(({ uri }) => uri);
  }

  protected override getWatchers(): FileSystemWatcher[] {
    // Where a folder is deleted, clients tell of the folder only.
    return [{ globPattern: '**/*.rig' }, { globPattern: '**/*.csv' }, { globPattern: '**/*', kind: WatchKind.Delete }];
  }

  /** A client watches its open folders. Any other folder that a rig is in, or uses a file of, is asked for by itself. */
  private watchFolders(): void {
    if (!this.canWatchFolders) return;
    const { Symbols, Workspace } = this.rig().rig;
    const watchers: FileSystemWatcher[] = [];
    for (const document of this.shared.workspace.LangiumDocuments.all) {
      if (document.uri.scheme === 'untitled' || isLibrary(document.uri) || this.isInFolder(document.uri)) continue;
      const { used, scans } = Symbols.of(document);
      for (const uri of [document.uri, ...[...used, ...scans].filter((each) => Workspace.isInside(each.toString(), document.uri))]) {
        const baseUri = UriUtils.dirname(uri).toString();
        if (this.watchedFolders.has(baseUri)) continue;
        this.watchedFolders.add(baseUri);
        watchers.push({ globPattern: { baseUri, pattern: '*.{rig,csv}' } });
      }
    }
    if (watchers.length > 0) void this.shared.lsp.Connection?.client.register(DidChangeWatchedFilesNotification.type, { watchers });
  }
}
