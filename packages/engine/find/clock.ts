/** Digital gear that cannot all run by one clock. */
import { clocksOf, commonRates, withoutRate } from '../solve/clock';
import type { Network } from '../solve/network';
import { type Finding, finding } from './finding';

export function clock(net: Network): Finding[] {
  return [...rates(net), ...masters(net)];
}

/** One rate for all: told once, at the rate where that is written. */
function rates(net: Network): Finding[] {
  const { rig, kept } = net;
  const without = kept.once('no such rate', undefined, [rig.pieces, rig.settings], () => withoutRate(net));
  const [first] = without;
  if (!first) return [];
  const { rateHz, rateSaid } = net.rig.settings;
  const common = commonRates(net);
  const fixes = common.map((rate) => ({ kind: 'rewrite', place: 'rig/rate', with: `rate ${rate / 1000} kHz` }) as const);
  return [
    finding(
      'clock/no-such-rate',
      rateSaid ? 'rig/rate' : first.place,
      { what: [...new Set(without.map(({ label }) => label))], rateHz, rates: first.model.ratesHz ?? [], common },
      {
        about: without.map(({ id }) => id),
        related: without.map(({ place, label }) => ({ place, says: `${label} has no such rate` })),
        fixes: rateSaid ? fixes : [],
      },
    ),
  ];
}

function masters(net: Network): Finding[] {
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
