/** Setting up and line check, in the order in which it is fastest to do and nobody walks twice. */
import type { Checked, Finding } from '#engine';
import { leadListOf } from '../leads/list';
import { cautions } from '../shared/cautions';
import { contextOf } from '../shared/context';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import { CAUTIONS } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet } from '../sheet';
import { areasOf } from './areas';
import { houseCheckTable, limiterTable, lineCheckTable, mixTable, radioTable } from './checks';
import { withoutHarm } from './held';
import { placeTable, powerTable, switchOnTable } from './place';
import { gainTable, phantomTable } from './powerUp';
import { switchTable } from './switches';
import { numberedOn } from './table';
import { forbiddenTable, houseTable, leadTable, muteTable } from './walks';

/** Shows no findings. Pure, and never throws: what is not known yet is left out, or said to be unknown. */
export function setUpSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const leadList = leadListOf(checked);
  const areas = areasOf(context);
  const care = cautions(
    context,
    leadList.map(({ row }) => row),
  );
  const steps: Block[] = [
    placeTable(areas, rig.settings),
    powerTable(context, areas),
    ...forbiddenTable(leadList),
    ...(withoutHouse(rig) ? [] : muteTable(context, leadList)),
    leadTable(context, leadList, areas),
    ...(withoutHouse(rig) ? [] : [houseTable(context, leadList)]),
    ...houseCheckTable(context, false),
    switchOnTable(checked, areas),
    ...switchTable(context, areas),
    phantomTable(context),
    gainTable(context),
    radioTable(context),
    lineCheckTable(context),
    ...houseCheckTable(context, true),
    limiterTable(context),
    mixTable(context),
  ];
  const blocks = numberedOn(withoutHarm(context, steps));
  if (care.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: care });
  return {
    id: 'set-up',
    name: SHEET_NAMES['set-up'],
    title: titleOf(rig),
    facts: facts(rig.settings),
    blocks: rig.pieces.size + rig.mixes.size > 0 ? blocks : [],
  };
}
