/** What the tests of plans share: a rig from text with what can be had for it, and the solver. */
import { join } from 'node:path';
import loadHighs from 'highs';
import type { Checked } from '#engine';
import { offersOf } from '#language';
import type { Offer } from '#plan';
import { highsSolver } from '#plan/highs';
import { analyseText, libraryServices } from '../checks/open';

const file = (name: string) => join(import.meta.dirname, '../../node_modules/highs/build', name);

let loaded: ReturnType<typeof loadHighs> | undefined;

export async function solver() {
  loaded ??= loadHighs({ locateFile: file });
  return highsSolver(await loaded);
}

export async function open(text: string): Promise<{ checked: Checked; offers: readonly Offer[]; invented: boolean }> {
  const analysis = await analyseText(text);
  if (!analysis.checked) throw new Error('There is no rig in this text.');
  return { checked: analysis.checked, ...offersOf(libraryServices, analysis.document) };
}

export const now = () => performance.now();
