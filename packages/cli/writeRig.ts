/** A rig's text with changes in it, written to a file: set in columns where it was before. */
import path from 'node:path';
import { applied, editsOf, type Written } from '#language';
import { format as inColumns } from '#language/format';
import { Unusable } from './exit';
import type { OneRig } from './oneRig';
import { shownAs } from './wanted';
import { writeWhole } from './write';

/** `what` goes before "would have to be written". Undefined stands for a change that cannot be made. Throws `Unusable`. */
export async function writeRig(
  { analysis, session, wanted }: OneRig,
  changes: readonly (Omit<Written, 'change'> | undefined)[],
  output: string,
  what: (count: number) => string,
): Promise<void> {
  const here = analysis.document.uri.toString();
  const elsewhere = changes.filter((each) => each === undefined || each.uri !== here);
  if (elsewhere.length > 0) {
    throw new Unusable(
      `${what(elsewhere.length)} would have to be written into a file that ${wanted.shown} uses.`,
      'Look at it without "-o", and write it by hand; or bring that gear into the rig’s own file.',
    );
  }
  const document = analysis.document.textDocument;
  const text = document.getText();
  const edits = editsOf(changes.flatMap((each) => each ?? []));
  const result = applied(text, edits, (position) => document.offsetAt(position));
  const { services } = session;
  const tidy = inColumns(services, text).text === text ? inColumns(services, result).text : result;
  await writeWhole(path.resolve(output), tidy, shownAs(path.resolve(output)));
}
