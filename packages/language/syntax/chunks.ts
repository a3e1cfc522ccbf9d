/**
 * Cuts a file's tokens where a statement starts for sure, so that each stretch can be read by itself.
 *
 * A statement word at the start of a line starts a statement, unless it is one of a model's own ports inside braces. A
 * mistake can then spoil no more than its own stretch, a forgotten brace cannot swallow what follows, and after an edit
 * only the stretch that was edited has to be read again.
 */
import type { IToken } from 'chevrotain';
import type { Unclosed } from './lexer';
import { goesOn } from './meant';
import { isStatementWord } from './words';

export interface Stretch {
  readonly tokens: IToken[];
  /** Braces that are open at its end, outermost first. */
  readonly open: readonly Unclosed[];
}

export function cut(tokens: readonly IToken[]): Stretch[] {
  const stretches: Stretch[] = [];
  let current: IToken[] = [];
  let open: Unclosed[] = [];
  let statement = '';
  let previous: IToken | undefined;
  for (const [index, token] of tokens.entries()) {
    const { image } = token;
    if (isStatementWord(image)) {
      const startsLine = previous === undefined || (token.startLine ?? 0) > (previous.endLine ?? 0);
      if (startsLine && (open.length === 0 || !isPort(tokens, index, statement))) {
        if (current.length > 0) stretches.push({ tokens: current, open: unclosed(open, statement) });
        current = [];
        open = [];
      }
      // A mix can be for the house, on the same line.
      const isListener = image === 'house' && !startsLine && (previous?.image === 'for' || previous?.image === ',');
      if (open.length === 0 && !isListener) statement = `${image} ${tokens[index + 1]?.image ?? ''}`.trim();
    } else if (open.length === 0 && token.startColumn === 1 && previous?.image !== ',' && isAnother(image, statement)) statement = '';
    // What stands in braces that do not belong there is no part of anything: the first of them says so.
    const skipped = open[0] !== undefined && !takesBraces(statement);
    if (image === '{') open.push({ offset: token.startOffset, of: statement });
    else if (image === '}') open.pop();
    if (!skipped) current.push(token);
    previous = token;
  }
  if (current.length > 0) stretches.push({ tokens: current, open: unclosed(open, statement) });
  return stretches;
}

/** A word at the left edge that cannot go on with a statement was meant to start one of its own. */
function isAnother(image: string, statement: string): boolean {
  const [word = ''] = statement.split(' ', 1);
  return /^[\p{L}_]/u.test(image) && isStatementWord(word) && !goesOn(image, word);
}

/** A model goes on in braces, and a mix; the braces of what is no statement are read with it. */
export function takesBraces(statement: string): boolean {
  const [word = ''] = statement.split(' ', 1);
  return word === 'model' || word === 'mix' || !isStatementWord(word);
}

const unclosed = (open: readonly Unclosed[], statement: string) => (takesBraces(statement) ? open : []);

/**
 * What cannot be read whole, cut again: a word at the left edge that cannot go on with the statement before it was meant to
 * start one of its own, by a word that is none. Of one that starts none itself, every such word does.
 */
export function cutAgain({ tokens, open }: Stretch): Stretch[] {
  const first = tokens[0]?.image ?? '';
  let statement = isStatementWord(first) ? first : undefined;
  let depth = 0;
  const pieces: IToken[][] = [[]];
  for (const [index, token] of tokens.entries()) {
    const previous = tokens[index - 1];
    const atEdge = previous !== undefined && token.startColumn === 1 && (token.startLine ?? 0) > (previous.endLine ?? 0);
    if (
      atEdge &&
      depth === 0 &&
      previous.image !== ',' &&
      /^[\p{L}_]/u.test(token.image) &&
      !(statement && goesOn(token.image, statement))
    ) {
      pieces.push([]);
      statement = undefined;
    }
    if (token.image === '{') depth++;
    else if (token.image === '}') depth = Math.max(0, depth - 1);
    pieces.at(-1)?.push(token);
  }
  if (pieces.length === 1) return [{ tokens: pieces[0] ?? [], open }];
  // Nothing is cut inside braces, so only the last can have any open; they are not of the statement that the whole began with.
  return pieces.map((piece, index) => ({
    tokens: piece,
    open: index < pieces.length - 1 ? [] : open.map((brace) => ({ ...brace, of: '' })),
  }));
}

/**
 * Inside a model `input 1` and `output 1` are its ports; `input iface.1` is the next statement. A source or gear takes no braces; where
 * somebody writes some, they are meant as those of a model.
 */
function isPort(tokens: readonly IToken[], index: number, statement: string): boolean {
  const image = tokens[index]?.image;
  return /^(model|source|gear)\b/.test(statement) && (image === 'input' || image === 'output') && tokens[index + 2]?.image !== '.';
}

/** Whether a stretch would start here whatever stands before it. */
export function startsForSure(tokens: readonly IToken[]): boolean {
  const image = tokens[0]?.image ?? '';
  return isStatementWord(image) && ((image !== 'input' && image !== 'output') || tokens[2]?.image === '.');
}
