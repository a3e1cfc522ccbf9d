/** What somebody who begins asks for: a first rig from a few answers, and what gear there is. */
import type { LangiumSharedServices } from 'langium/lsp';
import type { Connection } from 'vscode-languageserver';
import { type Answers, DEFAULT_ANSWERS, fileNameOf, interfacesOf, libraryFiles, newRig, type RigServices } from '#language';
import { onePage } from '#language/editor';
import { LIBRARY, NEW_RIG, NEW_RIG_CHOICES, type NewRig, type NewRigChoices, ONE_PAGE } from './protocol';

export function answerBeginners(connection: Connection, shared: LangiumSharedServices, rig: RigServices): void {
  connection.onRequest(NEW_RIG_CHOICES, async (): Promise<NewRigChoices> => {
    // The library is read by then.
    await shared.workspace.WorkspaceManager.ready;
    return { interfaces: interfacesOf(rig), defaults: DEFAULT_ANSWERS };
  });
  connection.onRequest(NEW_RIG, (answers: Answers): NewRig => ({ fileName: fileNameOf(answers.title), text: newRig(answers) }));
  connection.onRequest(ONE_PAGE, async (): Promise<string> => {
    await shared.workspace.WorkspaceManager.ready;
    return onePage(rig.Grammar, shared.workspace.LangiumDocuments);
  });
  connection.onRequest(LIBRARY, (): string[] => libraryFiles().map(({ uri }) => uri.toString()));
}
