/** What a file's name says of the format that is wanted in it. */
import path from 'node:path';
import { Unusable } from './exit';

/** Who gives a file such a name wants that, and no text. */
const NO_TEXT: readonly string[] = ['.html', '.htm', '.pdf', '.csv', '.svg', '.json', '.png', '.docx', '.xlsx'];

/**
 * Text where the name says nothing, or nothing is written to a file.
 * @param what as in "A plan"
 * @throws {Unusable} where the name is that of a format that is not among these
 */
export function formatByName<F extends string>(
  what: string,
  output: string | undefined,
  byEnding: Readonly<Record<string, F>>,
): F | 'text' {
  const ending = output === undefined ? '' : path.extname(output).toLowerCase();
  const format = byEnding[ending];
  if (format === undefined && NO_TEXT.includes(ending)) {
    const [last, ...others] = Object.keys(byEnding).reverse();
    throw new Unusable(
      `${what} cannot be written as "${ending}".`,
      `Give ${output} another ending: ${[...others.reverse().map((each) => `"${each}"`)].join(', ')} or "${last}".`,
    );
  }
  return format ?? 'text';
}
