/** What the editor starts, wherever it runs: the language client, the preview, the commands. */
import * as vscode from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import { Comparing } from './compareRigs';
import { offerToStart } from './emptyFile';
import { Explanations } from './explain';
import { exportAllSheets, exportSheet } from './export';
import { exportLabels } from './exportLabels';
import { showAround, stepOf } from './firstHour';
import { chooseFrequencies } from './frequencies';
import { openLibrary } from './library';
import { newRig } from './newRig';
import { OnePage } from './onePage';
import { Planning } from './planRig';
import { Preview } from './preview';
import { rigFromList } from './rigFromList';
import { serveFiles } from './serveFiles';
import { statusBar } from './statusBar';

/** What differs from one edition to the other. */
export interface Edition {
  /** Shows the open rig's check there; says whether it could. */
  readonly commandLine: () => boolean | Promise<boolean>;
  /** Whether the server makes PDF. */
  readonly pdf: boolean;
}

/** Gives what ends it all. */
export function start(context: vscode.ExtensionContext, client: BaseLanguageClient, { commandLine, pdf }: Edition): () => Promise<void> {
  const preview = new Preview(context.extensionUri, client, context.workspaceState);
  const explanations = new Explanations(context.extensionUri);
  const page = new OnePage(client);
  const planning = new Planning(client);
  const comparing = new Comparing(context.extensionUri, client, preview);
  const command = (name: string, run: Parameters<typeof vscode.commands.registerCommand>[1]) =>
    vscode.commands.registerCommand(`earloom.${name}`, run);
  context.subscriptions.push(
    preview,
    explanations,
    page,
    planning,
    comparing,
    serveFiles(client),
    offerToStart(),
    statusBar(client),
    client.onDidChangeState(({ newState }) => {
      if (newState === State.Running) preview.watchAgain();
    }),
    vscode.window.registerWebviewPanelSerializer(Preview.viewType, preview),
    // A line above the text sends the address as text.
    command(
      'openPreview',
      stepOf('patch-list', (uri?: vscode.Uri | string) => preview.open(typeof uri === 'string' ? vscode.Uri.parse(uri) : uri)),
    ),
    command('planRig', (uri?: unknown, about?: unknown) =>
      planning.open(typeof uri === 'string' ? vscode.Uri.parse(uri) : preview.rig(), typeof about === 'string' ? about : undefined),
    ),
    command('compareWithLastCommit', () => comparing.withLastCommit(preview.rig())),
    command('compareWithAnother', () => comparing.withAnother(preview.rig())),
    command('markChanges', () => comparing.markRows(preview.rig())),
    command('exportSheet', () => exportSheet({ client, rig: preview.rig(), pdf }, preview.chosen)),
    command('exportAllSheets', () => exportAllSheets({ client, rig: preview.rig(), pdf })),
    command('exportLabels', () => exportLabels({ client, rig: preview.rig(), pdf })),
    command(
      'newRig',
      stepOf('rig', () => newRig(client)),
    ),
    command('rigFromList', () => rigFromList(client)),
    command('chooseFrequencies', chooseFrequencies),
    command('explain', (code?: string) => explanations.open(code)),
    command(
      'tryMistake',
      stepOf('mistake', () => explanations.tryOut('splits/missing')),
    ),
    command(
      'openLibrary',
      stepOf('library', () => openLibrary(client)),
    ),
    command('onePage', () => page.open()),
    command('firstHour', () => showAround(context.extension.id)),
    command('commandLine', stepOf('command-line', commandLine)),
    command('restart', async () => {
      await client.stop();
      await client.start();
    }),
  );
  // Nobody has to wait for the server. A client that cannot start tells so by itself.
  client.start().catch(() => undefined);
  return () => client.dispose();
}
