/** What the language client is told, wherever the server runs. */
import * as vscode from 'vscode';
import type { LanguageClientOptions } from 'vscode-languageclient';
import { explained } from './explain';
import { LANGUAGE } from './language';

/** What a click on a line above the text can do here, by what the server calls it. */
const COMMANDS = { openSheets: 'earloom.openPreview', showProblems: 'workbench.actions.view.problems' };

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
    middleware: { handleDiagnostics: (uri, diagnostics, next) => next(uri, diagnostics.map(explained)) },
  };
}

/** A rig or a file of gear that somebody writes in; not a file of the library. */
export function isRig(document: vscode.TextDocument): boolean {
  return document.languageId === LANGUAGE && schemes().has(document.uri.scheme);
}
