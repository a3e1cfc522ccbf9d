/** The first sheet: what is plugged in where, what leaves, what the house gets, and every lead. */
import { type Checked, decibels, type Finding } from '#engine';
import type { Settings } from '#rig';
import { leadListOf } from '../leads/list';
import { cautions } from '../shared/cautions';
import { contextOf } from '../shared/context';
import type { Draft } from '../shared/draft';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import { houseRows, houseRule } from '../shared/house';
import { inputRows } from '../shared/inputs';
import { leadNumbers } from '../shared/laid';
import type { Counts, HouseRow, InputRow, OutputRow, PatchList } from '../shared/model';
import { withNotes } from '../shared/notes';
import { outputRows } from '../shared/outputs';

/**
 * The patch list of a rig. `findings` are those to show: the engine's, unless there are more, such as those about the text.
 * Pure, and never throws: what is not known yet is left open and said so.
 */
export function patchList(checked: Checked, findings: readonly Finding[] = checked.findings): PatchList {
  const { rig } = checked;
  const context = contextOf(checked);
  const leads = leadListOf(checked);
  const numbers = new Map(leads.map(({ joint, number }) => [joint, number]));
  const numbered = <R extends Draft<InputRow | OutputRow | HouseRow>>(rows: readonly R[]) =>
    rows.map((row) => {
      const at = 'index' in row ? row.index : 0;
      const line = context.linesOf(row.place).find(({ index }) => index === at);
      return { ...row, leads: leadNumbers(context, line, numbers) };
    });
  const inputs = numbered(inputRows(context));
  const outputs = numbered(outputRows(context));
  const house = numbered(houseRows(context));
  return {
    title: titleOf(rig),
    facts: facts(rig.settings),
    gainRule: gainRule(rig.settings),
    houseRule: houseRule(checked),
    houseless: withoutHouse(checked.rig),
    ...withNotes({ inputs, outputs, house, leads }, findings),
    cautions: cautions(
      context,
      leads.map((each) => each.row),
    ),
    counts: counts(findings),
  };
}

export function gainRule({ headroomDb, marginDb }: Settings): string {
  return `Gains that the rig does not state leave ${decibels(headroomDb)} above the usual level or ${decibels(marginDb)} above the loudest peak, whichever is less gain: a start.`;
}

export function counts(findings: readonly Finding[]): Counts {
  const counted = { danger: 0, error: 0, warning: 0, note: 0, allowed: 0 };
  for (const { allowed, severity } of findings) counted[allowed === undefined ? severity : 'allowed']++;
  return counted;
}
