/**
 * What names mean, and everywhere they are written: what is declared (models, gear, performers, sources, mixes) and ports,
 * which belong to a model and are found through the models that it is made from.
 */
import { type AstNode, AstUtils, type CstNode, GrammarUtils, type LangiumDocument, type Reference } from 'langium';
import type { Position, Range } from 'vscode-languageserver-types';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { Context } from '../lowering/context';
import { portRange, spread } from '../lowering/ports';
import type { Declaration } from '../symbols';
import { parsedText } from '../syntax/factory';
import type { RigEditorServices } from './services';
import { type Under, under } from './under';

export type Direction = 'input' | 'output' | 'any';

/** One port as a model declares it: `port` may declare several, `written` is the part that declares this one. */
export interface PortSite {
  readonly model: ast.Model;
  readonly port: ast.Port;
  readonly written: ast.PortRange;
  readonly id: string;
}

export type Thing =
  | { readonly kind: 'declared'; readonly node: Declaration }
  | { readonly kind: 'ports'; readonly sites: readonly PortSite[]; readonly ids: readonly string[] };

export interface Pointed {
  readonly under: Under;
  /** The name as it is written here, whole. */
  readonly range: Range;
  readonly text: string;
  readonly thing: Thing;
}

/** A place where a thing is named. */
export interface Occurrence {
  readonly document: LangiumDocument;
  readonly range: Range;
  readonly text: string;
  readonly declares: boolean;
  /** Named by a range of ports, such as `1..8`, so that it is not the name alone. */
  readonly spread: boolean;
  readonly node: AstNode;
}

/** A place where a port is written, before anybody asks which one it is. */
export interface PortMention {
  readonly node: AstNode;
  readonly ids: readonly string[];
  readonly first: CstNode;
  readonly last: CstNode;
  readonly model: ast.Model | undefined;
  readonly direction: Direction;
  readonly declares: boolean;
}

export class Things {
  constructor(private readonly services: RigEditorServices) {}

  at(document: LangiumDocument, position: Position): Pointed | undefined {
    const found = under(document, position);
    return found && this.pointed(found);
  }

  pointed(found: Under): Pointed | undefined {
    const { node, leaf, property } = found;
    if (found.keyword || property === undefined) return undefined;
    if (property === 'name' && isDeclaration(node)) {
      const cst = GrammarUtils.findNodeForProperty(node.$cstNode, 'name') ?? leaf;
      return { under: found, range: cst.range, text: cst.text, thing: { kind: 'declared', node } };
    }
    for (const { reference } of AstUtils.streamReferences(node)) {
      const { $refNode, ref } = reference as Reference;
      if (!$refNode || $refNode.offset > leaf.offset || $refNode.end < leaf.end) continue;
      return ref && isDeclaration(ref)
        ? { under: found, range: $refNode.range, text: $refNode.text, thing: { kind: 'declared', node: ref } }
        : undefined;
    }
    for (const mention of portMentions(node)) {
      if (mention.first.offset > leaf.offset || mention.last.end < leaf.end) continue;
      const word = mention.first.offset <= leaf.offset && mention.first.end >= leaf.end ? mention.first : mention.last;
      // At its declaration a range means all its ports; where it is used, the one that is pointed at.
      const ids = mention.declares || mention.ids.length === 1 ? mention.ids : mention.ids.filter((id) => id === word.text);
      const sites = ids.flatMap((id) => (mention.declares ? declaredHere(mention, id) : sitesOf(mention.model, id, mention.direction)));
      const range =
        mention.declares && mention.first !== mention.last ? { start: mention.first.range.start, end: mention.last.range.end } : word.range;
      return sites.length > 0 ? { under: found, range, text: word.text, thing: { kind: 'ports', sites, ids } } : undefined;
    }
    return undefined;
  }

  /** Everywhere a thing is named, its declaration included, in these files or else in all that can name it. */
  occurrences(thing: Thing, among?: Iterable<LangiumDocument>): Occurrence[] {
    return thing.kind === 'declared' ? this.namings(thing.node, among) : this.portings(thing.sites, among);
  }

  /** Files that see what these declare, one after the other; what has been read for one is let go where it becomes much. */
  private *seeing(declaring: readonly LangiumDocument[]): Iterable<LangiumDocument> {
    const { Symbols, Trees } = this.services.rig;
    const everybody = declaring.some(({ uri }) => isLibrary(uri));
    const users = everybody ? undefined : Symbols.usersOf(declaring.map(({ uri }) => uri.toString()));
    for (const document of this.services.shared.workspace.LangiumDocuments.all) {
      if (users && !users.has(document.uri.toString())) continue;
      Trees.ease(...declaring);
      yield document;
    }
  }

  private namings(target: Declaration, among?: Iterable<LangiumDocument>): Occurrence[] {
    const found: Occurrence[] = [];
    const declaring = AstUtils.getDocument(target);
    for (const document of among ?? this.seeing([declaring])) {
      const own = declaring === document;
      // The same letters can be written in two ways in Unicode.
      if (!parsedText(document).normalize('NFC').includes(target.name)) continue;
      for (const node of AstUtils.streamAst(document.parseResult.value)) {
        if (own && node === target) {
          const cst = GrammarUtils.findNodeForProperty(node.$cstNode, 'name');
          if (cst) found.push({ document, range: cst.range, text: cst.text, declares: true, spread: false, node });
        }
        for (const { reference } of AstUtils.streamReferences(node)) {
          const { $refNode, $refText, ref } = reference as Reference;
          if ($refNode && $refText === target.name && ref === target)
            found.push({ document, range: $refNode.range, text: $refNode.text, declares: false, spread: false, node });
        }
      }
    }
    return found;
  }

  private portings(sites: readonly PortSite[], among?: Iterable<LangiumDocument>): Occurrence[] {
    const wanted = new Set(sites.map(keyOf));
    const ids = new Set(sites.map((site) => site.id));
    const found: Occurrence[] = [];
    for (const document of among ?? this.seeing([...new Set(sites.map(({ port }) => AstUtils.getDocument(port)))])) {
      for (const node of AstUtils.streamAst(document.parseResult.value)) {
        for (const mention of portMentions(node)) {
          const hit = mention.ids.some(
            (id) =>
              ids.has(id) &&
              (mention.declares ? declaredHere(mention, id) : sitesOf(mention.model, id, mention.direction)).some((site) =>
                wanted.has(keyOf(site)),
              ),
          );
          if (!hit) continue;
          const { first, last } = mention;
          const range = { start: first.range.start, end: last.range.end };
          found.push({ document, range, text: first.text, declares: mention.declares, spread: first !== last, node });
        }
      }
    }
    return found;
  }
}

export function isDeclaration(node: AstNode): node is Declaration {
  return node.$type === 'Model' || node.$type === 'Gear' || node.$type === 'Performer' || node.$type === 'Source' || node.$type === 'Mix';
}

/** Where a declaration has its name. */
export function nameRange(node: Declaration): Range | undefined {
  return GrammarUtils.findNodeForProperty(node.$cstNode, 'name')?.range;
}

/** The ports of this name that a model has, its own or, where it has none of that direction, its parent's. */
export function sitesOf(model: ast.Model | undefined, id: string, direction: Direction): PortSite[] {
  const found = new Map<string, PortSite>();
  const seen = new Set<ast.Model>();
  for (let at = model; at && !seen.has(at); at = at.parent?.ref) {
    seen.add(at);
    for (const port of at.items) {
      if (port.$type !== 'Port' || found.has(port.direction) || (direction !== 'any' && port.direction !== direction)) continue;
      const written = port.ids.find((range) => idsOf(range).includes(id));
      if (written) found.set(port.direction, { model: at, port, written, id });
    }
  }
  return [...found.values()];
}

export function idsOf(range: ast.PortRange): string[] {
  return portRange(new Context(), range);
}

/** What a site is known by: the same port, however it was come by. */
function keyOf({ written, id }: PortSite): string {
  const document = AstUtils.getDocument(written);
  return `${document.uri.toString()}#${written.$cstNode?.offset ?? 0} ${id}`;
}

function declaredHere({ node }: PortMention, id: string): PortSite[] {
  const written = node as ast.PortRange;
  const port = written.$container as ast.Port;
  return [{ model: port.$container, port, written, id }];
}

/** The ports that a node of the syntax tree names itself. */
export function portMentions(node: AstNode): PortMention[] {
  switch (node.$type) {
    case 'PortRange': {
      const range = node as ast.PortRange;
      const { $container: owner } = range;
      const model = AstUtils.getContainerOfType(range, isModel);
      const declares = owner.$type === 'Port';
      return mention(range, 'first', 'last', idsOf(range), model, declares ? owner.direction : 'input', declares);
    }
    case 'GearPort': {
      const port = node as ast.GearPort;
      const direction = port.$container?.$type === 'Output' ? 'output' : 'input';
      return mention(port, 'first', 'last', spread(new Context(), port, port.first, port.last), port.gear?.ref?.model?.ref, direction);
    }
    case 'Taken': {
      const { target, port } = node as ast.Taken;
      return mention(node, 'port', 'port', port === undefined ? [] : [port], modelOf(target?.ref), 'output');
    }
    case 'Step': {
      const { target, port } = node as ast.Step;
      return mention(node, 'port', 'port', port === undefined ? [] : [port], modelOf(target?.ref), 'any');
    }
    case 'Hears': {
      const { gear, port } = node as ast.Hears;
      return mention(node, 'port', 'port', port === undefined ? [] : [port], modelOf(gear?.ref), 'input');
    }
    case 'Send': {
      const { source, channel } = node as ast.Send;
      return mention(node, 'channel', 'channel', channel === undefined ? [] : [channel], modelOf(source?.ref), 'output');
    }
    case 'Private': {
      const { $container: owner, outputs } = node as ast.Private;
      return outputs.flatMap((id, index) => mention(node, 'outputs', 'outputs', [id], modelOf(owner), 'output', false, index));
    }
    default:
      return [];
  }
}

function mention(
  node: AstNode,
  from: string,
  to: string,
  ids: readonly string[],
  model: ast.Model | undefined,
  direction: Direction,
  declares = false,
  index?: number,
): PortMention[] {
  const first = GrammarUtils.findNodeForProperty(node.$cstNode, from, index);
  if (!first || ids.length === 0) return [];
  const last = GrammarUtils.findNodeForProperty(node.$cstNode, to, index) ?? first;
  return [{ node, ids, first, last: last.offset === first.offset ? first : last, model, direction, declares }];
}

/** The model of what has ports; a mix has none. */
export function modelOf(node: AstNode | undefined): ast.Model | undefined {
  if (node?.$type === 'Model') return node as ast.Model;
  return node?.$type === 'Gear' || node?.$type === 'Source' ? (node as ast.Gear | ast.Source).model?.ref : undefined;
}

function isModel(node: AstNode): node is ast.Model {
  return node.$type === 'Model';
}
