/** Where every piece of a text belongs: how far its line is set in, and how much space stands before it in its line. */
import type { ParseResult } from 'langium';
import type { RigFile } from '../generated/ast';
import type { ParsedStretch } from '../syntax/parser';
import { type Cell, placesOf, type Row, usual } from './columns';
import type { Piece } from './pieces';
import { BARE_MODEL, isSend, type Lines, type Role, rolesOf, STATEMENT } from './roles';
import { widthOf } from './width';

/** Spaces for each block, and for what goes on from the line before. */
export const STEP = 2;

/** Sends are not set in columns where a line would become longer than this, in columns of a monospaced font. */
const LONGEST = 120;

/** Only whole lines of a kind that has parts to compare are set in columns. */
const NO_COLUMNS: ReadonlySet<string> = new Set(['', 'Header', 'Use', 'stage box', BARE_MODEL]);

const GOES_ON: Role = { kind: 'goes on', gap: 1 };

interface TextLine {
  /** Its first piece, by index. */
  readonly first: number;
  readonly end: number;
  readonly blankBefore: boolean;
  indent: number;
}

interface Group {
  readonly kind: string;
  readonly lines: TextLine[];
}

/** A part of a text that is to be laid out, by offsets. */
export interface Part {
  readonly from: number;
  readonly to: number;
}

/**
 * For each piece the spaces before it in its line; for the first of a line, how far the line is set in. Of a `part`, whole lines, the lines
 * of a group join those around them where these stand as a layout of the whole leaves them. Where they do not, the part's lines are set
 * by themselves: gaps that fit nothing to be seen would surprise more than a group that is not of one piece yet.
 */
export function layoutOf(
  text: string,
  pieces: readonly Piece[],
  parsed: ParseResult<RigFile>,
  stretches: readonly ParsedStretch[],
  part?: Part,
): number[] {
  const lines = linesOf(text, pieces);
  const roles = allRoles(pieces, lines, parsed, stretches);
  const roleOf = (index: number): Role => roles.get(pieces[index]?.start ?? -1) ?? GOES_ON;
  const spaces = pieces.map((_, index) => spaceInside(pieces[index - 1], pieces[index] as Piece));
  indentLines(text, lines, pieces, roles);
  const isIn = ({ first }: TextLine) => !part || inPart(pieces[first] as Piece, part);
  const stands = ({ first, end }: TextLine) => {
    for (let index = first + 1; index < end; index++) {
      const between = text.slice((pieces[index - 1] as Piece).end, (pieces[index] as Piece).start);
      if (between !== ' '.repeat(spaces[index] ?? 0)) return false;
    }
    return true;
  };
  for (const group of groupsOf(lines, pieces, roles)) {
    const own = group.lines.filter(isIn);
    if (own.length === 0) continue;
    setColumns(group, pieces, roleOf, spaces);
    if (own.length < group.lines.length && !group.lines.every((line) => isIn(line) || stands(line)))
      setColumns({ kind: group.kind, lines: own }, pieces, roleOf, spaces);
  }
  for (const { first, indent } of lines) spaces[first] = indent;
  return spaces;
}

function inPart({ start }: Piece, { from, to }: Part): boolean {
  return start >= from && start < to;
}

function linesOf(text: string, pieces: readonly Piece[]): TextLine[] {
  const lines: TextLine[] = [];
  let first = 0;
  let blankBefore = false;
  for (let index = 1; index <= pieces.length; index++) {
    const piece = pieces[index];
    const breaks = piece ? countBreaks(text, (pieces[index - 1] as Piece).end, piece.start) : 1;
    if (breaks === 0) continue;
    lines.push({ first, end: index, blankBefore, indent: 0 });
    first = index;
    blankBefore = breaks > 1;
  }
  return pieces.length === 0 ? [] : lines;
}

function countBreaks(text: string, start: number, end: number): number {
  let breaks = 0;
  for (let at = start; at < end; at++) {
    const letter = text.charCodeAt(at);
    if (letter === 10 || (letter === 13 && text.charCodeAt(at + 1) !== 10)) breaks++;
  }
  return breaks;
}

function allRoles(
  pieces: readonly Piece[],
  lines: readonly TextLine[],
  parsed: ParseResult<RigFile>,
  stretches: readonly ParsedStretch[],
): Map<number, Role> {
  const tokens = pieces.filter(({ kind }) => kind !== 'comment');
  const indexOf = new Map(tokens.map(({ start }, index) => [start, index]));
  const starts = new Set(lines.map(({ first }) => (pieces[first] as Piece).start));
  const nextOf = (offset: number) => tokens[(indexOf.get(offset) ?? tokens.length) + 1];
  const hang: Lines = {
    startsLine: (offset) => starts.has(offset),
    endsLine: (offset) => {
      const next = nextOf(offset);
      return next === undefined || starts.has(next.start);
    },
    next: (offset) => nextOf(offset)?.start,
  };
  const roles = new Map<number, Role>();
  let at = 0;
  for (const statement of parsed.value.statements) {
    const offset = statement.$cstNode?.offset ?? 0;
    while (at < stretches.length && (stretches[at] as ParsedStretch).end <= offset) at++;
    if (!stretches[at]?.sound) continue;
    for (const [place, role] of rolesOf(statement, hang)) roles.set(place, role);
  }
  return roles;
}

function indentLines(text: string, lines: readonly TextLine[], pieces: readonly Piece[], roles: ReadonlyMap<number, Role>): void {
  let depth = 0;
  let waiting: TextLine[] = [];
  let previous: TextLine | undefined;
  for (const line of lines) {
    const piece = pieces[line.first] as Piece;
    if (piece.kind === 'comment') {
      waiting.push(line);
      continue;
    }
    const role = roles.get(piece.start);
    const goesOn = role?.line === undefined && role?.kind !== '{' && piece.text !== '{';
    if (piece.kind === 'asWritten') {
      depth = 0;
      line.indent = 0;
    } else if (role?.kind === '}') line.indent = STEP * (depth - 1);
    else line.indent = STEP * (depth + (goesOn ? 1 : 0));
    indentComments(text, waiting, pieces, depth, line.indent, previous);
    waiting = [];
    for (const { kind, text: word } of pieces.slice(line.first, line.end)) {
      if (kind === 'token' && word === '{') depth++;
      else if (kind === 'token' && word === '}') depth--;
    }
    previous = line;
  }
  indentComments(text, waiting, pieces, depth, 0, previous);
}

/** A comment stands as what follows it, and inside a block as what is in there; one that ends a statement's own lines may stand as they do. */
function indentComments(
  text: string,
  comments: readonly TextLine[],
  pieces: readonly Piece[],
  depth: number,
  following: number,
  previous: TextLine | undefined,
): void {
  let above = previous?.indent ?? 0;
  for (const line of comments) {
    if (depth > 0) line.indent = Math.max(STEP * depth, following);
    else if (following > 0) line.indent = following;
    else {
      const wasIndented = /[ \t]/.test(text.charAt((pieces[line.first] as Piece).start - 1));
      above = line.blankBefore || !wasIndented ? 0 : above;
      line.indent = above;
    }
  }
}

/** Lines of one sort in one block, one after the other; what stands inside their blocks does not part them, a blank line does. */
function* groupsOf(lines: readonly TextLine[], pieces: readonly Piece[], roles: ReadonlyMap<number, Role>): Generator<Group> {
  /** For each block that is open, the group that may go on; and the lines that go on from a line of it. */
  let open: { group?: Group; more?: Group }[] = [{}];
  for (const line of lines) {
    const piece = pieces[line.first] as Piece;
    const here = open.at(-1) as (typeof open)[number];
    const role = roles.get(piece.start);
    if (line.blankBefore) yield* ended(here);
    if (piece.kind === 'asWritten') {
      for (const each of open) yield* ended(each);
      open = [{}];
      continue;
    }
    if (piece.kind === 'comment') continue;
    if (role?.line !== undefined) {
      if (here.group?.kind !== role.line || hasSecondStatement(line, pieces, roles)) yield* ended(here);
      if (here.more) yield here.more;
      here.more = undefined;
      here.group ??= { kind: hasSecondStatement(line, pieces, roles) ? '' : role.line, lines: [] };
      here.group.lines.push(line);
    } else if (role?.kind === '}') {
      yield { kind: '', lines: [line] };
    } else {
      here.more ??= { kind: '', lines: [] };
      here.more.lines.push(line);
    }
    for (const { kind, text } of pieces.slice(line.first, line.end)) {
      if (kind !== 'token') continue;
      if (text === '{') open.push({});
      else if (text === '}' && open.length > 1) yield* ended(open.pop() as (typeof open)[number]);
    }
  }
  for (const each of open) yield* ended(each);
}

function* ended(here: { group?: Group; more?: Group }): Generator<Group> {
  if (here.group) yield here.group;
  if (here.more) yield here.more;
  here.group = undefined;
  here.more = undefined;
}

function hasSecondStatement(line: TextLine, pieces: readonly Piece[], roles: ReadonlyMap<number, Role>): boolean {
  return pieces.slice(line.first + 1, line.end).some(({ start }) => roles.get(start)?.kind === STATEMENT);
}

function setColumns({ kind, lines }: Group, pieces: readonly Piece[], roleOf: (index: number) => Role, spaces: number[]): void {
  const rows = lines.map((line) => rowOf(line, pieces, roleOf, spaces));
  const places = NO_COLUMNS.has(kind) ? placesOf(rows, () => true) : inColumns(rows);
  const ends: number[] = [];
  for (const [index, { cells, starts }] of rows.entries()) {
    let end = 0;
    for (const [at, cell] of cells.entries()) {
      const place = places[index]?.[at] ?? 0;
      if (at > 0) spaces[starts[at] as number] = place - end;
      end = place + cell.width;
    }
    ends.push(end + (lines[index]?.indent ?? 0));
  }
  const commented = lines.flatMap((line, index) => {
    const last = line.end - 1;
    return pieces[last]?.kind === 'comment' ? [{ last, end: ends[index] as number }] : [];
  });
  const column = usual(commented.map(({ end }) => end)) + STEP;
  for (const { last, end } of commented) spaces[last] = Math.max(column, end + STEP) - end;
}

function inColumns(rows: readonly Row[]): number[][] {
  const places = placesOf(rows);
  const tooLong = rows.some(({ cells }, index) => {
    const last = cells.length - 1;
    return cells.some(({ role }) => isSend(role)) && (places[index]?.[last] ?? 0) + (cells[last]?.width ?? 0) > LONGEST;
  });
  return tooLong ? placesOf(rows, (role) => role.loose === true || isSend(role)) : places;
}

/** A line's parts, and the piece that each begins with. */
function rowOf(
  { first, end }: TextLine,
  pieces: readonly Piece[],
  roleOf: (index: number) => Role,
  spaces: readonly number[],
): Row & { readonly starts: readonly number[] } {
  const cells: Cell[] = [];
  const starts: number[] = [];
  for (let index = first; index < end && pieces[index]?.kind === 'token'; ) {
    const role = roleOf(index);
    const start = index;
    let content = (pieces[index] as Piece).text;
    for (index++; index < end && pieces[index]?.kind === 'token' && roleOf(index) === GOES_ON; index++) {
      content += ' '.repeat(spaces[index] ?? 0) + (pieces[index] as Piece).text;
    }
    cells.push({ role, width: widthOf(content), signed: /^[+\-\u2212\u2013]/.test(content) });
    starts.push(start);
  }
  return { cells, starts };
}

const TIGHT_BEFORE: ReadonlySet<string> = new Set([',', '.', '..', ':', '/']);
const TIGHT_AFTER: ReadonlySet<string> = new Set(['.', '..', ':', '/']);

/** Inside a clause one space, and none where words are joined. */
function spaceInside(before: Piece | undefined, piece: Piece): number {
  if (piece.kind === 'comment') return STEP;
  return TIGHT_BEFORE.has(piece.text) || TIGHT_AFTER.has(before?.text ?? '') ? 0 : 1;
}
