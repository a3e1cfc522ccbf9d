/** Digital gear that cannot all run by one clock. */
import { clocksOf } from '../solve/clock';
import type { Network } from '../solve/network';
import { type Finding, finding } from './finding';

export function clock(net: Network): Finding[] {
  return clocksOf(net).flatMap(({ master, others }) => {
    const [first, ...more] = others;
    if (!first) return [];
    const run = first.by.runs[0];
    return [
      finding(
        'clock/two-masters',
        run ? `${run.id}/takes` : first.piece.place,
        {
          master: master.label,
          others: others.map(({ piece }) => piece.label),
          receiver: first.by.to.piece.label,
          rateHz: net.rig.settings.rateHz,
        },
        {
          about: [master.id, ...more.map(({ piece }) => piece.id)],
          related: [master, ...others.map(({ piece }) => piece)].map((piece) => ({
            place: piece.place,
            says: `${piece.label} keeps a time of its own`,
          })),
        },
      ),
    ];
  });
}
