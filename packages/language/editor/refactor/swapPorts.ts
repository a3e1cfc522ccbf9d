/** Lets two lines change ports: what they take, their boxes, their gain and their comments stay where they are. */
import { GrammarUtils } from 'langium';
import type { Finding } from '#engine';
import type * as ast from '../../generated/ast';
import { analyseWith, canTry, isWorse } from '../trial';
import { groupOf } from './group';
import type { Here, Refactoring } from './here';

type Plugged = ast.Input | ast.Output;

export function swapPorts(here: Here): Refactoring[] {
  const [first, second, third] = here.statements;
  if (first && second && !third) return swap(here, first, second);
  const { statement } = here;
  if (!statement || here.start !== here.end) return [];
  const group = groupOf(here, statement).map((each) => each.statement);
  const at = group.indexOf(statement);
  return [group[at - 1], group[at + 1]].flatMap((other) => (other ? swap(here, statement, other) : []));
}

function swap(here: Here, one: ast.Statement, other: ast.Statement): Refactoring[] {
  if (!isPlugged(one) || !isPlugged(other) || one.$type !== other.$type || !here.isSound(other)) return [];
  const [port, otherPort] = [portOf(here, one), portOf(here, other)];
  if (!port || !otherPort || port.count !== otherPort.count || port.text === otherPort.text) return [];
  const edits = [here.layout.replace(port.start, port.end, otherPort.text), here.layout.replace(otherPort.start, otherPort.end, port.text)];
  if (!canTry(here.document) || isWorse(analyseWith(here.services, here.document, edits), here.analysis, cannotWork)) return [];
  return [
    {
      title: `Swap the ports of ${signalOf(one)} (${port.text}) and ${signalOf(other)} (${otherPort.text})`,
      kind: 'refactor.rewrite.swap',
      edit: { changes: { [here.document.uri.toString()]: edits } },
    },
  ];
}

/** A gain that is to be set anew is worth a swap; what cannot work or does harm is not. */
function cannotWork({ severity }: Finding): boolean {
  return severity === 'danger' || severity === 'error';
}

function isPlugged(statement: ast.Statement): statement is Plugged {
  return statement.$type === 'Input' || statement.$type === 'Output';
}

/** A port as it is written, and how many it stands for. */
function portOf(here: Here, statement: Plugged): { start: number; end: number; text: string; count: number } | undefined {
  const cst = GrammarUtils.findNodeForProperty(statement.$cstNode, 'port');
  const place = here.placeOf(statement);
  const { inputs, outputs } = here.analysis.lowered.rig;
  const run = inputs.find(({ id }) => id === place)?.to ?? outputs.find(({ id }) => id === place)?.from;
  if (!cst || !run || run.piece === '' || cst.text.includes('#')) return undefined;
  return { start: cst.offset, end: cst.end, text: cst.text, count: run.ports.length };
}

function signalOf(statement: Plugged): string {
  const reference = statement.$type === 'Output' ? statement.mix : statement.taken?.target;
  return reference?.ref?.label ?? reference?.$refText ?? 'one';
}
