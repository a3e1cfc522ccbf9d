/** Chooses a frequency for each radio set of ours, all at once: clear of each other, of the house's, and of what they make together. */
import type { TextEdit } from 'vscode-languageserver';
import { chooseAll, count, type Fix, isOnAir, isTheirs } from '#engine';
import type { Analysis } from '../../analysis';
import { Curing } from '../edits';
import type { Here, Refactoring } from './here';

/** What the command of the editor asks for. */
export const FREQUENCIES_KIND = 'refactor.rewrite.frequencies';

/** The search may take a second, and an editor asks at every move of the cursor. */
const known = new WeakMap<Analysis, Refactoring[]>();

export function frequencies(here: Here): Refactoring[] {
  const { analysis, statements } = here;
  const { pieces } = analysis.lowered.rig;
  const touched = statements.some((statement) => {
    const id = statement.$type === 'Gear' ? `gear:${statement.name}` : statement.$type === 'Source' ? `source:${statement.name}` : '';
    const piece = pieces.get(id);
    return piece !== undefined && !isTheirs(piece) && isOnAir(piece);
  });
  if (!touched) return [];
  const before = known.get(analysis) ?? chosen(here);
  known.set(analysis, before);
  return before;
}

function chosen({ services, analysis, document }: Here): Refactoring[] {
  const { choices } = chooseAll(analysis.lowered.rig);
  const fixes = choices.flatMap(({ set, nowHz, hz }): Fix[] =>
    hz === undefined || hz === nowHz ? [] : [{ kind: 'set-frequency', piece: set.piece.id, hz }],
  );
  if (fixes.length === 0) return [];
  const curing = new Curing(services, analysis);
  const edits: TextEdit[] = [];
  for (const fix of fixes) {
    const cure = curing.cure(fix);
    const here = cure?.changes[document.uri.toString()];
    // A set that another file has is not to be written into from here.
    if (!here || Object.keys(cure.changes).length > 1) return [];
    edits.push(...here);
  }
  const left = choices.filter(({ hz }) => hz === undefined).length;
  const rest = left > 0 ? `, and ${count(left, 'finds', 'find')} none` : '';
  return [
    {
      title: `Choose clear frequencies for all of ours: move ${count(fixes.length, 'set')}${rest}`,
      kind: FREQUENCIES_KIND,
      edit: { changes: { [document.uri.toString()]: edits } },
    },
  ];
}
