/** A rig from the channel list that somebody has: copied, or in a file. What its columns are is asked where it is not clear. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { type ListWanted, RIG_FROM_LIST, type RigFromList } from '#server/protocol';
import { untitled } from './newRig';

type List = Pick<ListWanted, 'list' | 'title'>;
type Roles = NonNullable<ListWanted['roles']>;

const TITLE = 'Rig from a list';

export async function rigFromList(client: BaseLanguageClient): Promise<void> {
  const list = await chosen();
  if (!list) return;
  try {
    let answer = await client.sendRequest<RigFromList>(RIG_FROM_LIST, list satisfies ListWanted);
    if ('unsure' in answer) {
      const roles = await asked(answer);
      if (!roles) return;
      answer = await client.sendRequest<RigFromList>(RIG_FROM_LIST, { ...list, roles } satisfies ListWanted);
    }
    if ('unsure' in answer) return;
    const { fileName, text, rows, lines, left } = answer;
    const editor = await vscode.window.showTextDocument(await untitled(fileName));
    await editor.edit((edit) => edit.replace(new vscode.Range(0, 0, editor.document.lineCount, 0), text));
    const rest = left === 0 ? '' : ` ${left === 1 ? 'One row is' : `${left} rows are`} left out: why stands at the end.`;
    void vscode.window.showInformationMessage(`${lines} of ${rows} rows are lines of the house’s now.${rest}`);
  } catch (problem) {
    void vscode.window.showErrorMessage(problem instanceof Error ? problem.message : String(problem));
  }
}

async function chosen(): Promise<List | undefined> {
  const copied = { label: '$(clippy) What is copied', detail: 'Copy the list in the program where it is: its rows and cells come along.' };
  const file = { label: '$(file) A file…', detail: 'CSV or plain text, with commas, semicolons or tabs between the cells.' };
  const picked = await vscode.window.showQuickPick([copied, file], {
    title: TITLE,
    placeHolder: 'A row for each line: number, name, microphone, stand, 48 V',
  });
  if (picked === copied) return { list: { text: await vscode.env.clipboard.readText() }, title: 'Channel list' };
  if (picked !== file) return undefined;
  const [uri] =
    (await vscode.window.showOpenDialog({ title: TITLE, openLabel: 'Make a Rig', filters: { Lists: ['csv', 'tsv', 'txt'] } })) ?? [];
  if (!uri) return undefined;
  const bytes = await vscode.workspace.fs.readFile(uri);
  let letters = '';
  for (const byte of bytes) letters += String.fromCharCode(byte);
  const name = uri.path.slice(uri.path.lastIndexOf('/') + 1).replace(/\.[^.]*$/, '');
  return { list: { base64: btoa(letters) }, title: name };
}

const KINDS = [
  { label: 'Number of the line', role: 'number' },
  { label: 'Name of what sounds', role: 'name' },
  { label: 'Microphone or DI', role: 'mic' },
  { label: 'Stand', role: 'stand' },
  { label: '48 V', role: 'phantom' },
  { label: 'Who plays it', role: 'player' },
  { label: 'Something else', role: undefined },
] as const;

/** Nothing where somebody has thought better of it. */
async function asked({ unsure, columns }: Extract<RigFromList, { unsure: string }>): Promise<Roles | undefined> {
  const roles: (Roles[number] | undefined)[] = [];
  for (const [index, { heading, samples, role }] of columns.entries()) {
    const guess = KINDS.find((kind) => kind.role === role);
    const picked = await vscode.window.showQuickPick(
      [...KINDS].sort((a, b) => Number(b === guess) - Number(a === guess)),
      {
        title: `${TITLE}: column ${index + 1} of ${columns.length}`,
        placeHolder: `${index === 0 ? `${unsure} ` : ''}What is ${heading}? ${samples.join(', ')}`,
      },
    );
    if (!picked) return undefined;
    roles.push(picked.role);
  }
  return roles;
}
