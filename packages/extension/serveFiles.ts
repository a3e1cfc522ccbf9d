/** Reads files for a server that cannot: in a browser, and where the open folder is not on this machine. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type FileKind, LIST, type Listed, type OfDocument, READ, type Read, STAT } from '#server/protocol';
import { NotText, reasonOf, refuseTooLarge, textOf } from '#server/text';

export function serveFiles(client: BaseLanguageClient): vscode.Disposable {
  const { fs } = vscode.workspace;
  return vscode.Disposable.from(
    client.onRequest<Read, void>(READ, async ({ uri }: OfDocument): Promise<Read> => {
      const file = vscode.Uri.parse(uri);
      try {
        const { type, size } = await fs.stat(file);
        // To read a pipe or a device may wait for ever, or never end.
        const kind = kindOf(type);
        if (kind !== 'file') throw new NotText(kind === 'folder' ? 'it is a folder' : 'it is no file but a device, a pipe or the like');
        refuseTooLarge(size);
        return { text: textOf(await fs.readFile(file)) };
      } catch (problem) {
        const reason = reasonOf(problem);
        if (reason === undefined) throw problem;
        return { reason };
      }
    }),
    client.onRequest<FileKind, void>(
      STAT,
      async ({ uri }: OfDocument): Promise<FileKind> => kindOf((await fs.stat(vscode.Uri.parse(uri))).type),
    ),
    client.onRequest(LIST, async ({ uri }: OfDocument): Promise<Listed[]> => {
      const entries = await fs.readDirectory(vscode.Uri.parse(uri));
      return entries.map(([name, type]) => ({ name, kind: kindOf(type) }));
    }),
  );
}

/** A link is what it leads to. */
function kindOf(type: vscode.FileType): FileKind {
  if (type & vscode.FileType.File) return 'file';
  return type & vscode.FileType.Directory ? 'folder' : 'other';
}
