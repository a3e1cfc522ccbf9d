/** Names for the unnamed boxes of a line of several channels, one for each channel: the line becomes a line for each of them. */
import { type CstNode, GrammarUtils } from 'langium';
import { freshId } from '#rig';
import type * as ast from '../../generated/ast';
import { analyseWith, canTry, isWorse } from '../trial';
import { type Here, type Refactoring, viaOf } from './here';
import { freeName, shortOf } from './names';
import { gearLine, kindOf, whereFrom } from './newGear';

interface Written {
  readonly cst: CstNode;
  readonly text: string;
}

export function nameEach(here: Here, statement: ast.Statement, step: ast.Step, place: string): Refactoring[] {
  const { checked } = here.analysis;
  const model = step.target?.ref;
  const whole = statement.$cstNode;
  if (
    statement.$type !== 'Input' ||
    model?.$type !== 'Model' ||
    !whole ||
    !checked ||
    /[#\r\n]/.test(whole.text) ||
    !here.linesOf(statement) ||
    !canTry(here.document)
  )
    return [];
  const source = statement.taken?.target?.ref;
  // Gear with a name in the same line may take both channels; which goes where is not for us to say.
  const alone = viaOf(statement)?.steps.every((each) => each === step || each.target?.ref?.$type === 'Model');
  if (source?.$type !== 'Source' || statement.taken.port !== undefined || !alone) return [];
  const run = checked.rig.inputs.find(({ id }) => id === here.placeOf(statement));
  const channels = checked.network.lines.filter((line) => line.run === run).flatMap(({ channel }) => channel ?? []);
  const [port, taken, gone] = [statement.port.$cstNode, statement.taken.$cstNode, step.$cstNode];
  if (!run || !port || !taken || !gone || channels.length !== run.to.ports.length || new Set(channels).size < channels.length) return [];
  const short = shortOf(model);
  const device = GrammarUtils.findNodeForProperty(port, 'gear')?.text ?? '';
  const names = channels.map((channel) => freeName(here.services, `${source.name}-${channel}-${short.name}`));
  const lines = channels.map((channel, index) =>
    written(whole, [
      { cst: port, text: `${device}.${run.to.ports[index]}` },
      { cst: taken, text: `${source.name}.${channel}` },
      { cst: gone, text: `${names[index]}${step.port === undefined ? '' : `.${step.port}`}` },
    ]),
  );
  const { layout } = here;
  const lineEnd = layout.lineEnd(whole.end);
  const indent = layout.text.slice(layout.lineStart(whole.offset), whole.offset);
  const gear = channels.flatMap((channel, index) => {
    const piece = checked.rig.pieces.get(freshId(place, index));
    const label = `${source.label ?? source.name} ${channel} ${short.label}`;
    return piece ? [gearLine(layout, here.file, { name: names[index] ?? '', label }, model, whereFrom(here.analysis, piece))] : [];
  });
  const edits = [
    ...gear,
    layout.edit(whole.offset, whole.end, lines[0] ?? ''),
    layout.edit(
      lineEnd,
      lineEnd,
      lines
        .slice(1)
        .map((line) => `${layout.newline}${indent}${line}`)
        .join(''),
    ),
  ];
  if (gear.length < channels.length || isWorse(analyseWith(here.services, here.document, edits), here.analysis)) return [];
  return [
    {
      title: `Give each ${kindOf(model)} a name and a line: ${names.join(', ')}`,
      kind: 'refactor.extract.gear',
      edit: { changes: { [here.document.uri.toString()]: edits } },
    },
  ];
}

/** A statement with other words in some places; what stands in columns behind them stays there where there is room. */
function written(whole: CstNode, parts: readonly Written[]): string {
  let text = '';
  let at = whole.offset;
  for (const part of parts.toSorted((a, b) => a.cst.offset - b.cst.offset)) {
    text += whole.text.slice(at - whole.offset, part.cst.offset - whole.offset) + part.text;
    at = part.cst.end;
    const gap = /^ {2,}/.exec(whole.text.slice(at - whole.offset))?.[0].length ?? 0;
    if (gap === 0) continue;
    const left = gap - (part.text.length - part.cst.text.length);
    text += ' '.repeat(left < 1 ? 2 : left);
    at += gap;
  }
  return text + whole.text.slice(at - whole.offset);
}
