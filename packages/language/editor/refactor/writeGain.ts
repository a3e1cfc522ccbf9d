/** Writes down the gain to set, on one line or on all that have none. */
import type { TextEdit } from 'vscode-languageserver';
import { decibels, type Line } from '#engine';
import type { InputRun } from '#rig';
import type { Analysis } from '../../analysis';
import type * as ast from '../../generated/ast';
import { settingsAt } from '../gainToSet';
import type { Here, Refactoring } from './here';

interface Missing {
  readonly statement: ast.Input;
  readonly text: string;
}

const known = new WeakMap<Analysis, readonly Missing[]>();

export function writeGain(here: Here): Refactoring[] {
  const chosen = here.statements.filter((statement): statement is ast.Input => statement.$type === 'Input');
  if (chosen.length === 0 || chosen.length < here.statements.length) return [];
  const all = known.get(here.analysis) ?? missing(here);
  known.set(here.analysis, all);
  const some = all.filter(({ statement }) => chosen.includes(statement));
  const offers: Refactoring[] = [];
  const offer = (title: string, lines: readonly Missing[]) => {
    const edits = written(here, lines);
    if (edits.length > 0)
      offers.push({ title, kind: 'refactor.rewrite.gain', edit: { changes: { [here.document.uri.toString()]: edits } } });
  };
  if (some.length === 1) offer(`Write down the gain to set: ${some[0]?.text}`, some);
  else if (some.length > 1) offer(`Write down the gain to set on ${some.length === 2 ? 'both lines' : `these ${some.length} lines`}`, some);
  if (all.length > some.length && some.length > 0)
    offer(`Write down the gain to set on ${all.length === 2 ? 'both' : `all ${all.length}`} lines that have none`, all);
  return offers;
}

/** The inputs that say no gain and whose device has a knob for it. */
function missing(here: Here): Missing[] {
  const { checked } = here.analysis;
  if (!checked) return [];
  const lines = new Map<unknown, Line[]>();
  for (const line of checked.network.lines) {
    const before = lines.get(line.run);
    if (before) before.push(line);
    else lines.set(line.run, [line]);
  }
  const runs = new Map<string, InputRun>(checked.rig.inputs.map((run) => [run.id, run]));
  return here.file.statements.flatMap((statement) => {
    if (statement.$type !== 'Input' || !here.isSound(statement) || statement.clauses.some(({ $type }) => $type === 'SetGain')) return [];
    const run = runs.get(here.placeOf(statement));
    const setting = run && settingsAt(checked, run, lines.get(run) ?? [])[0];
    return setting?.range ? [{ statement, text: `gain ${decibels(setting.gainDb)}` }] : [];
  });
}

function written(here: Here, lines: readonly Missing[]): TextEdit[] {
  const nodes = lines.flatMap(({ statement, text }) => {
    const after = statement.$cstNode?.end;
    return after === undefined ? [] : [{ node: statement, after, newText: text }];
  });
  return here.layout.appendAll(nodes, 'gain');
}
