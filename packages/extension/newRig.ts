/** Four questions, each with an answer already in it, and a rig from them. */
import * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import type { Answers, Interface } from '#language';
import { linesOf, type Person, peopleIn } from '#language/people';
import { NEW_RIG, NEW_RIG_CHOICES, type NewRig, type NewRigChoices } from '#server/protocol';
import { emptyRig } from './emptyFile';
import { LANGUAGE } from './language';
import { ask, type Questions } from './questions';

const TITLE = 'New rig';

/** Says whether it is written. */
export async function newRig(client: BaseLanguageClient): Promise<boolean> {
  const choices = await client.sendRequest<NewRigChoices>(NEW_RIG_CHOICES);
  const target = emptyRig();
  const answers = await ask((questions) => answersTo(questions, choices));
  if (!answers) return false;
  const { fileName, text } = await client.sendRequest<NewRig>(NEW_RIG, answers);
  const document = target && target.getText().trim() === '' ? target : await untitled(fileName);
  const editor = await vscode.window.showTextDocument(document);
  return editor.edit((edit) => edit.replace(new vscode.Range(0, 0, document.lineCount, 0), text));
}

/** A document that is not saved yet: in the folder that is open, under the rig's name. With no folder, the editor asks when it is saved. */
export async function untitled(fileName: string): Promise<vscode.TextDocument> {
  const folder = vscode.workspace.workspaceFolders?.[0]?.uri;
  // Its address has no room for the folder's own host, where it has one.
  if (folder?.authority !== '') return vscode.workspace.openTextDocument({ language: LANGUAGE });
  for (let count = 1; ; count++) {
    const file = vscode.Uri.joinPath(folder, `${fileName}${count === 1 ? '' : `-${count}`}.rig`);
    if (!(await isTaken(file))) return vscode.workspace.openTextDocument(file.with({ scheme: 'untitled' }));
  }
}

/** On disk, or by another that is not saved yet. */
async function isTaken(file: vscode.Uri): Promise<boolean> {
  if (vscode.workspace.textDocuments.some(({ uri }) => uri.path === file.path)) return true;
  return vscode.workspace.fs.stat(file).then(
    () => true,
    () => false,
  );
}

/** Nothing where somebody has thought better of it. */
async function answersTo(questions: Questions, { interfaces, defaults }: NewRigChoices): Promise<Answers | undefined> {
  const title = await questions.text({
    title: `${TITLE}, 1 of 4`,
    prompt: 'The band and the place: it is printed above every sheet.',
    value: defaults.title,
  });
  if (title === undefined) return undefined;
  const people = await questions.text({
    title: `${TITLE}, 2 of 4`,
    prompt: 'Who plays and sings? A name, then what they play, with "and" if it is more than one; commas between people.',
    value: defaults.people,
    wrong: (written) => tooManyOrNobody(peopleIn(written), interfaces),
  });
  if (people === undefined) return undefined;
  const fitting = interfaces.filter((each) => fits(each, peopleIn(people)));
  const picked = await questions.pick(
    byDefaultFirst(fitting, defaults.interface).map(({ label, model, people: takes }) => ({
      label,
      description: model,
      detail: `A microphone input, a mix and an output each for up to ${takes} ${takes === 1 ? 'person' : 'people'}.`,
      model,
    })),
    { title: `${TITLE}, 3 of 4`, placeHolder: 'Which interface? Those that have enough for all of you.' },
  );
  if (!picked) return undefined;
  const ears = await questions.pick(
    [
      {
        label: 'By radio',
        detail: 'A transmitter for every two of you, and a pack each. Ask your radio regulator what you may use where you play.',
        ears: 'radio' as const,
      },
      { label: 'By wire', detail: 'A headphone amplifier each: no radio, no licence, and a lead to mind.', ears: 'wire' as const },
    ],
    { title: `${TITLE}, 4 of 4`, placeHolder: 'How does the mix get to your ears?' },
  );
  return ears && { title, people, interface: picked.model, ears: ears.ears };
}

function fits({ people, lines }: Interface, band: readonly Person[]): boolean {
  return band.length <= people && linesOf(band) <= lines;
}

function tooManyOrNobody(band: readonly Person[], interfaces: readonly Interface[]): string | undefined {
  if (band.length === 0) return 'At least one name, please.';
  if (interfaces.some((each) => fits(each, band))) return undefined;
  const most = (of: 'people' | 'lines') => Math.max(...interfaces.map((each) => each[of]));
  return `Up to ${most('people')} people with ${most('lines')} voices and instruments here: start with those, and add the others to the text.`;
}

function byDefaultFirst(interfaces: readonly Interface[], model: string): Interface[] {
  return [...interfaces].sort((a, b) => Number(b.model === model) - Number(a.model === model));
}
