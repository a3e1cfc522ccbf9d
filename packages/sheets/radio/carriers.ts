/** Each carrier with who uses it, what it can be tuned to, what the place says of it, and what is nearest. */
import {
  type Coordination,
  decibels,
  guardOf,
  hertz,
  hits,
  list,
  type OnAir,
  productFormula,
  type RadioRange,
  type Transmission,
} from '#engine';
import type { Guard } from '#rig';
import type { Context } from '../shared/context';
import { about, unique } from '../shared/draft';
import { HOPS } from '../shared/frequency';
import type { RowDraft } from '../shared/rows';
import { tableRow } from '../shared/tableRow';
import type { Column } from '../sheet';

/** Products are looked for as far from a carrier as this, in Hz: what is further away troubles nobody. */
const FAR_HZ = 1e6;

export const CARRIER_COLUMNS: readonly Column[] = [
  { title: 'Frequency', unit: 'MHz', number: true, under: { title: 'Width', unit: 'kHz' } },
  { title: 'What sends', names: true, under: { title: 'Whose' } },
  { title: 'Who uses it' },
  { title: 'It tunes' },
  { title: 'Nearest carrier', under: { title: 'Nearest product' } },
  { title: 'Known of it here' },
];

const mega = (hz: number) => Number((hz / 1e6).toFixed(4));
const kilo = (hz: number) => Number((hz / 1e3).toFixed(1));

/** `863 to 865 MHz`. */
export function spanText(low: number, high: number): string {
  return `${hertz(low).replace(' MHz', '')} to ${hertz(high)}`;
}

/** The lowest first; those without a frequency last. */
export function carrierRows(context: Context, air: Coordination): RowDraft[] {
  const { settings } = context.checked.rig;
  const nearest = nearestProducts(air, settings.guard);
  const sets = air.all.toSorted((a, b) => (a.hz ?? Number.POSITIVE_INFINITY) - (b.hz ?? Number.POSITIVE_INFINITY) || 0);
  return sets.map((set) => {
    const carrier = air.onAir.find((each) => each === set);
    const { findings: _, ...row } = tableRow(
      set.piece.id,
      [
        set.hz === undefined ? undefined : mega(set.hz),
        set.kind === 'hopping' ? undefined : kilo(set.bandwidthHz),
        set.piece.label,
        set.ours ? 'ours' : 'the house’s',
        usersOf(context, set),
        set.kind === 'hopping' ? 'by itself' : set.tunesHz && spanText(set.tunesHz.low, set.tunesHz.high),
        carrier && nearestCarrier(air, carrier),
        carrier && nearest.get(carrier),
        carrier ? known(air, carrier) : set.kind === 'hopping' ? HOPS : undefined,
      ],
      {
        place: set.piece.place,
        about: about(set.piece.place, ...set.packs.map(({ place }) => place)),
        unfinished: set.hz === undefined && set.kind !== 'hopping',
      },
    );
    return row;
  });
}

/** Whose packs hear it; of a microphone, who sings into it. */
function usersOf({ checked: { rig } }: Context, { piece, packs }: Transmission): string | undefined {
  const people = packs.length > 0 ? packs.flatMap((pack) => pack.for) : (rig.sources.get(piece.id)?.by ?? piece.for);
  const labels = unique([people].flat()).flatMap((id) => rig.performers.get(id)?.label ?? []);
  return labels.length > 0 ? list(labels) : undefined;
}

function nearestCarrier({ onAir }: Coordination, carrier: OnAir): string | undefined {
  const others = onAir.filter((each) => each !== carrier);
  const [next] = others.sort((a, b) => Math.abs(a.hz - carrier.hz) - Math.abs(b.hz - carrier.hz));
  return next && `${distance(Math.abs(next.hz - carrier.hz))}: ${next.piece.label}`;
}

function distance(hz: number): string {
  return hz < 500 ? 'on it' : hertz(hz);
}

function nearestProducts({ onAir }: Coordination, guard: Guard): ReadonlyMap<OnAir, string> {
  const signals = onAir.map(({ hz, kind }) => ({ hz, mixes: kind === 'analogue' }));
  const far: Guard = { carriersHz: FAR_HZ, pairsHz: FAR_HZ, triplesHz: FAR_HZ, fifthHz: FAR_HZ };
  const found = new Map<OnAir, { readonly text: string; readonly room: number }>();
  for (const { victim, product, awayHz } of hits(signals, far)) {
    const carrier = onAir[victim] as OnAir;
    // What is nearest to being too near.
    const room = awayHz - guardOf(guard, product.order);
    if ((found.get(carrier)?.room ?? Number.POSITIVE_INFINITY) <= room) continue;
    const formula = productFormula(
      product.order,
      product.of.map((index) => onAir[index]?.hz ?? 0),
    );
    found.set(carrier, { text: `${distance(awayHz)}: ${formula}`, room });
  }
  return new Map([...found].map(([carrier, { text }]) => [carrier, text]));
}

function known(air: Coordination, carrier: OnAir): string {
  const avoided = air.avoided(carrier);
  const allowance = air.allowance(carrier);
  const says =
    allowance.kind === 'not-known'
      ? 'not known'
      : allowance.kind === 'outside'
        ? 'in no range that is known'
        : licenceText(allowance.range);
  const occupied = air.occupied(carrier);
  return [
    says,
    avoided ? `to be avoided${avoided.label ? `: ${avoided.label}` : ''}` : '',
    occupied ? `loud in ${occupied.scan.file}: ${decibels(occupied.mostDbm, 'dBm')}` : '',
  ]
    .filter(Boolean)
    .join('; ');
}

export function licenceText({ licence, power }: RadioRange): string {
  const says = { none: 'no licence', needed: 'needs a licence', varies: 'differs from country to country' }[licence];
  return power ? `${says}, ${power}` : says;
}
