/** The first sheet: what is plugged in where, what leaves, what the house gets, and every lead. */
import { type Checked, decibels, type Finding } from '#engine';
import type { Settings } from '#rig';
import { cautions } from '../shared/cautions';
import { contextOf } from '../shared/context';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import { houseRows, houseRule } from '../shared/house';
import { inputRows } from '../shared/inputs';
import { laidLeads } from '../shared/laid';
import { packing } from '../shared/leads';
import type { Counts, PatchList } from '../shared/model';
import { withNotes } from '../shared/notes';
import { outputRows } from '../shared/outputs';

/**
 * The patch list of a rig. `findings` are those to show: the engine's, unless there are more, such as those about the text.
 * Pure, and never throws: what is not known yet is left open and said so.
 */
export function patchList(checked: Checked, findings: readonly Finding[] = checked.findings): PatchList {
  const { rig } = checked;
  const context = contextOf(checked);
  const inputs = inputRows(context);
  const outputs = outputRows(context);
  const house = houseRows(context);
  const leads = laidLeads(context, [...inputs, ...house, ...outputs]);
  return {
    title: titleOf(rig),
    facts: facts(rig.settings),
    gainRule: gainRule(rig.settings),
    houseRule: houseRule(checked),
    houseless: withoutHouse(checked.rig),
    ...withNotes({ inputs, outputs, house, leads }, findings),
    packing: packing(leads),
    cautions: cautions(
      context,
      leads.map((each) => each.row),
    ),
    counts: counts(findings),
  };
}

export function gainRule({ headroomDb, marginDb }: Settings): string {
  return `Gains that the rig does not state leave ${decibels(headroomDb)} above the usual level and ${decibels(marginDb)} above the loudest peak, whichever asks for less gain. They are a start: listen at the loudest moment of the sound check.`;
}

export function counts(findings: readonly Finding[]): Counts {
  const counted = { danger: 0, error: 0, warning: 0, note: 0, allowed: 0 };
  for (const { allowed, severity } of findings) counted[allowed === undefined ? severity : 'allowed']++;
  return counted;
}
