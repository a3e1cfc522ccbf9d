/** What the language client is told, wherever the server runs. */
import * as vscode from 'vscode';
import type { LanguageClientOptions } from 'vscode-languageclient';
import { explained } from './explain';
import { LANGUAGE } from './language';

/** What a click on a line above the text, or in a hover, can do here, by what the server calls it. */
const COMMANDS = {
  openSheets: 'earloom.openPreview',
  showProblems: 'workbench.actions.view.problems',
  openLanguage: 'earloom.onePage',
  planRig: 'earloom.planRig',
};

/** The scheme of the gear library. */
const LIBRARY = 'earloom';

/**
 * Where rigs are that somebody writes in: on disk, not saved yet, and wherever the open folders are. Not those of a version control
 * view or the like: they are no files of their own, and the server would take them for one.
 */
function schemes(): Set<string> {
  return new Set(['file', 'untitled', ...(vscode.workspace.workspaceFolders ?? []).map(({ uri }) => uri.scheme)]);
}

export function clientOptions(): LanguageClientOptions {
  return {
    documentSelector: [...schemes(), LIBRARY].map((scheme) => ({ scheme, language: LANGUAGE })),
    initializationOptions: { commands: COMMANDS },
    markdown: { isTrusted: { enabledCommands: [COMMANDS.openLanguage] } },
    middleware: {
      handleDiagnostics: (uri, diagnostics, next) => next(uri, diagnostics.map(explained)),
      provideCompletionItem: async (document, position, context, token, next) => {
        const found = await next(document, position, context, token);
        const none = !found || (Array.isArray(found) ? found : found.items).length === 0;
        if (none && context.triggerCharacter === ' ') askAgain(document, position);
        return found;
      },
    },
  };
}

/**
 * A space is asked about, and mostly answered with nothing. The editor takes that for an answer about the word, too, that was begun behind
 * it meanwhile, however it is marked: so it is asked about that anew, once it has taken the answer.
 */
function askAgain(document: vscode.TextDocument, space: vscode.Position): void {
  setTimeout(() => {
    const editor = vscode.window.activeTextEditor;
    const cursor = editor?.selection.active;
    if (editor?.document !== document || cursor?.line !== space.line || cursor.character <= space.character) return;
    if (/^\p{L}+$/u.test(document.getText(new vscode.Range(space, cursor))))
      void vscode.commands.executeCommand('editor.action.triggerSuggest', { auto: true });
  });
}

/** A rig or a file of gear that somebody writes in; not a file of the library. */
export function isRig(document: vscode.TextDocument): boolean {
  return document.languageId === LANGUAGE && schemes().has(document.uri.scheme);
}
