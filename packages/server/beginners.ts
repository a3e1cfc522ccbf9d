/** What somebody who begins asks for: a first rig from a few answers, and what gear there is. */
import type { LangiumSharedServices } from 'langium/lsp';
import { type Connection, ErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Answers, DEFAULT_ANSWERS, fileNameOf, interfacesOf, libraryFiles, newRig, type RigServices } from '#language';
import { onePage } from '#language/editor';
import { columnsOf, decodeList, rigOfList, tableOf, UnusableList } from '#language/list';
import {
  LIBRARY,
  type ListWanted,
  NEW_RIG,
  NEW_RIG_CHOICES,
  type NewRig,
  type NewRigChoices,
  ONE_PAGE,
  RIG_FROM_LIST,
  type RigFromList,
} from './protocol';

export function answerBeginners(connection: Connection, shared: LangiumSharedServices, rig: RigServices): void {
  connection.onRequest(NEW_RIG_CHOICES, async (): Promise<NewRigChoices> => {
    // The library is read by then.
    await shared.workspace.WorkspaceManager.ready;
    return { interfaces: interfacesOf(rig), defaults: DEFAULT_ANSWERS };
  });
  connection.onRequest(NEW_RIG, (answers: Answers): NewRig => ({ fileName: fileNameOf(answers.title), text: newRig(answers) }));
  connection.onRequest<RigFromList, unknown>(RIG_FROM_LIST, async ({ list, title, roles }: ListWanted): Promise<RigFromList> => {
    try {
      const table = tableOf('text' in list ? list.text : decodeList(Uint8Array.from(atob(list.base64), (letter) => letter.charCodeAt(0))));
      if (table.unsure !== undefined && !roles) return { unsure: table.unsure, columns: columnsOf(table) };
      // What is not said comes as null.
      const said = roles?.map((role) => role ?? undefined) ?? table.roles;
      const { text, lines, left } = rigOfList(rig, table, said, title);
      return { fileName: fileNameOf(title), text, rows: table.rows.length, lines, left };
    } catch (problem) {
      throw problem instanceof UnusableList ? new ResponseError(ErrorCodes.InvalidParams, problem.message) : problem;
    }
  });
  connection.onRequest(ONE_PAGE, async (): Promise<string> => {
    await shared.workspace.WorkspaceManager.ready;
    return onePage(rig.Grammar, shared.workspace.LangiumDocuments);
  });
  connection.onRequest(LIBRARY, (): string[] => libraryFiles().map(({ uri }) => uri.toString()));
}
