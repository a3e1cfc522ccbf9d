/** Who keeps the time of everything digital, and who is set to follow: once all is on, before phantom power. */
import { clocksOf, hertz, socketName } from '#engine';
import type { Context } from '../shared/context';
import { about } from '../shared/draft';
import { tableRow } from '../shared/tableRow';
import type { TableBlock } from '../sheet';
import { stepTable } from './table';

/** Nothing where no digital lead joins two things. */
export function clockTable({ checked: { network, rig } }: Context): TableBlock[] {
  const rate = hertz(rig.settings.rateHz);
  const rows = clocksOf(network).flatMap(({ master, follows }) => [
    tableRow(`keeps ${master.id}`, [master.label, `its own clock, ${rate}`, 'keeps the time'], { place: master.place }),
    ...follows.map(({ piece, by }) =>
      tableRow(`follows ${piece.id}`, [piece.label, `clock from ${by.to.port.id}, ${rate}`, `follows ${socketName(by.from)}`], {
        place: piece.place,
        about: about(piece.place, by.from.piece.place),
      }),
    ),
  ]);
  if (rows.length === 0) return [];
  return [
    stepTable({
      id: 'clock',
      title: 'Clock',
      columns: ['On', 'Set', 'Why'],
      rows,
      empty: '',
      remark:
        'One keeps the time and the others follow; the computer follows what it is plugged into. All at one rate, or it clicks and drops out.',
    }),
  ];
}
