/** What "expand selection" takes in, step by step: the word, the clause, the statement, the lines like it, the file. */
import { type CompositeCstNode, type CstNode, CstUtils, isCompositeCstNode, type LangiumDocument, type LeafCstNode } from 'langium';
import type { Position, Range, SelectionRange } from 'vscode-languageserver';
import type { RigFile } from '../generated/ast';
import { lineStartAt } from './lineStart';

interface Stretch {
  readonly start: number;
  readonly end: number;
}

export class RigSelectionProvider {
  /** One chain for each position, the narrowest range first. */
  getSelectionRanges(document: LangiumDocument, { positions }: { readonly positions: readonly Position[] }): SelectionRange[] {
    return positions.map((position) => chain(document, position));
  }
}

function chain(document: LangiumDocument, position: Position): SelectionRange {
  const { textDocument } = document;
  const offset = textDocument.offsetAt(position);
  const text = textDocument.getText();
  const stretches = [
    ...comment(text, offset),
    ...around(document, offset),
    ...statements(document, offset),
    { start: 0, end: text.length },
  ];
  const rangeOf = ({ start, end }: Stretch): Range => ({ start: textDocument.positionAt(start), end: textDocument.positionAt(end) });
  // Each takes in the one before it, and more.
  const rising: Stretch[] = [{ start: offset, end: offset }];
  for (const next of stretches.sort((a, b) => a.end - a.start - (b.end - b.start))) {
    const last = rising.at(-1) as Stretch;
    if (next.start <= last.start && next.end >= last.end && next.end - next.start > last.end - last.start) rising.push(next);
  }
  const [first, ...rest] = rising.slice(rising.length > 1 ? 1 : 0).reverse();
  const whole: SelectionRange = { range: rangeOf(first as Stretch) };
  return rest.reduce((parent, each): SelectionRange => ({ range: rangeOf(each), parent }), whole);
}

/** The word of a comment, its text, the comment, and the lines of comment that it stands in. */
function comment(text: string, offset: number): Stretch[] {
  const lineStart = lineStartAt(text, offset);
  const line = lineAt(text, lineStart);
  const hash = commentStart(line);
  if (hash === undefined || offset < lineStart + hash) return [];
  const found: Stretch[] = [];
  for (const word of line.matchAll(/[^\s#]+/g)) {
    const start = lineStart + word.index;
    if (word.index >= hash && start <= offset && offset <= start + word[0].length) found.push({ start, end: start + word[0].length });
  }
  const end = lineStart + line.length;
  const said = /^#+\s*/.exec(line.slice(hash))?.[0].length ?? 0;
  if (offset >= lineStart + hash + said) found.push({ start: lineStart + hash + said, end });
  found.push({ start: lineStart + hash, end });
  if (line.slice(0, hash).trim() === '') found.push(commentBlock(text, lineStart));
  return found;
}

function commentBlock(text: string, lineStart: number): Stretch {
  const isComment = (start: number) => /^\s*#/.test(lineAt(text, start));
  let start = lineStart;
  while (start > 0) {
    const before = lineStartAt(text, start - 1);
    if (!isComment(before)) break;
    start = before;
  }
  let last = lineStart;
  for (let next = text.indexOf('\n', last) + 1; next > 0 && isComment(next); next = text.indexOf('\n', next) + 1) last = next;
  return { start: start + lineAt(text, start).search(/\S/), end: last + lineAt(text, last).length };
}

/** Without the ends of lines. */
function lineAt(text: string, start: number): string {
  const end = text.indexOf('\n', start);
  return text.slice(start, end < 0 ? undefined : end).replace(/\r$/, '');
}

/** A # inside a label is part of the label. */
function commentStart(line: string): number | undefined {
  let at = 0;
  for (const part of line.split(/("[^"]*"?|\u201C[^\u201D]*\u201D?)/)) {
    const hash = /^["\u201C]/.test(part) ? -1 : part.indexOf('#');
    if (hash >= 0) return at + hash;
    at += part.length;
  }
  return undefined;
}

/** From the word at the cursor to the statement, by the syntax tree; of a label without its quotes first. */
function around(document: LangiumDocument, offset: number): Stretch[] {
  const root = document.parseResult.value.$cstNode;
  if (!root) return [];
  const found: Stretch[] = [];
  const word = wordAt(root, offset);
  if (word && /^["\u201C]/.test(word.text) && offset > word.offset) {
    const closed = /.["\u201D]$/.test(word.text);
    found.push({ start: word.offset + 1, end: word.end - (closed ? 1 : 0) });
  }
  let node: CstNode | undefined = word ?? smallest(root, offset);
  for (; node && node !== root; node = node.container) {
    found.push({ start: node.offset, end: node.end });
    if (isCompositeCstNode(node)) found.push(...inBraces(node, offset));
  }
  return found;
}

/** The word at the cursor or the one that ends there, rather than a bracket or a dot. */
function wordAt(root: CompositeCstNode | CstNode, offset: number): LeafCstNode | undefined {
  const at = [offset, offset - 1].flatMap((each) => (each < 0 ? [] : (CstUtils.findLeafNodeAtOffset(root, each) ?? [])));
  const visible = at.filter((leaf) => !leaf.hidden);
  return visible.find((leaf) => /[^{}.,:/]/.test(leaf.text)) ?? visible[0];
}

/** Between the words of a statement: the smallest part that the gap is in. */
function smallest(root: CstNode, offset: number): CstNode | undefined {
  let node: CstNode = root;
  for (;;) {
    const inner: CstNode | undefined = isCompositeCstNode(node)
      ? node.content.find((each) => !each.hidden && each.offset <= offset && offset <= each.end)
      : undefined;
    if (!inner) return node === root ? undefined : node;
    node = inner;
  }
}

/** What stands between the braces of a model or a mix. */
function inBraces(node: CompositeCstNode, offset: number): Stretch[] {
  const open = node.content.find((each) => each.text === '{');
  const close = node.content.findLast((each) => each.text === '}');
  if (!open || !close || offset < open.end || offset > close.offset) return [];
  const inside = node.content.filter((each) => !each.hidden && each.offset >= open.end && each.end <= close.offset);
  const [first] = inside;
  const last = inside.at(-1);
  return first && last && first.offset <= offset && offset <= last.end ? [{ start: first.offset, end: last.end }] : [];
}

/** The statements of one kind, on lines one after the other, that the cursor is among. */
function statements(document: LangiumDocument, offset: number): Stretch[] {
  let group: { type: string; start: number; end: number; line: number } | undefined;
  const groups: Stretch[] = [];
  for (const { $type, $cstNode } of (document.parseResult.value as RigFile).statements ?? []) {
    if (!$cstNode) continue;
    const { range, offset: start, end } = $cstNode;
    if (group?.type === $type && range.start.line - group.line <= 1) {
      group.end = end;
      group.line = range.end.line;
      continue;
    }
    if (group) groups.push(group);
    group = { type: $type, start, end, line: range.end.line };
  }
  if (group) groups.push(group);
  return groups.filter(({ start, end }) => start <= offset && offset <= end).map(({ start, end }) => ({ start, end }));
}
