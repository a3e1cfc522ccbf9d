/** The paths of `use` in a text that nobody has read yet: for most files that is quickly seen. */
import type { ParseResult } from 'langium';
import type { RigFile } from '../generated/ast';
import { isStatementWord } from './words';

const USE = /(?<![\p{L}\p{N}_-])use(?![\p{L}\p{N}_-])/u;
const FIRST_WORD = /^\s*([a-z]+)(?![\p{L}\p{N}_-])/u;

/**
 * As they would be found in the whole tree. A statement word at the start of a line starts a statement for sure (see `chunks.ts`), so
 * a `use` there can be read by itself; where the word stands anywhere else, but for a line of comment, the whole is read.
 */
export function pathsUsed(text: string, parse: (text: string) => ParseResult<RigFile>): (string | undefined)[] {
  if (!USE.test(text)) return [];
  const stretches: string[][] = [];
  let stretch: string[] | undefined;
  for (const line of text.split(/\r\n|[\r\n]/)) {
    const word = FIRST_WORD.exec(line)?.[1];
    if (word && isStatementWord(word)) {
      stretch = word === 'use' ? [] : undefined;
      if (stretch) stretches.push(stretch);
    }
    if (stretch) stretch.push(line);
    else if (USE.test(line) && !/^\s*#/.test(line)) return pathsIn(parse(text));
  }
  return stretches.flatMap((lines) => pathsIn(parse(lines.join('\n'))));
}

export function pathsIn({ value }: ParseResult<RigFile>): (string | undefined)[] {
  return (value.statements ?? []).flatMap((each) => (each.$type === 'Use' ? [each.path] : []));
}
