/** `earloom textconv`: a rig for programs that compare line by line, git above all: what means nothing is left out, and order makes no difference. */
import { readFile } from 'node:fs/promises';
import { EmptyFileSystem } from 'langium';
import { createRigCore, meaningOf } from '#language';
import { CLEAN, NotText } from './exit';
import { print } from './print';
import { readText, textOf, unreadable } from './read';
import { shownAs } from './wanted';

/** What cannot be read is given as it is: nothing that has changed may be hidden. The name is of no matter, for git has one of its own. */
export async function textconv(word: string): Promise<number> {
  const shown = word === '-' ? 'standard input' : shownAs(word);
  let text: string;
  try {
    text = word === '-' ? await textOf(process.stdin, shown) : await readText(word, shown);
  } catch (problem) {
    if (!(problem instanceof NotText) || word === '-') throw problem;
    const bytes = await readFile(word).catch((wrong: unknown) => {
      throw unreadable(wrong, shown);
    });
    await print(bytes.toString('latin1'));
    return CLEAN;
  }
  const { Rig } = createRigCore(EmptyFileSystem);
  await print(meaningOf(Rig, text) ?? text);
  return CLEAN;
}
