/** Setting up and line check, in the order in which it is fastest to do and nobody walks twice. */
import type { Checked, Finding } from '#engine';
import { cablesOf } from './cableList';
import { cautions } from './cautions';
import { contextOf } from './context';
import { facts, titleOf, withoutHouse } from './facts';
import { type Block, SHEET_NAMES, type Sheet } from './sheet';
import { areasOf } from './steps/areas';
import { limiterTable, lineCheckTable, mixTable, radioTable } from './steps/checks';
import { placeTable, powerTable, switchOnTable } from './steps/place';
import { gainTable, phantomTable } from './steps/powerUp';
import { forbiddenTable, houseTable, leadTable } from './steps/walks';
import { CAUTIONS } from './titles';

/** Shows no findings. Pure, and never throws: what is not known yet is left out, or said to be unknown. */
export function setUpSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const cables = cablesOf(checked, context);
  const areas = areasOf(context);
  const care = cautions(
    context,
    cables.map(({ row }) => row),
  );
  const blocks: Block[] = [
    placeTable(areas),
    powerTable(context, areas),
    ...forbiddenTable(cables),
    leadTable(cables, areas),
    ...(withoutHouse(rig) ? [] : [houseTable(context, cables)]),
    switchOnTable(checked, areas),
    phantomTable(context),
    gainTable(context),
    lineCheckTable(context),
    limiterTable(context),
    mixTable(context),
    radioTable(context),
  ];
  if (care.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: care });
  return {
    id: 'set-up',
    name: SHEET_NAMES['set-up'],
    title: titleOf(rig),
    facts: facts(rig.settings),
    blocks: rig.pieces.size + rig.mixes.size > 0 ? blocks : [],
  };
}
