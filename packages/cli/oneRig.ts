/** The one rig that a command makes something from, and word of the mistakes in it. */
import path from 'node:path';
import type { Checked, Finding } from '#engine';
import { type Analysis, foundBy } from '#language';
import { Unusable } from './exit';
import { tell } from './print';
import { Session } from './session';
import { shownAs, type Wanted, wantedFiles } from './wanted';

export interface OneRig {
  readonly checked: Checked;
  readonly located: Analysis['located'];
  /** What is wrong, and what may stand. */
  readonly findings: readonly Finding[];
  readonly wanted: Wanted;
  readonly analysis: Analysis;
  readonly session: Session;
}

/** Throws `Unusable`. `made` is what is made of it, as a message begins: `Sheets are`. */
export async function oneRig(word: string, made: string): Promise<OneRig> {
  const [wanted, ...more] = await wantedFiles([word]);
  if (!wanted || more.length > 0 || (wanted.file !== undefined && wanted.file !== path.resolve(word))) {
    throw new Unusable(`${shownAs(path.resolve(word))} is a folder.`, `${made} of one rig: name it.`);
  }
  const session = new Session();
  const analysis = session.analyse(await session.load(wanted));
  const { checked, located } = analysis;
  if (!checked)
    throw new Unusable(`${wanted.shown} has no rig in it: it only lends its models and gear to others.`, 'Name the rig that uses it.');
  return { checked, located, findings: foundBy(analysis), wanted, analysis, session };
}

/** Mistakes do not stop a sheet; whoever reads only what is printed should know of them. */
export function mention({ located, wanted }: OneRig): void {
  const worth = located.filter(({ finding }) => finding.severity !== 'note').length;
  if (worth === 0) return;
  const check = wanted.file === undefined ? 'earloom check -' : `earloom check ${wanted.path}`;
  tell({
    what: `${worth === 1 ? 'One thing is' : `${worth} things are`} wrong in ${wanted.shown}.`,
    cure: `"${check}" tells what and how to cure it.`,
  });
}
