/** A line of gear for a piece that had no name: what it is called, where it lies, and its name in the step. */
import { type AstNode, CstUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import { capital, listeners, placed, socket } from '#engine';
import type { Piece } from '#rig';
import type { Analysis } from '../../analysis';
import type * as ast from '../../generated/ast';
import { LABEL, type Layout } from '../../layout';
import type { RigEditorServices } from '../services';
import { viaOf } from './here';
import { freeName, shortOf } from './names';

/** What a model is, without its sizes: the "Pad" of "Pad, 20 dB". */
export function kindOf({ label, name }: ast.Model): string {
  return (label ?? name).split(',')[0]?.replace(/^the /i, '') ?? name;
}

export interface Named {
  readonly name: string;
  readonly label: string;
}

/** After what goes through it: `voice-di`, "Voice DI". */
export function nameFor(services: RigEditorServices, step: ast.Step, statement: ast.Statement): Named {
  const short = shortOf(step.target?.ref as ast.Model);
  const carried =
    statement.$type === 'Output'
      ? statement.mix
      : statement.$type === 'Input' || statement.$type === 'House'
        ? statement.taken?.target
        : undefined;
  const of = carried?.ref;
  const name = freeName(services, of ? `${of.name}-${short.name}` : `my-${short.name}`);
  return { name, label: of ? `${of.label ?? capital(of.name)} ${short.label}` : capital(short.label) };
}

/** The step with another name, its port as it was. */
export function rename(layout: Layout, step: ast.Step, name: string): TextEdit | undefined {
  const [whole, target] = [step.$cstNode, step.target?.$refNode];
  return whole && target && layout.replace(whole.offset, whole.end, `${name}${whole.text.slice(target.end - whole.offset)}`);
}

/** A new line of gear, beside the gear that is most like it. */
export function gearLine(layout: Layout, file: ast.RigFile, { name, label }: Named, model: ast.Model, at: string | undefined): TextEdit {
  const gear = file.statements.filter((statement): statement is ast.Gear => statement.$type === 'Gear');
  const inLines = new Set<AstNode | undefined>(
    file.statements.flatMap((statement) => viaOf(statement)?.steps.map((step) => step.target?.ref) ?? []),
  );
  const beside = gear.findLast((each) => each.model?.ref === model) ?? gear.findLast((each) => inLines.has(each));
  return layout.add(
    'Gear',
    [
      { word: '', text: `gear ${name}` },
      { word: LABEL, text: `"${label.replace(/["\u201C\u201D]/g, '')}"` },
      { word: 'is', text: `is ${model.name}` },
      ...(at === undefined ? [] : [{ word: 'at', text: at }]),
    ],
    beside,
  );
}

/**
 * An unnamed piece lies with who listens to it, or where its signal comes from; once it has a name it lies where it is written to. Gives
 * the words for that, as they are written at the listener or at what feeds it.
 */
export function whereFrom(analysis: Analysis, piece: Piece): string | undefined {
  const { checked, lowered } = analysis;
  if (!checked) return undefined;
  const heard = listeners(checked.network);
  if (heard.has(piece.id)) {
    const listener = heard.get(piece.id);
    return listener && atOf(lowered.marks.markOf(listener.place)?.node);
  }
  const feeder = feederOf(analysis, piece);
  if (!feeder || !placed(checked.rig, feeder)) return undefined;
  const people = [lowered.rig.sources.get(feeder.id)?.by, feeder.for[0]];
  for (const place of [feeder.place, ...people]) {
    const clause = place && atOf(lowered.marks.markOf(place)?.node);
    if (clause) return clause;
  }
  return undefined;
}

/** What a piece is plugged into, as far back as pieces have no name. */
export function feederOf({ checked }: Analysis, piece: Piece): Piece | undefined {
  let at: Piece | undefined = piece;
  const seen = new Set<Piece>();
  do {
    if (seen.has(at)) return undefined;
    seen.add(at);
    const from: Piece = at;
    at = from.model.ports.flatMap((port) => checked?.network.entering.get(socket(from, port).key) ?? [])[0]?.from.piece;
  } while (at?.kind === 'fresh');
  return at;
}

function atOf(node: AstNode | undefined): string | undefined {
  const clauses = (node as Partial<ast.Gear> | undefined)?.clauses ?? (node as Partial<ast.House> | undefined)?.facts;
  const cst = clauses?.findLast((clause) => clause.$type === 'At')?.$cstNode;
  if (!cst) return undefined;
  // On one line, whatever it was on, and without a comment that stood between or a decimal comma.
  return CstUtils.flattenCst(cst)
    .filter((leaf) => !leaf.hidden)
    .toArray()
    .reduce((text, { text: word }) => (text === '' || word === ',' ? `${text}${word}` : `${text} ${word}`), '')
    .replace(/(\d),(?=\d)/g, '$1.');
}
