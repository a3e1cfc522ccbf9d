/** Slips of one hand in a text that is right: each kind wherever it can happen. */
import { isClause, isUnit } from '../../packages/language/syntax/meant';
import { isStatementWord, type STATEMENT_WORDS } from '../../packages/language/syntax/words';

/** A text with one slip in it, and what was done, for people to read. */
export interface Slip {
  readonly says: string;
  readonly written: string;
}

interface Token {
  readonly image: string;
  readonly at: number;
  readonly line: number;
}

/** Words and marks outside comments; a label is one token. */
function tokens(text: string): Token[] {
  const found: Token[] = [];
  let line = 1;
  for (const match of text.matchAll(/#.*|"[^"\n]*"|\n|[\p{L}_][\p{L}\p{N}_-]*|[+-]?\d+(?:\.\d+)?|\.\.|[^\s]/gu)) {
    if (match[0] === '\n') line++;
    else if (!match[0].startsWith('#')) found.push({ image: match[0], at: match.index, line });
  }
  return found;
}

const isWord = ({ image }: Token) => /^[\p{L}_]/u.test(image);

/** The two letters in its middle the wrong way round, or one of them twice where they are the same. */
export function misspelt(word: string): string {
  const middle = Math.max(0, Math.floor(word.length / 2) - 1);
  const [one = '', other = ''] = [word[middle], word[middle + 1]];
  const swapped = word.slice(0, middle) + other + one + word.slice(middle + 2);
  return swapped === word || !/^\p{L}/u.test(swapped) || word.length < 3 ? `${word}${word.at(-1)}` : swapped;
}

function rewritten(text: string, changes: readonly { readonly at: number; readonly image: string; readonly to: string }[]): string {
  return [...changes]
    .sort((a, b) => b.at - a.at)
    .reduce((all, { at, image, to }) => all.slice(0, at) + to + all.slice(at + image.length), text);
}

interface Name {
  readonly name: string;
  readonly declared: Token;
  readonly uses: readonly Token[];
}

/** What the text declares, with the places that use it. */
function names(all: readonly Token[]): Name[] {
  const declared = all.filter(
    (_, at) => at > 0 && /^(model|gear|performer|source|mix)$/.test(all[at - 1]?.image ?? '') && isFirst(all, at - 1),
  );
  const once = declared.filter(({ image }) => declared.filter((each) => each.image === image).length === 1);
  return once.map((token) => ({
    name: token.image,
    declared: token,
    uses: all.filter((each, at) => each.image === token.image && each !== token && !isFirst(all, at) && !isClauseHere(all, at)),
  }));
}

function isFirst(all: readonly Token[], at: number): boolean {
  return all[at]?.line !== all[at - 1]?.line && isStatementWord(all[at]?.image ?? '');
}

/** The statement word before a token. */
function statementAt(all: readonly Token[], at: number): (typeof STATEMENT_WORDS)[number] | undefined {
  for (let from = at; from >= 0; from--) if (isFirst(all, from)) return all[from]?.image as (typeof STATEMENT_WORDS)[number];
  return undefined;
}

function isClauseHere(all: readonly Token[], at: number): boolean {
  const statement = statementAt(all, at);
  return statement !== undefined && isClause(all[at]?.image ?? '', statement);
}

const at = (text: string, { image, at: start, line }: Token, to: string): Slip => ({
  says: `line ${line}: "${image}" written as "${to}"`,
  written: rewritten(text, [{ at: start, image, to }]),
});

type Kind = (text: string, all: readonly Token[]) => Slip[];

const mark =
  (marks: string): Kind =>
  (text, all) =>
    all.filter(({ image }) => marks.includes(image)).map((token) => at(text, token, ''));

export const SLIPS: Readonly<Record<string, Kind>> = {
  'a comma left out': mark(','),
  'a brace left out': mark('{}'),
  'a dot left out': mark('.'),
  'a quote left out': (text, all) =>
    all
      .filter(({ image }) => image.startsWith('"'))
      .flatMap((token) => [at(text, token, token.image.slice(1)), at(text, token, token.image.slice(0, -1))]),
  'a unit left out': (text, all) =>
    all
      .filter((token, index) => index > 0 && /^[+-]?\d/.test(all[index - 1]?.image ?? '') && (isUnit(token.image) || token.image === '%'))
      .map((token) => at(text, token, '')),
  'a number left out': (text, all) => all.filter(({ image }) => /^[+-]?\d/.test(image)).map((token) => at(text, token, '')),
  'a name misspelt where it is declared': (text, all) => names(all).map(({ declared }) => at(text, declared, misspelt(declared.image))),
  'a name misspelt at one use': (text, all) => names(all).flatMap(({ uses }) => uses.map((use) => at(text, use, misspelt(use.image)))),
  'a name misspelt at every use': (text, all) =>
    names(all)
      .filter(({ uses }) => uses.length > 1)
      .map(({ name, uses }) => ({
        says: `every "${name}" written as "${misspelt(name)}"`,
        written: rewritten(
          text,
          uses.map((use) => ({ ...use, to: misspelt(name) })),
        ),
      })),
  'a statement word misspelt': (text, all) =>
    all.filter((_, index) => isFirst(all, index)).map((token) => at(text, token, misspelt(token.image))),
  'a clause word misspelt': (text, all) =>
    all
      .filter((token, index) => isWord(token) && !isFirst(all, index) && isClauseHere(all, index))
      .map((token) => at(text, token, misspelt(token.image))),
  'a word left out': (text, all) => all.filter(isWord).map((token) => at(text, token, '')),
  'a statement left out': (text, all) =>
    names(all)
      .filter(({ uses, declared }) => uses.length > 0 && statementAt(all, all.indexOf(declared)) !== 'mix')
      .map(({ declared }) => {
        const line = text.slice(text.lastIndexOf('\n', declared.at) + 1, text.indexOf('\n', declared.at) + 1);
        return { says: `without: ${line.trim()}`, written: text.replace(line, '') };
      }),
  'an unknown model': (text, all) =>
    [...new Set(all.filter((_, index) => /^(is|via|ears)$/.test(all[index - 1]?.image ?? '')).map(({ image }) => image))].map((model) => ({
      says: `every "${model}" written as "wobblebox"`,
      written: rewritten(
        text,
        all.filter(({ image }) => image === model).map((use) => ({ ...use, to: 'wobblebox' })),
      ),
    })),
};

export function slipsIn(text: string, kind: string): Slip[] {
  return SLIPS[kind]?.(text, tokens(text)) ?? [];
}
