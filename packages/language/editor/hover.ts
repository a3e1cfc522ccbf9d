/** Hovers: what a name, a port, a figure or a word of the language stands for. */
import { type AstNode, AstUtils, type LangiumDocument } from 'langium';
import type { HoverProvider } from 'langium/lsp';
import type { Hover, HoverParams } from 'vscode-languageserver';
import { exampleText, type Lengths } from '#engine';
import { canonicalUnit, type Model, type Piece, type Port, spokenUnit } from '#rig';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import type { Declaration } from '../symbols';
import { numberOf } from '../syntax/values';
import { allowedThere } from './allowing';
import { commentAbove } from './comments';
import {
  describeGear,
  describeHouse,
  describeMix,
  describeModel,
  describeModelPort,
  describePerformer,
  describePort,
  describeSource,
} from './describe';
import { sendText } from './hearing';
import { code, paragraphs } from './markdown';
import { meaningOf } from './meanings';
import { otherUnits } from './quantities';
import type { RigEditorServices } from './services';
import { summaryOf } from './summary';
import { modelOf, type Pointed, type PortSite } from './things';
import { type Under, under } from './under';
import { wordAt } from './words';

export class RigHoverProvider implements HoverProvider {
  constructor(private readonly services: RigEditorServices) {}

  getHoverContent(document: LangiumDocument, params: HoverParams): Hover | undefined {
    const found = under(document, params.position);
    if (!found) {
      const allowed = allowedThere(this.services.rig.Analyser, document, document.textDocument.offsetAt(params.position));
      return allowed && hover(allowed.says, allowed.range);
    }
    const quantity = isQuantity(found.node) ? found.node : undefined;
    if (quantity && !found.keyword) return hover(this.quantity(document, quantity), quantity.$cstNode?.range ?? found.range);
    const pointed = this.services.editor.Things.pointed(found);
    if (pointed) return hover(this.thing(document, pointed), pointed.range);
    const line = this.houseLine(document, found);
    if (line) return hover(line, found.range);
    const channel = this.mixSide(found);
    if (channel) return hover(channel, found.range);
    const said = found.keyword && word(found.keyword, this.services.rig.Analyser.of(document).lowered.rig.settings);
    const all = isTitle(found) ? summaryOf(this.services.rig.Analyser.of(document))?.text : undefined;
    return hover(paragraphs(all, said, said && startsStatement(found) ? this.toLanguage() : undefined), found.range);
  }

  /** A link to every other word. What a user wrote is never a link (`plain`). */
  private toLanguage(): string | undefined {
    const { openLanguage } = this.services.editor.Settings.commands;
    return openLanguage && `[All words on one page](command:${openLanguage})`;
  }

  // ---- things ------------------------------------------------------------------------------------

  private thing(document: LangiumDocument, { thing, under: { node } }: Pointed): string | undefined {
    const analysis = this.services.rig.Analyser.of(document);
    const said = thing.kind === 'declared' ? this.declared(analysis, thing.node) : this.port(analysis, node, thing.sites, thing.ids);
    return said && paragraphs(this.send(analysis, node), said);
  }

  /** What a source is worth in the mix that it is named in. */
  private send({ lowered, checked }: Analysis, node: AstNode): string | undefined {
    if (node.$type !== 'Send' || !checked) return undefined;
    const levels = checked.buses.of(`mix:${(node as ast.Send).$container.name}`);
    const send = levels?.mix.sends.find(({ place }) => lowered.marks.markOf(place)?.node === node);
    return levels && send && sendText(levels, send);
  }

  private declared(analysis: Analysis, node: Declaration): string | undefined {
    const { rig } = analysis.lowered;
    const { name } = node;
    switch (node.$type) {
      case 'Source': {
        const source = rig.sources.get(`source:${name}`);
        return source && describeSource(analysis, source);
      }
      case 'Gear': {
        const piece = rig.pieces.get(`gear:${name}`);
        return piece && describeGear(analysis, piece);
      }
      case 'Performer': {
        const performer = rig.performers.get(`performer:${name}`);
        return performer && describePerformer(analysis, performer);
      }
      case 'Mix': {
        const mix = rig.mixes.get(`mix:${name}`);
        return mix && describeMix(analysis, mix);
      }
      case 'Model':
        return describeModel(this.services.editor.Shelf.of(node), commentAbove(node), rig.settings);
    }
  }

  /** `node` is where the port is written: in a run, at a pack, in a mix, or in a model. */
  private port(analysis: Analysis, node: AstNode, sites: readonly PortSite[], ids: readonly string[]): string | undefined {
    const piece = pieceAt(analysis, node);
    const ports = sites.flatMap((site): Port[] => {
      const model = piece?.model ?? this.services.editor.Shelf.of(site.model);
      return model.ports.filter((port) => port.id === site.id && port.direction === site.port.direction);
    });
    // Ports that are declared together are alike: the first speaks for all.
    const [first, second] = ports;
    if (!first) return undefined;
    if (!piece) return describeModelPort(this.modelOf(node) ?? this.services.editor.Shelf.of((sites[0] as PortSite).model), first);
    const described = describePort(analysis, piece, first);
    return second && second.id === first.id && ids.length === 1 ? paragraphs(described, describePort(analysis, piece, second)) : described;
  }

  private modelOf(node: AstNode): Model | undefined {
    const step = node.$type === 'Step' ? modelOf((node as ast.Step).target?.ref) : undefined;
    return step && this.services.editor.Shelf.of(step);
  }

  /** `mix.left` names a side of a mix, which no model declares. */
  private mixSide({ node, property }: Under): string | undefined {
    if (node.$type !== 'Taken' || property !== 'port') return undefined;
    const target = (node as ast.Taken).target?.ref;
    if (target?.$type !== 'Mix') return undefined;
    const document = AstUtils.getDocument(node);
    return this.declared(this.services.rig.Analyser.of(document), target);
  }

  /** The number and the label of a line of the house's stand for the line. */
  private houseLine(document: LangiumDocument, { node, property }: Under): string | undefined {
    if (node.$type !== 'House' || (property !== 'number' && property !== 'label')) return undefined;
    const analysis = this.services.rig.Analyser.of(document);
    const { rig, marks } = analysis.lowered;
    const run = rig.house.find((each) => marks.markOf(each.place)?.node === node);
    return run && describeHouse(analysis, run);
  }

  // ---- figures -----------------------------------------------------------------------------------

  private quantity(document: LangiumDocument, node: ast.Quantity | ast.Range | ast.Percent): string | undefined {
    if (node.$type === 'Percent')
      return node.value === undefined ? undefined : `${code(`${node.value} %`)} from the middle: 100 % is all the way to that side`;
    if (node.unit === undefined) return undefined;
    const analysis = this.services.rig.Analyser.of(document);
    const { settings } = analysis.lowered.rig;
    const beside = { rateHz: settings.rateHz, impedanceOhm: impedanceBeside(node) };
    const written = node.$type === 'Range' ? [node.low, node.high] : [node.value];
    const lines = written.flatMap((value) => {
      const others = value === undefined ? [] : otherUnits(numberOf(value), node.unit, beside);
      return others.length === 0
        ? []
        : [`${code(`${value} ${spokenUnit(canonicalUnit(node.unit) ?? node.unit)}`)} = ${others.join(' = ')}`];
    });
    return paragraphs(...lines, meaningOf(analysis, node)) || undefined;
  }
}

/** The word `rig`, or the title behind it: it stands for the whole. */
function isTitle({ node, property, keyword }: Under): boolean {
  return node.$type === 'Header' && (keyword?.rule === 'Header' || property === 'label');
}

function startsStatement({ keyword, leaf, node }: Under): boolean {
  return keyword !== undefined && node.$container?.$type === 'RigFile' && node.$cstNode?.offset === leaf.offset;
}

function isQuantity(node: AstNode): node is ast.Quantity | ast.Range | ast.Percent {
  return node.$type === 'Quantity' || node.$type === 'Range' || node.$type === 'Percent';
}

/** Of the mode that a sensitivity is written in. */
function impedanceBeside(node: AstNode): number | undefined {
  const mode = AstUtils.getContainerOfType(node, (each): each is ast.Mode => each.$type === 'Mode');
  const figure = mode?.figures.find((each): each is ast.Impedance => each.$type === 'Impedance');
  if (figure?.quantity?.value === undefined) return undefined;
  const scale = { ohm: 1, kohm: 1000 }[figure.quantity.unit];
  return scale === undefined ? undefined : numberOf(figure.quantity.value) * scale;
}

/** The real thing that a port is written of. */
function pieceAt(analysis: Analysis, node: AstNode): Piece | undefined {
  const { pieces } = analysis.lowered.rig;
  const named = (target: AstNode | undefined) => {
    const { name } = (target ?? {}) as { name?: string };
    if (target?.$type === 'Gear') return pieces.get(`gear:${name}`);
    return target?.$type === 'Source' ? pieces.get(`source:${name}`) : undefined;
  };
  switch (node.$type) {
    case 'GearPort':
      return named((node as ast.GearPort).gear?.ref);
    case 'Hears':
      return named((node as ast.Hears).gear?.ref);
    case 'Taken':
      return named((node as ast.Taken).target?.ref);
    case 'Send':
      return named((node as ast.Send).source?.ref);
    case 'Step': {
      const own = named((node as ast.Step).target?.ref);
      if (own) return own;
      // A fresh piece is known by its place.
      for (const [place, mark] of analysis.lowered.marks.entries()) if (mark.node === node) return pieces.get(place);
      return undefined;
    }
    default:
      return undefined;
  }
}

function word({ word, rule }: { word: string; rule: string }, lengths: Lengths): string | undefined {
  const found = wordAt(rule, word);
  return found && `**${word}** · ${found.says}\n\n${code(exampleText(found.example, lengths))}`;
}

function hover(value: string | undefined, range: Hover['range']): Hover | undefined {
  return value === undefined || value === '' ? undefined : { contents: { kind: 'markdown', value }, range };
}
