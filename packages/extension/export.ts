/** Sheets as files: which, how written, where to. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { Paper } from '#pdf';
import { EXPORT, EXPORT_PDF, type Export, type Exported, type ExportPdf } from '#server/protocol';
import type { ExportFormat } from '#sheets';
import { SHEET_IDS, SHEET_NAMES, type SheetId } from '#sheets/sheet';
import { LANGUAGE } from './language';
import { ask, type Questions } from './questions';

interface Choice extends vscode.QuickPickItem {
  readonly format: ExportFormat | Paper;
  readonly ending: string;
  /** Several sheets come as one file. */
  readonly together: boolean;
}

const CHOICES: readonly Choice[] = [
  {
    label: 'HTML',
    detail: 'A page to print, or to send: it stands alone and loads nothing.',
    format: 'html',
    ending: 'html',
    together: true,
  },
  { label: 'Markdown', detail: 'For notes, wikis and version control.', format: 'markdown', ending: 'md', together: true },
  { label: 'CSV', detail: 'For a spreadsheet. Of several sheets, a file each.', format: 'csv', ending: 'csv', together: false },
  { label: 'SVG', detail: 'The drawings alone, a file each.', format: 'svg', ending: 'svg', together: false },
];

/** Made by the server where it has a machine of its own; in a browser, the HTML page is there to be printed. */
const PDF_CHOICES: readonly Choice[] = [
  { label: 'PDF, A4', detail: 'To print, or to send to the house.', format: 'A4', ending: 'pdf', together: true },
  { label: 'PDF, Letter', detail: 'The same on paper of 8½ by 11 inches.', format: 'Letter', ending: 'pdf', together: true },
];

interface Made {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** What sheets are made from, and whether as PDF, too. */
export interface Source {
  readonly client: BaseLanguageClient;
  readonly rig: vscode.Uri | undefined;
  readonly pdf: boolean;
}

/** Writes one sheet that is picked; `shown` is the one to offer first. */
export async function exportSheet({ client, rig, pdf }: Source, shown: SheetId): Promise<void> {
  if (!rig) return noRig();
  const ids = [shown, ...SHEET_IDS.filter((id) => id !== shown)];
  const answers = await ask(async (questions) => {
    const sheet = await questions.pick(
      ids.map((id) => ({ label: SHEET_NAMES[id], id })),
      { title: 'Export a sheet, 1 of 2', placeHolder: 'Which sheet?' },
    );
    const choice = sheet && (await asWhat(questions, 'Export a sheet, 2 of 2', pdf));
    return choice && { sheet, choice };
  });
  if (answers) await write(client, rig, [answers.sheet.id], answers.choice);
}

export async function exportAllSheets({ client, rig, pdf }: Source): Promise<void> {
  if (!rig) return noRig();
  const choice = await ask((questions) => asWhat(questions, 'Export all sheets', pdf));
  if (choice) await write(client, rig, SHEET_IDS, choice);
}

function asWhat(questions: Questions, title: string, pdf: boolean): Promise<Choice | undefined> {
  return questions.pick(pdf ? [...PDF_CHOICES, ...CHOICES] : CHOICES, { title, placeHolder: 'As what?' });
}

export function noRig(): void {
  void vscode.window.showInformationMessage('Open a .rig file first: sheets and labels are made from it.');
}

async function write(client: BaseLanguageClient, rig: vscode.Uri, sheets: readonly SheetId[], choice: Choice): Promise<void> {
  const files = await making('sheets', (token) => asked(client, rig.toString(), sheets, choice, token));
  if (!files) return;
  const [first, ...more] = files;
  if (!first) {
    void vscode.window.showInformationMessage(`There is no drawing on ${sheets.length === 1 ? 'this sheet' : 'these sheets'}.`);
    return;
  }
  const stem = stemOf(rig);
  const targets = more.length === 0 ? await oneFile(rig, `${stem}-${first.name}`, choice) : await manyFiles(rig, stem, files);
  if (targets) await writeAll(targets, files, 'sheets');
}

/** What is made sooner is not told of: a notice that comes and goes at once only startles. */
const SOON_MS = 500;

/** What the server makes may take a moment. Nothing where it could not, or somebody has thought better of it. `what` are `sheets`. */
export async function making<T>(what: string, make: (token: vscode.CancellationToken) => Promise<T>): Promise<T | undefined> {
  const end = new vscode.CancellationTokenSource();
  const made = make(end.token).catch((problem) => {
    if (!end.token.isCancellationRequested) void vscode.window.showErrorMessage(`The ${what} could not be made: ${reason(problem)}`);
    return undefined;
  });
  const soon = new Promise((resolve) => setTimeout(resolve, SOON_MS, LATER));
  if ((await Promise.race([made, soon])) !== LATER) return made;
  const progress = { location: vscode.ProgressLocation.Notification, title: `Making the ${what}`, cancellable: true };
  return vscode.window.withProgress(progress, async (_, token) => {
    token.onCancellationRequested(() => end.cancel());
    return made;
  });
}

const LATER = Symbol('later');

async function asked(
  client: BaseLanguageClient,
  uri: string,
  sheets: readonly SheetId[],
  { format, together }: Choice,
  token: vscode.CancellationToken,
): Promise<Made[]> {
  if (format === 'A4' || format === 'Letter') {
    const base64 = await client.sendRequest<string>(EXPORT_PDF, { uri, sheets, paper: format } satisfies ExportPdf, token);
    return [{ name: `${sheets.length === 1 ? sheets[0] : 'sheets'}.pdf`, bytes: bytesOf(base64) }];
  }
  const encoder = new TextEncoder();
  const { files } = await client.sendRequest<Exported>(EXPORT, { uri, sheets, format, together } satisfies Export, token);
  return files.map(({ name, text }) => ({ name, bytes: encoder.encode(text) }));
}

export function bytesOf(base64: string): Uint8Array {
  return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
}

/** Where to write it; a rig is never written over. */
export async function oneFile(
  rig: vscode.Uri,
  name: string,
  { label, ending }: Pick<Choice, 'label' | 'ending'>,
): Promise<vscode.Uri[] | undefined> {
  const target = await vscode.window.showSaveDialog({ defaultUri: beside(rig, name), filters: { [label]: [ending] }, title: 'Export' });
  if (!target) return undefined;
  if (!target.path.toLowerCase().endsWith('.rig')) return [target];
  void vscode.window.showErrorMessage('That would overwrite a rig, or look like one. Give the file another name.');
  return undefined;
}

async function manyFiles(rig: vscode.Uri, stem: string, files: readonly Made[]): Promise<vscode.Uri[] | undefined> {
  const [folder] =
    (await vscode.window.showOpenDialog({
      defaultUri: rig.scheme === 'untitled' ? undefined : vscode.Uri.joinPath(rig, '..'),
      canSelectFiles: false,
      canSelectFolders: true,
      openLabel: 'Export Here',
      title: `Where to, ${files.length} files?`,
    })) ?? [];
  if (!folder) return undefined;
  const targets = files.map(({ name }) => vscode.Uri.joinPath(folder, `${stem}-${name}`));
  const there = (await Promise.all(targets.map(exists))).filter(Boolean).length;
  if (there === 0) return targets;
  const says = there === 1 ? 'One of these files is there already.' : `${there} of these files are there already.`;
  const answer = await vscode.window.showWarningMessage(says, { modal: true, detail: 'They are replaced.' }, 'Replace');
  return answer === 'Replace' ? targets : undefined;
}

/** `what` are `sheets`; `after` is said when they are written. */
export async function writeAll(targets: readonly vscode.Uri[], files: readonly Made[], what: string, after = ''): Promise<void> {
  for (const [index, target] of targets.entries()) {
    try {
      await vscode.workspace.fs.writeFile(target, files[index]?.bytes ?? new Uint8Array());
    } catch (problem) {
      void vscode.window.showErrorMessage(
        `The ${what} could not be written: ${reason(problem)} ${writtenOf(targets.map(nameOf), index)}`.trim(),
      );
      return;
    }
  }
  const [first] = targets;
  if (!first) return;
  const says = targets.length === 1 ? `${nameOf(first)} is written.` : `${targets.length} files are written.`;
  // A program of the machine's own, such as a browser to print from, can open what is on its disk.
  const canOpen = targets.length === 1 && first.scheme === 'file' && vscode.env.uiKind === vscode.UIKind.Desktop;
  const answer = await vscode.window.showInformationMessage(`${says}${after}`, ...(canOpen ? ['Open'] : []));
  if (answer === 'Open') await vscode.env.openExternal(first);
}

/** What stands where after writing has failed at one of several. */
function writtenOf(names: readonly string[], failed: number): string {
  if (names.length === 1) return '';
  const list = (some: readonly string[]) => (some.length === 0 ? 'none' : some.join(', '));
  return `Written: ${list(names.slice(0, failed))}. Perhaps not whole: ${names[failed]}. Not written: ${list(names.slice(failed + 1))}.`;
}

function beside(rig: vscode.Uri, name: string): vscode.Uri | undefined {
  const folder = rig.scheme === 'untitled' ? vscode.workspace.workspaceFolders?.[0]?.uri : vscode.Uri.joinPath(rig, '..');
  return folder && vscode.Uri.joinPath(folder, name);
}

/** As the rig's file is called. */
export function stemOf(rig: vscode.Uri): string {
  return nameOf(rig).replace(/\.rig$/i, '') || LANGUAGE;
}

function nameOf(uri: vscode.Uri): string {
  return uri.path.slice(uri.path.lastIndexOf('/') + 1);
}

async function exists(uri: vscode.Uri): Promise<boolean> {
  return vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  );
}

function reason(problem: unknown): string {
  return problem instanceof Error ? problem.message : String(problem);
}
