/** The outline: statements of a kind that stand together make a group; a single one stands for itself. */
import { GrammarUtils, type LangiumDocument } from 'langium';
import type { DocumentSymbolProvider } from 'langium/lsp';
import { type DocumentSymbol, type Range, SymbolKind } from 'vscode-languageserver';
import type * as ast from '../generated/ast';

interface Kind {
  readonly group: string;
  readonly icon: SymbolKind;
}

const KINDS: Readonly<Record<ast.Statement['$type'], Kind>> = {
  Header: { group: 'Rig', icon: SymbolKind.File },
  Use: { group: 'Files used', icon: SymbolKind.Module },
  Model: { group: 'Models', icon: SymbolKind.Class },
  Gear: { group: 'Gear', icon: SymbolKind.Object },
  Performer: { group: 'Performers', icon: SymbolKind.Interface },
  Source: { group: 'Sources', icon: SymbolKind.Event },
  Input: { group: 'Inputs', icon: SymbolKind.Field },
  House: { group: 'House', icon: SymbolKind.Struct },
  Mix: { group: 'Mixes', icon: SymbolKind.Function },
  Output: { group: 'Outputs', icon: SymbolKind.Field },
};

export function iconOf({ $type }: { readonly $type: ast.Statement['$type'] }): SymbolKind {
  return KINDS[$type].icon;
}

export class RigSymbolProvider implements DocumentSymbolProvider {
  getSymbols(document: LangiumDocument): DocumentSymbol[] {
    const { statements } = document.parseResult.value as ast.RigFile;
    const symbols: DocumentSymbol[] = [];
    let group: { type: string; symbols: DocumentSymbol[] } | undefined;
    const finish = () => {
      if (!group) return;
      const [first] = group.symbols;
      const last = group.symbols.at(-1);
      if (!first || !last || group.symbols.length === 1) {
        symbols.push(...group.symbols);
        return;
      }
      const { group: name } = KINDS[group.type as ast.Statement['$type']];
      symbols.push({
        name,
        detail: String(group.symbols.length),
        kind: SymbolKind.Namespace,
        range: { start: first.range.start, end: last.range.end },
        selectionRange: first.selectionRange,
        children: group.symbols,
      });
    };
    for (const statement of statements ?? []) {
      const symbol = symbolOf(statement);
      if (!symbol) continue;
      if (group?.type !== statement.$type) {
        finish();
        group = { type: statement.$type, symbols: [] };
      }
      group.symbols.push(symbol);
    }
    finish();
    return symbols;
  }
}

function symbolOf(statement: ast.Statement): DocumentSymbol | undefined {
  const cst = statement.$cstNode;
  if (!cst) return undefined;
  const { name, detail, at } = SAYS[statement.$type](statement as never);
  const selection = at === undefined ? undefined : GrammarUtils.findNodeForProperty(cst, at)?.range;
  return {
    // An outline must not have a nameless line.
    name: name.trim() || KINDS[statement.$type].group,
    detail,
    kind: KINDS[statement.$type].icon,
    range: cst.range,
    selectionRange: selection ?? firstWord(cst.range, cst.text),
    children: statement.$type === 'Model' ? statement.items.flatMap(portSymbol) : undefined,
  };
}

interface Says {
  readonly name: string;
  readonly detail: string;
  /** The property that the name stands in. */
  readonly at?: string;
}

type StatementOf<T> = Extract<ast.Statement, { $type: T }>;

const SAYS: { readonly [T in ast.Statement['$type']]: (statement: StatementOf<T>) => Says } = {
  Header: ({ label }) => ({ name: label ?? 'rig', detail: '', at: 'label' }),
  Use: ({ path }) => ({ name: path ?? 'use', detail: '', at: 'path' }),
  Model: ({ name, label, parent }) => ({
    name: name ?? 'model',
    detail: [label, parent && `is ${parent.$refText}`].filter(Boolean).join(', '),
    at: 'name',
  }),
  Gear: ({ name, label, model }) => ({
    name: label ?? name ?? 'gear',
    detail: [label && name, model && `is ${model.$refText}`].filter(Boolean).join(' '),
    at: 'name',
  }),
  Performer: ({ name, label }) => ({ name: label ?? name ?? 'performer', detail: label && name ? name : '', at: 'name' }),
  Source: ({ name, label, model }) => ({
    name: label ?? name ?? 'source',
    detail: [label && name, model && `is ${model.$refText}`].filter(Boolean).join(' '),
    at: 'name',
  }),
  Input: ({ port, taken, clauses }) => ({
    name: portText(port),
    detail: [
      taken?.target && `takes ${reading(taken.target.ref, taken.target.$refText)}`,
      viaText(clauses.find((clause): clause is ast.Via => clause.$type === 'Via')),
    ]
      .filter(Boolean)
      .join(' '),
    at: 'port',
  }),
  House: ({ facts, number, label, own, taken, via }) =>
    facts.length > 0
      ? { name: facts.some(({ $type }) => $type === 'HouseWhose') ? 'No house' : 'Stage box', detail: '', at: 'facts' }
      : {
          name: `${number ?? ''}${label ? ` ${label}` : ''}`,
          detail: own
            ? 'own mic'
            : [taken?.target && `takes ${reading(taken.target.ref, taken.target.$refText)}`, viaText(via)].filter(Boolean).join(' '),
          at: 'number',
        },
  Mix: ({ name, label, width, house, performers, sends }) => ({
    name: label ?? name ?? 'mix',
    detail: [
      width ?? '',
      house ? 'for the house' : performers.length > 0 ? `for ${performers.map((each) => reading(each.ref, each.$refText)).join(', ')}` : '',
      `${sends.length} in it`,
    ]
      .filter(Boolean)
      .join(', '),
    at: 'name',
  }),
  Output: ({ port, mix, via }) => ({
    name: portText(port),
    detail: [mix && `carries ${reading(mix.ref, mix.$refText)}`, viaText(via)].filter(Boolean).join(' '),
    at: 'port',
  }),
};

function portText(port: ast.GearPort | undefined): string {
  if (!port?.gear) return '';
  return `${port.gear.$refText}${port.first === undefined ? '' : `.${port.first}`}${port.last === undefined ? '' : `..${port.last}`}`;
}

/** What is printed for it, where it says that. */
function reading(target: { label?: string } | undefined, written: string): string {
  return target?.label ?? written;
}

function viaText(via: ast.Via | undefined): string {
  const steps =
    via?.steps.flatMap(({ target, port }) =>
      target ? [`${reading(target.ref, target.$refText)}${port === undefined ? '' : ` ${port}`}`] : [],
    ) ?? [];
  return steps.length > 0 ? `via ${steps.join(', ')}` : '';
}

function portSymbol(item: ast.ModelItem): DocumentSymbol[] {
  const cst = item.$cstNode;
  if (item.$type !== 'Port' || !cst) return [];
  const ids = item.ids.map((range) => range.$cstNode?.text ?? '').join(', ');
  return [
    {
      name: `${item.direction} ${ids}`,
      detail: item.connector ?? '',
      kind: SymbolKind.Property,
      range: cst.range,
      selectionRange: item.ids[0]?.$cstNode?.range ?? firstWord(cst.range, cst.text),
    },
  ];
}

function firstWord(range: Range, text: string): Range {
  const length = /^\S*/.exec(text)?.[0].length ?? 0;
  return { start: range.start, end: { line: range.start.line, character: range.start.character + length } };
}
