/** Cures that only the text and the workspace know of. */
import { AstUtils, type CstNode, CstUtils, GrammarUtils, type LangiumDocument, type URI, UriUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import type { FiguresOf } from '#engine';
import { unitsFor } from '#rig';
import { allowancesIn } from '../../allowances';
import type { Located } from '../../analysis';
import type * as ast from '../../generated/ast';
import { Layout } from '../../layout';
import { A_LEAD, NOT_NEGATIVE, OF_A_STAGE, POSITIVE, RADIO } from '../../lowering/context';
import { nearest } from '../../near';
import { byDistance } from '../../symbols';
import { numberOf } from '../../syntax/values';
import { Candidates } from '../candidates';
import { contextAt } from '../context';
import { dimensionsOf } from '../dimensions';
import type { Cure } from '../edits';
import { Expecting } from '../expect';
import type { RigEditorServices } from '../services';
import { idsOf } from '../things';

const NEVER_BELOW_NOUGHT: ReadonlySet<string> = new Set([POSITIVE, NOT_NEGATIVE, OF_A_STAGE, A_LEAD].map(({ says }) => says));

/** A label in quotes of another kind. */
const FOREIGN_LABEL =
  /^['\u2018-\u201F\u00AB\u00BB\u2039\u203A]([^"'\u2018-\u201F\u00AB\u00BB\u2039\u203A#]+)['\u2018-\u201F\u00AB\u00BB\u2039\u203A]/;

/** Names of this rig, of which a line that breaks off may want one. */
const NAMED: ReadonlySet<string> = new Set(['source', 'performer', 'mix', 'gear', 'port']);
const MOST_NAMES = 3;

export class TextualCures {
  private readonly expecting: Expecting;

  constructor(private readonly services: RigEditorServices) {
    this.expecting = new Expecting(services.Grammar);
  }

  of(document: LangiumDocument, located: Located): Cure[] {
    const { finding, range } = located;
    const offset = document.textDocument.offsetAt(range.start);
    const end = document.textDocument.offsetAt(range.end);
    const file = document.parseResult.value as ast.RigFile;
    const layout = new Layout(document.textDocument, file);
    const cure = (title: string, edit: TextEdit | undefined) => (edit ? [{ title, changes: { [document.uri.toString()]: [edit] } }] : []);
    switch (finding.code) {
      case 'names/unknown': {
        const { file: path } = finding.figures as FiguresOf<'names/unknown'>;
        return path === undefined ? [] : cure(`Use ${path}, which has it`, layout.add('Use', [{ word: '', text: `use "${path}"` }]));
      }
      case 'text/unclosed-brace':
        return cure('Close the brace', this.closing(file, offset, layout));
      case 'text/no-braces':
        return [
          ...cure('Leave the braces out', layout.edit(offset, end, inBraces(layout, offset, end))),
          ...this.intoModel(document, layout, offset, end),
        ];
      case 'text/missing-unit':
        return this.unitsAt(document, end, (finding.figures as FiguresOf<'text/missing-unit'>).units).flatMap((unit) =>
          cure(`Write "${layout.text.slice(offset, end)} ${unit}"`, layout.edit(end, end, ` ${unit}`)),
        );
      case 'use/missing':
      case 'use/outside':
        return this.pathsLike(document, (finding.figures as FiguresOf<'use/missing'>).path).flatMap((path) =>
          cure(`Use ${path}`, layout.replace(offset, end, `"${path}"`)),
        );
      case 'scan/missing':
      case 'scan/outside':
      case 'scan/not-readable':
      case 'scan/no-figures':
        return this.scansLike(document, (finding.figures as FiguresOf<'scan/missing'>).path).flatMap((path) =>
          cure(`Name ${path}`, layout.replace(offset, end, `"${path}"`)),
        );
      case 'scan/beside':
        return cure('Delete this scan', layout.remove(offset, end));
      case 'allow/no-reason':
      case 'allow/not-this':
      case 'allow/nothing-here': {
        const comment = allowancesIn(document).find(({ codeStart }) => codeStart === offset);
        return comment ? cure('Delete this comment', layout.remove(comment.start, comment.end)) : [];
      }
      case 'use/twice':
      case 'use/itself': {
        const use = file.statements.find(
          (statement) => statement.$cstNode && statement.$cstNode.offset <= offset && statement.$cstNode.end >= end,
        )?.$cstNode;
        return use ? cure('Delete this line', layout.remove(use.offset, use.end)) : [];
      }
      case 'units/wrong': {
        if (!(finding.figures as FiguresOf<'units/wrong'>).power) return [];
        // With the word that it belongs to: `max 100 W`. What goes on behind it cannot do without it.
        const clause = clauseOf(file, offset);
        if (clause?.end !== end || layout.text.slice(clause.offset, end).includes('\n')) return [];
        const written = layout.text.slice(clause.offset, end);
        const line = layout.text.slice(end, layout.lineEnd(end));
        // What is first on its line leaves the comment where it stood.
        const head = layout.text.slice(layout.text.lastIndexOf('\n', clause.offset) + 1, clause.offset);
        const start = clause.offset - (head.trim() === '' ? 0 : head.length - head.trimEnd().length);
        const noted = `${line.trimEnd()}${line.includes('#') ? ', ' : '  # '}${written}`;
        const text = head.trim() === '' ? noted.trimStart() : noted;
        return cure(`Put "${written}" into a comment`, layout.edit(start, end + line.length, text));
      }
      case 'units/impossible': {
        const written = layout.text.slice(offset, end);
        const positive = written.replace(/^[-\u2212\u2013]\s*/, '');
        const { rule } = finding.figures as FiguresOf<'units/impossible'>;
        // A slip of the prefix: 863.2 kHz.
        const mega = written.replace(/\s*[kG]?Hz$/i, ' MHz');
        if (rule === RADIO.says && mega !== written && RADIO.holds(Number.parseFloat(written) * 1e6))
          return cure(`Write "${mega}"`, layout.replace(offset, end, mega));
        // A minus that cannot be: a slip of the finger, or a distance measured the other way.
        const meant = positive !== written && NEVER_BELOW_NOUGHT.has(rule) && /[1-9]/.test(positive);
        return meant ? cure(`Write "${positive}"`, layout.replace(offset, end, positive)) : [];
      }
      case 'models/bad-range': {
        // The gear before the dot stands once: `iface.usb1..usb2`.
        const [, gear = '', letters, low, high] = /^(\S+\.)?([^\d.]+)(\d+)\.\.(\d+)$/.exec(layout.text.slice(offset, end)) ?? [];
        const range = `${gear}${letters}${low}..${letters}${high}`;
        return Number(low) < Number(high) ? cure(`Write "${range}"`, layout.replace(offset, end, range)) : [];
      }
      case 'models/port-twice':
        return this.numberedOn(file, offset).flatMap(({ node, ids }) =>
          cure(`Number on: ${ids}`, layout.replace(node.offset, node.end, ids)),
        );
      case 'capacity/house-line-twice': {
        const number = GrammarUtils.findNodeForProperty(statementAt(file, offset)?.$cstNode, 'number');
        const free = String(
          Math.max(...file.statements.flatMap((each) => (each.$type === 'House' ? numberOf(each.number ?? '0') : []))) + 1,
        );
        return number ? cure(`Make it line ${free} (ask which line is free)`, layout.replace(number.offset, number.end, free)) : [];
      }
      case 'text/too-deep': {
        const here = statementAt(file, offset);
        const steps = here
          ? AstUtils.streamAllContents(here)
              .filter((each): each is ast.Step => each.$type === 'Step')
              .toArray()
          : [];
        const at = steps.findIndex(({ $cstNode: cst }) => cst?.offset === offset);
        const [kept, last] = [steps[at - 1]?.$cstNode, steps.at(-1)?.$cstNode];
        return kept && last ? cure('Delete the steps from here on', layout.edit(kept.end, last.end, '')) : [];
      }
      case 'text/stray-character': {
        const quoted =
          (finding.figures as FiguresOf<'text/stray-character'>).kind === 'quote' &&
          FOREIGN_LABEL.exec(layout.text.slice(offset, layout.lineEnd(offset)));
        return quoted ? cure(`Write "${quoted[1]}"`, layout.edit(offset, offset + quoted[0].length, `"${quoted[1]}"`)) : [];
      }
      case 'text/unfinished':
        return this.namesAt(document, end).flatMap((name) =>
          cure(`Write "${name}"`, layout.edit(end, end, `${gapAfter(layout.text.slice(0, end))}${name}`)),
        );
      case 'rig/two-titles': {
        const header = file.statements.find(({ $cstNode: cst }) => cst && cst.offset <= offset && cst.end >= end);
        const bare = header?.$type === 'Header' && header.clauses.length === 0 ? header.$cstNode : undefined;
        return bare ? cure('Delete the second title', layout.remove(bare.offset, bare.end)) : [];
      }
      default:
        return [];
    }
  }

  /** What a statement that breaks off may go on with, the likeliest first. */
  private namesAt(document: LangiumDocument, offset: number): string[] {
    const before = document.textDocument.getText().slice(0, offset);
    const text = `${before}${gapAfter(before)}`;
    const context = contextAt(text, text.length, this.services.parser.Lexer, this.expecting);
    if (!context) return [];
    const proposals = new Candidates(this.services, document, context).all();
    return proposals
      .filter(({ kind }) => NAMED.has(kind))
      .slice(0, MOST_NAMES)
      .map(({ label, insert }) => insert ?? label);
  }

  /** What stands in braces behind a source or gear, as a model of its own above it. */
  private intoModel(document: LangiumDocument, layout: Layout, start: number, end: number): Cure[] {
    const file = document.parseResult.value as ast.RigFile;
    const owner = file.statements.findLast(({ $cstNode: cst }) => cst && cst.offset <= start);
    if ((owner?.$type !== 'Source' && owner?.$type !== 'Gear') || !owner.model?.$refNode || !owner.$cstNode) return [];
    const parent = owner.model.$refText;
    const taken = new Set(file.statements.flatMap((each) => ('name' in each ? [each.name] : [])));
    const name = [`our-${parent}`, ...Array.from({ length: 99 }, (_, n) => `our-${parent}-${n + 2}`)].find((each) => !taken.has(each));
    const { newline } = layout;
    const items = inBraces(layout, start, end)
      .split(/\r?\n/)
      .map((line) => `  ${line.trim()}`)
      .join(newline);
    const { $refNode: reference } = owner.model;
    const before = /[ \t]*$/.exec(layout.text.slice(0, start))?.[0].length ?? 0;
    const at = layout.lineStart(owner.$cstNode.offset);
    const edits = [
      layout.edit(at, at, `model ${name} is ${parent} {${newline}${items}${newline}}${newline}`),
      layout.edit(reference.offset, reference.end, name ?? parent),
      layout.edit(start - before, end, ''),
    ];
    return [{ title: `Make a model of it: ${name}`, changes: { [document.uri.toString()]: edits } }];
  }

  /** Ports whose numbers are taken, counted on from the highest that has the same letters before it. */
  private numberedOn(file: ast.RigFile, offset: number): { node: CstNode; ids: string }[] {
    const models = file.statements.filter((statement): statement is ast.Model => statement.$type === 'Model');
    const ports = models.flatMap(({ items }) => items.filter((item): item is ast.Port => item.$type === 'Port'));
    const port = ports.find(({ ids }) => ids.some(({ $cstNode: cst }) => cst && cst.offset <= offset && cst.end > offset));
    const range = port?.ids.find(({ $cstNode: cst }) => cst && cst.offset <= offset && cst.end > offset);
    const own = range ? idsOf(range) : [];
    const [, letters, first] = /^(\D*)(\d+)$/.exec(own[0] ?? '') ?? [];
    if (!port || !range?.$cstNode || port.ids.length > 1 || letters === undefined || first === undefined) return [];
    const others = port.$container.items.flatMap((item) =>
      item.$type === 'Port' && item !== port && item.direction === port.direction ? item.ids.flatMap(idsOf) : [],
    );
    const numbers = others.flatMap((id) =>
      id.startsWith(letters) && /^\d+$/.test(id.slice(letters.length)) ? [Number(id.slice(letters.length))] : [],
    );
    const next = Math.max(0, ...numbers) + 1;
    const ids = own.length === 1 ? `${letters}${next}` : `${letters}${next}..${letters}${next + own.length - 1}`;
    return [{ node: range.$cstNode, ids }];
  }

  /** As many closing braces as are missing, behind the last word of the statement. */
  private closing(file: ast.RigFile, brace: number, layout: Layout): TextEdit | undefined {
    const statement = file.statements.find(({ $cstNode }) => $cstNode && $cstNode.offset <= brace && $cstNode.end > brace)?.$cstNode;
    if (!statement) return undefined;
    const { tokens } = this.services.parser.Lexer.tokenize(statement.text);
    const missing = tokens.reduce((count, { image }) => count + (image === '{' ? 1 : image === '}' ? -1 : 0), 0);
    if (missing < 1) return undefined;
    const oneLine = statement.range.start.line === statement.range.end.line;
    if (oneLine) return layout.edit(statement.end, statement.end, ' }'.repeat(missing));
    const end = layout.lineEnd(statement.end);
    const indent = (index: number) => '  '.repeat(missing - 1 - index);
    return layout.edit(end, end, Array.from({ length: missing }, (_, index) => `${layout.newline}${indent(index)}}`).join(''));
  }

  /** Those that the message names come first. */
  private unitsAt(document: LangiumDocument, offset: number, named: readonly string[]): string[] {
    const context = contextAt(document.textDocument.getText(), offset, this.services.parser.Lexer, this.expecting);
    // Behind a side comes a share, though `left` could also be a source.
    if (context?.expected.all.some(({ rule }) => rule === 'Percent')) return ['%'];
    const dimensions = context?.expected.all.flatMap(({ rule, figure }) => {
      const [owner, keyword] = figure?.split('/') ?? [];
      return rule === 'Unit' ? dimensionsOf(owner ?? '', keyword ?? '') : [];
    });
    const units = [...new Set(dimensions)].flatMap(unitsFor);
    return [...named.filter((unit) => units.includes(unit)), ...units.filter((unit) => !named.includes(unit))];
  }

  /** Files of the workspace that a mistaken path may have meant: of the same name elsewhere, or of nearly the same path. */
  private pathsLike(document: LangiumDocument, path: string): string[] {
    const known = this.services.shared.workspace.LangiumDocuments.all
      .filter(({ uri }) => !UriUtils.equals(uri, document.uri) && this.services.rig.Workspace.mayUse(uri, document.uri))
      .map(({ uri }) => uri)
      .toArray();
    return this.like(document, path, known);
  }

  /** Scans that this rig, or another one, names and that can be read. */
  private scansLike(document: LangiumDocument, path: string): string[] {
    const { Scans, Workspace } = this.services.rig;
    return this.like(
      document,
      path,
      Scans.readable().filter((uri) => Workspace.isInside(uri.toString(), document.uri)),
    );
  }

  /** Of these, those that are called so, and those that are called nearly so. */
  private like(document: LangiumDocument, path: string, uris: readonly URI[]): string[] {
    const folder = UriUtils.dirname(document.uri);
    const known = uris.map((uri) => UriUtils.relative(folder, uri)).sort(byDistance);
    const base = path.split(/[\\/]/).at(-1);
    return [...new Set([...known.filter((each) => each.split('/').at(-1) === base), ...nearest(path, known)])];
  }
}

/** Between words stands a blank; behind a dot, none. */
const gapAfter = (before: string) => (before.endsWith('.') ? '' : ' ');

function statementAt(file: ast.RigFile, offset: number): ast.Statement | undefined {
  return file.statements.find(({ $cstNode: cst }) => cst && cst.offset <= offset && cst.end > offset);
}

/** What stands between two braces, or behind one that is not closed. */
function inBraces({ text }: Layout, start: number, end: number): string {
  return text.slice(start + 1, text.charAt(end - 1) === '}' ? end - 1 : end).trim();
}

/** The clause that a figure stands in. */
function clauseOf(file: ast.RigFile, offset: number): CstNode | undefined {
  const figure = file.$cstNode && CstUtils.findLeafNodeAtOffset(file.$cstNode, offset)?.astNode;
  const clause = figure?.$container;
  return clause?.$container?.$type === 'RigFile' ? undefined : clause?.$cstNode;
}
