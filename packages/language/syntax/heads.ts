/** What a text declares and uses, seen in its tokens alone: much quicker than reading it, and nothing is kept of a tree. */
import type { IToken } from 'chevrotain';
import { cut } from './chunks';
import type { RigLexer } from './lexer';
import { labelOf, nameOf } from './values';
import { isStatementWord } from './words';

/** The statement words that declare a name. */
export const DECLARING = ['model', 'gear', 'performer', 'source', 'mix'] as const;

export type DeclaringWord = (typeof DECLARING)[number];

/** A declaration by its first words, and where its name stands: lines and characters from 0. */
export interface Head {
  readonly word: DeclaringWord;
  readonly name: string;
  readonly label: string | undefined;
  readonly line: number;
  readonly character: number;
  readonly length: number;
}

export interface Heads {
  /** In the order of the text, twins included. */
  readonly declared: readonly Head[];
  /** The paths of `use`. */
  readonly used: readonly string[];
  /** The paths of `scan`. */
  readonly scans: readonly string[];
  /** The first `rig` statement, which need not have a label. */
  readonly title: { readonly label: string | undefined } | undefined;
}

/**
 * As they would be found in the whole tree, or undefined where only the parser knows: a statement is cut off where it starts for sure
 * (see `chunks.ts`), so its first words can be read by themselves unless they are odd, or another statement starts on its lines.
 */
export function headsOf(text: string, lexer: RigLexer): Heads | undefined {
  const declared: Head[] = [];
  const used: string[] = [];
  const scans: string[] = [];
  let title: Heads['title'];
  for (const { tokens } of cut(lexer.tokenizeAt(text, 0, 0).tokens)) {
    for (let index = 1; index < tokens.length; index++) if (startsAnother((tokens[index] as IToken).image)) return undefined;
    const [first, second, third] = tokens;
    const word = first?.image ?? '';
    if (word === 'use') {
      if (!isString(second) || third?.image === 'whole') return undefined;
      used.push(labelOf(second.image));
    } else if (word === 'rig') {
      title ??= { label: isString(second) ? labelOf(second.image) : undefined };
      for (const [index, { image }] of tokens.entries()) {
        const path = tokens[index + 1];
        if (image === 'scan' && isString(path)) scans.push(labelOf(path.image));
      }
    } else if (isDeclaring(word)) {
      if (!isName(second)) return undefined;
      declared.push({
        word,
        name: nameOf(second.image),
        label: isString(third) ? labelOf(third.image) : undefined,
        line: (second.startLine ?? 1) - 1,
        character: (second.startColumn ?? 1) - 1,
        length: second.image.length,
      });
    }
  }
  return { declared, used, scans, title };
}

function isDeclaring(word: string): word is DeclaringWord {
  return (DECLARING as readonly string[]).includes(word);
}

/** The other statement words declare nothing, and stand inside statements as well. */
function startsAnother(word: string): boolean {
  return word === 'use' || word === 'rig' || isDeclaring(word);
}

function isString(token: IToken | undefined): token is IToken {
  return token?.tokenType.name === 'STRING';
}

/** As the grammar's `Name`: an ID, or any keyword that is a word and starts no statement. */
function isName(token: IToken | undefined): token is IToken {
  if (!token || isStatementWord(token.image)) return false;
  return token.tokenType.name === 'ID' || /^[a-z]/i.test(token.image);
}
