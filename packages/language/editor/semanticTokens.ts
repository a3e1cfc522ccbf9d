/**
 * Names coloured by what they stand for. Only names that stand for something: one that does not keeps the plain colour of a
 * word, so that a slip can be seen before its message is read.
 */
import { AstUtils, type CstNode, CstUtils, GrammarUtils, type LangiumDocument, type Reference } from 'langium';
import type { SemanticTokenProvider } from 'langium/lsp';
import {
  type Range,
  type SemanticTokens,
  SemanticTokensBuilder,
  type SemanticTokensDelta,
  type SemanticTokensDeltaParams,
  type SemanticTokensOptions,
  type SemanticTokensRangeParams,
} from 'vscode-languageserver';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import type { Declaration, Kind } from '../symbols';
import type { RigEditorServices } from './services';
import { isDeclaration, type PortMention, portMentions, sitesOf } from './things';

/** The protocol's own types, which every editor has a colour for. package.json says which of a theme's colours they take here. */
const TYPES = ['class', 'variable', 'interface', 'function', 'enumMember', 'property'] as const;
const MODIFIERS = ['declaration', 'defaultLibrary', 'private'] as const;

type Type = (typeof TYPES)[number];
type Modifier = (typeof MODIFIERS)[number];

const TYPE_OF: Readonly<Record<Kind, Type>> = {
  Model: 'class',
  Gear: 'variable',
  Performer: 'interface',
  Source: 'function',
  Mix: 'enumMember',
};

interface Token {
  readonly line: number;
  readonly character: number;
  readonly length: number;
  readonly type: Type;
  readonly modifiers: readonly Modifier[];
}

export class RigSemanticTokenProvider implements SemanticTokenProvider {
  readonly tokenTypes: Record<string, number> = Object.fromEntries(TYPES.map((type, index) => [type, index]));
  readonly tokenModifiers: Record<string, number> = Object.fromEntries(MODIFIERS.map((modifier, index) => [modifier, 1 << index]));
  readonly semanticTokensOptions: SemanticTokensOptions = {
    legend: { tokenTypes: [...TYPES], tokenModifiers: [...MODIFIERS] },
    full: { delta: true },
    range: true,
  };
  /** What each open document was last given, to tell the difference from. */
  private readonly given = new Map<string, SemanticTokensBuilder>();

  constructor(private readonly services: RigEditorServices) {
    services.shared.workspace.TextDocuments.onDidClose(({ document }) => this.given.delete(document.uri));
  }

  semanticHighlight(document: LangiumDocument): SemanticTokens {
    const builder = new SemanticTokensBuilder();
    this.given.set(document.textDocument.uri, builder);
    this.push(builder, this.tokens(document));
    return builder.build();
  }

  semanticHighlightRange(document: LangiumDocument, { range }: Pick<SemanticTokensRangeParams, 'range'>): SemanticTokens {
    const builder = new SemanticTokensBuilder();
    this.push(builder, this.tokens(document, range));
    return builder.build();
  }

  semanticHighlightDelta(
    document: LangiumDocument,
    { previousResultId }: Pick<SemanticTokensDeltaParams, 'previousResultId'>,
  ): SemanticTokens | SemanticTokensDelta {
    const builder = this.given.get(document.textDocument.uri);
    if (!builder) return this.semanticHighlight(document);
    builder.previousResult(previousResultId);
    this.push(builder, this.tokens(document));
    return builder.buildEdits();
  }

  private push(builder: SemanticTokensBuilder, tokens: readonly Token[]): void {
    for (const { line, character, length, type, modifiers } of tokens) {
      const bits = modifiers.reduce((sum, modifier) => sum | (this.tokenModifiers[modifier] ?? 0), 0);
      builder.push(line, character, length, this.tokenTypes[type] ?? 0, bits);
    }
  }

  /** In the order of the text. */
  private tokens(document: LangiumDocument, range?: Range): Token[] {
    const found: Token[] = [];
    const { sources } = this.services.rig.Analyser.of(document).lowered.rig;
    const modifiersOf = (node: Declaration): Modifier[] => {
      if (node.$type === 'Model') return isLibrary(AstUtils.getDocument(node).uri) ? ['defaultLibrary'] : [];
      return node.$type === 'Source' && sources.get(`source:${node.name}`)?.private ? ['private'] : [];
    };
    const add = (cst: CstNode | undefined, type: Type, modifiers: readonly Modifier[]) => {
      if (!cst || (range && !CstUtils.inRange(cst.range, range))) return;
      const { start, end } = cst.range;
      found.push({ line: start.line, character: start.character, length: end.character - start.character, type, modifiers });
    };
    for (const node of AstUtils.streamAst(document.parseResult.value, { range })) {
      if (isDeclaration(node) && typeof node.name === 'string') {
        add(GrammarUtils.findNodeForProperty(node.$cstNode, 'name'), TYPE_OF[node.$type], ['declaration', ...modifiersOf(node)]);
      }
      for (const { reference } of AstUtils.streamReferences(node)) {
        const { $refNode, ref } = reference as Reference;
        if ($refNode && ref && isDeclaration(ref)) add($refNode, TYPE_OF[ref.$type], modifiersOf(ref));
      }
      for (const mention of portMentions(node)) {
        if (!resolves(mention)) continue;
        const modifiers: Modifier[] = mention.declares ? ['declaration'] : [];
        add(mention.first, 'property', modifiers);
        if (mention.last !== mention.first) add(mention.last, 'property', modifiers);
      }
      if (node.$type === 'Taken' && isSideOfMix(node as ast.Taken))
        add(GrammarUtils.findNodeForProperty(node.$cstNode, 'port'), 'property', []);
    }
    return found.sort((a, b) => a.line - b.line || a.character - b.character);
  }
}

function resolves({ declares, model, ids, direction }: PortMention): boolean {
  return declares || ids.every((id) => sitesOf(model, id, direction).length > 0);
}

function isSideOfMix({ target, port }: ast.Taken): boolean {
  const mix = target?.ref;
  return mix?.$type === 'Mix' && mix.width === 'stereo' && (port === 'left' || port === 'right');
}
