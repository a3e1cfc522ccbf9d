/** What stands under the cursor. */
import { type AstNode, AstUtils, type CstNode, CstUtils, GrammarAST, GrammarUtils, type LangiumDocument, type LeafCstNode } from 'langium';
import type { Position, Range } from 'vscode-languageserver-types';

export interface Under {
  readonly leaf: LeafCstNode;
  readonly range: Range;
  /** The node of the syntax tree that the word belongs to. */
  readonly node: AstNode;
  /** The property of that node which the word is the value of, or a part of it. */
  readonly property?: string;
  /** Set where the word is one of the language's, with the rule of the grammar that it stands in. */
  readonly keyword?: { readonly word: string; readonly rule: string };
}

/** Rules whose words are the user's, whatever they look like. */
const FREE_WORDS: ReadonlySet<string> = new Set(['Name', 'Word', 'PortName', 'OutputName', 'Connector', 'Unit']);

/** The word at a position, or the one that ends there. Nothing in comments and between words. */
export function under(document: LangiumDocument, position: Position): Under | undefined {
  const root = document.parseResult.value.$cstNode;
  if (!root) return undefined;
  const offset = document.textDocument.offsetAt(position);
  const leaf = leafAt(root, offset);
  if (!leaf) return undefined;
  const rule = AstUtils.getContainerOfType(leaf.grammarSource, GrammarAST.isParserRule)?.name ?? '';
  const keyword = GrammarAST.isKeyword(leaf.grammarSource) && !FREE_WORDS.has(rule);
  return {
    leaf,
    range: leaf.range,
    node: leaf.astNode,
    property: GrammarUtils.findAssignment(leaf)?.feature,
    keyword: keyword ? { word: leaf.text, rule } : undefined,
  };
}

function leafAt(root: CstNode, offset: number): LeafCstNode | undefined {
  const here = CstUtils.findLeafNodeAtOffset(root, offset);
  if (here && !here.hidden && isWord(here)) return here;
  // The caret behind a word still means the word.
  const before = offset > 0 ? CstUtils.findLeafNodeAtOffset(root, offset - 1) : undefined;
  if (before && !before.hidden && isWord(before)) return before;
  return here && !here.hidden ? here : undefined;
}

function isWord(leaf: LeafCstNode): boolean {
  return !/^[{}.,:/]+$/.test(leaf.text);
}
