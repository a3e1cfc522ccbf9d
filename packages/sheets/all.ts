/** Every sheet there is, and how each is made. */
import type { Checked, Finding } from '#engine';
import { earsSheet } from './ears/sheet';
import { bounded, failedSheet } from './failed';
import { houseSheet } from './house/sheet';
import { ifItFailsSheet } from './if-it-fails/sheet';
import { leadsSheet } from './leads/sheet';
import { levelsSheet } from './levels/sheet';
import { mixesSheet } from './mixes/sheet';
import { packDownSheet } from './pack-down/sheet';
import { patchSheet } from './patch-list/sheet';
import { radioSheet } from './radio/sheet';
import { setUpSheet } from './set-up/sheet';
import { nightOf, titleOf } from './shared/facts';
import { finished } from './shared/finish';
import { drafted, warned } from './shared/grave';
import { inItsWords, toldApart } from './shared/toldApart';
import { SHEET_IDS, SHEET_NAMES, type Sheet, type SheetId } from './sheet';
import { shoppingSheet } from './shopping/sheet';
import { type FlowOptions, signalFlowSheet } from './signal-flow/sheet';
import { stageSheet } from './stage/sheet';

/** For sheets that take time. */
export type SheetOptions = FlowOptions;

/** Pure: what is not known yet is left open and said so. A promise where a library lays something out. */
type Builder = (checked: Checked, findings: readonly Finding[], options: SheetOptions) => Sheet | Promise<Sheet>;

const BUILDERS: Readonly<Record<SheetId, Builder>> = {
  'patch-list': patchSheet,
  mixes: mixesSheet,
  leads: leadsSheet,
  house: houseSheet,
  stage: stageSheet,
  'signal-flow': signalFlowSheet,
  levels: levelsSheet,
  radio: radioSheet,
  ears: earsSheet,
  shopping: shoppingSheet,
  'set-up': setUpSheet,
  'if-it-fails': ifItFailsSheet,
  'pack-down': packDownSheet,
};

/**
 * One sheet: at once, or later where it has to be laid out first. `findings` are those to show: the engine's, unless there are
 * more, such as those about the text. One that fails says so in its place, and the others are made: it throws, or rejects, only where
 * `options.signal` says that nobody waits.
 */
export function sheetOf(
  id: SheetId,
  checked: Checked,
  findings: readonly Finding[] = checked.findings,
  options: SheetOptions = {},
): Sheet | Promise<Sheet> {
  const nightly = (sheet: Sheet) => ({ ...sheet, facts: [...nightOf(checked.rig), ...sheet.facts] });
  const whole = (sheet: Sheet) => finished(bounded(warned(drafted(nightly(sheet), findings, checked), findings)), checked.rig);
  const failed = (problem: unknown): Sheet => {
    // Nobody wants it any more.
    if (options.signal?.aborted) throw problem;
    return failedSheet({ id, name: SHEET_NAMES[id], title: titleOf(checked.rig) }, problem);
  };
  try {
    const told = toldApart(checked);
    const made = BUILDERS[id](told, inItsWords(findings, told), options);
    return made instanceof Promise ? made.then(whole).catch(failed) : whole(made);
  } catch (problem) {
    return failed(problem);
  }
}

/** These sheets, or all there are, in the order in which they are shown, bound and printed. */
export async function sheetsOf(
  checked: Checked,
  findings: readonly Finding[] = checked.findings,
  ids: readonly SheetId[] = SHEET_IDS,
  options: SheetOptions = {},
): Promise<Sheet[]> {
  const sheets: Sheet[] = [];
  for (const id of SHEET_IDS) if (ids.includes(id)) sheets.push(await sheetOf(id, checked, findings, options));
  return sheets;
}
