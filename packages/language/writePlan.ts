/** A plan's changes as edits of text: each can be taken or left, as long as the gear that it needs is taken. */
import type { AstNode, CstNode } from 'langium';
import { AstUtils, GrammarUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver-types';
import { type Fix, onText } from '#engine';
import type { Change } from '#plan';
import type { Holding, Place } from '#rig';
import type { Analysis } from './analysis';
import type * as ast from './generated/ast';
import { LABEL, Layout, type StatementType } from './layout';
import { isLibrary } from './library';
import type { Writable } from './taken';
import { frequencyEdit } from './writeFrequencies';

export interface Written extends Writable {
  readonly change: Change;
  readonly uri: string;
}

type Part = readonly [word: string, text: string];

/** Undefined in place of what cannot be written: gear of the library, a text that is too broken. */
export function writePlan(analysis: Analysis, changes: readonly Change[]): (Written | undefined)[] {
  const widths = new Map<StatementType, number[]>();
  const news = changes.map(({ fix }) => statementOf(fix));
  for (const statement of news) {
    if (!statement) continue;
    const known = widths.get(statement.type) ?? [];
    widths.set(
      statement.type,
      statement.parts.map(([, text], index) => Math.max(known[index] ?? 0, text.length)).concat(known.slice(statement.parts.length)),
    );
  }
  const file = analysis.document.parseResult.value;
  const layout = new Layout(analysis.document.textDocument, file);
  const begun = new Set(file.statements.map(({ $type }) => $type));
  const written = changes.map((change, index): Written | undefined => {
    const statement = news[index];
    if (statement) {
      const { type } = statement;
      const edit = added(layout, statement, !begun.has(type), widths.get(type) ?? []);
      const uri = analysis.document.uri.toString();
      if (begun.has(type) || !edit.newText.startsWith(layout.newline.repeat(2))) return { change, uri, edits: [edit] };
      const next = { ...edit, newText: edit.newText.slice(layout.newline.length) };
      return { change, uri, edits: [next], opening: { kind: type, edits: [edit] } };
    }
    const node = nodeOf(analysis, change.fix);
    if (!node || isLibrary(AstUtils.getDocument(node).uri)) return undefined;
    const edits = changed(node, change.fix);
    return edits && { change, uri: AstUtils.getDocument(node).uri.toString(), edits };
  });
  return apart(written, analysis.document, layout.newline);
}

/** What comes after a line that goes altogether stands on a line of its own in its place: edits may not be inside of each other. */
function apart(
  written: readonly (Written | undefined)[],
  { uri, textDocument }: Analysis['document'],
  newline: string,
): (Written | undefined)[] {
  const here = uri.toString();
  const gone = written.flatMap((each) => (each?.uri === here ? each.edits.filter(({ newText }) => newText === '') : []));
  const moved = (edit: TextEdit): TextEdit => {
    const { start, end } = edit.range;
    const at = textDocument.offsetAt(start);
    if (at !== textDocument.offsetAt(end) || !edit.newText.startsWith(newline)) return edit;
    const around = gone.find(({ range }) => textDocument.offsetAt(range.start) < at && at < textDocument.offsetAt(range.end))?.range.end;
    return around ? { range: { start: around, end: around }, newText: `${edit.newText.slice(newline.length)}${newline}` } : edit;
  };
  return written.map((each) => {
    if (each?.uri !== here) return each;
    const { edits, opening } = each;
    return { ...each, edits: edits.map(moved), ...(opening && { opening: { ...opening, edits: opening.edits.map(moved) } }) };
  });
}

/** A text with these edits in it. Of several at one place the first stands first. */
export function applied(text: string, edits: readonly TextEdit[], offsetAt: (position: TextEdit['range']['start']) => number): string {
  const sorted = edits.map((edit, index) => ({ edit, index, start: offsetAt(edit.range.start), end: offsetAt(edit.range.end) }));
  sorted.sort((a, b) => a.start - b.start || a.end - b.end || a.index - b.index);
  let at = 0;
  let result = '';
  for (const { edit, start, end } of sorted) {
    result += text.slice(at, Math.max(at, start)) + edit.newText;
    at = Math.max(at, end);
  }
  return result + text.slice(at);
}

function statementOf(fix: Fix): { readonly type: StatementType; readonly parts: readonly Part[] } | undefined {
  const via = (text: string | undefined): Part[] => (text === undefined ? [] : [['via', `via ${text}`]]);
  switch (fix.kind) {
    case 'add-gear':
      return {
        type: 'Gear',
        parts: [
          ['', `gear ${fix.name}`],
          [LABEL, `"${fix.label.replace(/["\u201C\u201D]/g, '')}"`],
          ['is', `is ${fix.model}`],
          ...(fix.onHz === undefined ? [] : [['on', onText(fix.onHz)] as const]),
          ...(fix.for === undefined ? [] : [['for', `for ${fix.for}`] as const]),
          ...(fix.hears === undefined ? [] : [['hears', `hears ${fix.hears}`] as const]),
          ...holdingPart(fix.holding),
        ],
      };
    case 'add-input':
      return {
        type: 'Input',
        parts: [
          ['', `input ${fix.port}`],
          ['takes', `takes ${fix.source}`],
          ...via(fix.via),
          ...(fix.phantom === undefined ? [] : [['phantom', `phantom ${fix.phantom}`] as const]),
        ],
      };
    case 'add-output':
      return { type: 'Output', parts: [['', `output ${fix.port}`], ['carries', `carries ${fix.mix}`], ...via(fix.via)] };
    case 'add-house':
      return { type: 'House', parts: [['', `house ${fix.number}`], ['takes', `takes ${fix.takes}`], ...via(fix.via)] };
    default:
      return undefined;
  }
}

function holdingPart(holding: Holding | undefined): Part[] {
  if (!holding) return [];
  const { how, price } = holding;
  return [[how, price ? `${how} ${price.amount} ${price.currency}` : how]];
}

/** In the columns of the last of its kind; of the first of its kind, in columns with those that come with it. */
function added(
  layout: Layout,
  { type, parts }: { type: StatementType; parts: readonly Part[] },
  first: boolean,
  widths: readonly number[],
): TextEdit {
  const padded = parts.map(([word, text], index) => ({
    word: layout.has(type) && !first ? word : '\0',
    text: index < parts.length - 1 && !layout.has(type) ? text.padEnd(widths[index] ?? 0) : text,
  }));
  return layout.add(type, padded);
}

function nodeOf({ lowered }: Analysis, fix: Fix): AstNode | undefined {
  const place = placeOf(fix);
  return place === undefined ? undefined : lowered.marks.markOf(place)?.node;
}

/** What a change is made in. */
function placeOf(fix: Fix): Place | undefined {
  switch (fix.kind) {
    case 'set-via':
      return fix.run;
    case 'set-pack':
    case 'set-frequency':
      return fix.piece;
    case 'set-way':
      return fix.source;
    case 'set-width':
      return fix.mix;
    case 'remove':
      return fix.statement;
    default:
      return undefined;
  }
}

function changed(node: AstNode, fix: Fix): TextEdit[] | undefined {
  const layout = Layout.of(node);
  const of = (property: string): CstNode | undefined => GrammarUtils.findNodeForProperty(node.$cstNode, property);
  const cst = node.$cstNode;
  switch (fix.kind) {
    case 'set-via': {
      if (node.$type !== 'House') return undefined;
      const there = (node as ast.House).via?.$cstNode;
      if (there)
        return [fix.via === undefined ? layout.remove(there.offset, there.end) : layout.replace(there.offset, there.end, `via ${fix.via}`)];
      const after = of('taken')?.end;
      return after === undefined || fix.via === undefined ? undefined : [layout.append(node as ast.House, after, 'via', `via ${fix.via}`)];
    }
    case 'set-pack': {
      if (node.$type !== 'Gear') return undefined;
      const gear = node as ast.Gear;
      const clause = (type: string) => gear.clauses.find(({ $type }) => $type === type)?.$cstNode;
      const edits: TextEdit[] = [];
      const [whom, hears] = [clause('ForWhom'), clause('Hears')];
      if (!whom) edits.push(layout.append(gear, of('model')?.end ?? 0, 'for', `for ${fix.performer}`));
      if (hears) edits.push(layout.replace(hears.offset, hears.end, `hears ${fix.hears}`));
      else edits.push(layout.append(gear, whom?.end ?? of('model')?.end ?? 0, 'hears', `hears ${fix.hears}`));
      return edits;
    }
    case 'set-way': {
      const [first, last] = [of('model'), GrammarUtils.findNodesForProperty(cst, 'instead').at(-1)];
      return first && last ? [layout.replace(first.offset, last.end, fix.models.join(' or '))] : undefined;
    }
    case 'set-frequency': {
      const edit = frequencyEdit(node, fix.hz);
      return edit && [edit];
    }
    case 'set-width': {
      const width = of('width');
      return width && [layout.replace(width.offset, width.end, fix.width)];
    }
    case 'remove':
      return cst && [layout.remove(cst.offset, cst.end)];
    default:
      return undefined;
  }
}
