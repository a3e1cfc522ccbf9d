/** What is wrong on the air: carriers that clash, products that fall on one, what a set cannot tune, and what the place does not allow. */
import type { Rig, Settings } from '#rig';
import { touches } from '../solve/radio/avoiding';
import { type Close, type Coordination, coordination, type OnAir, type Trouble } from '../solve/radio/coordination';
import { guardOf } from '../solve/radio/products';
import { REGIONS } from '../solve/radio/regions';
import type { Transmission } from '../solve/radio/transmissions';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';
import type { Related } from './related';

export function radio(rig: Pick<Rig, 'pieces' | 'settings'>): Finding[] {
  const air = coordination(rig);
  if (air.all.length === 0) return [];
  return [
    ...scansBeside(air),
    ...placeUnknown(rig.settings, air),
    ...air.all.flatMap((set) => [...unsaid(air, set), ...tuning(set)]),
    ...onAir(rig, air),
  ];
}

function onAir(rig: Pick<Rig, 'settings'>, air: Coordination): Finding[] {
  const ours = air.onAir.filter((each) => each.ours);
  return [
    ...ours.flatMap((each) => [...allowed(rig.settings, air, each), ...avoided(air, each), ...occupied(air, each)]),
    ...air.close.map(close),
    ...products(rig, air),
  ];
}

const told = ({ piece: { label }, hz, ours }: OnAir) => ({ label, hz, theirs: !ours });

/** The frequency of a set, where it is written; else the set. */
function placeOf({ piece }: Transmission): string {
  return piece.onHz === undefined ? piece.place : `${piece.id}/on`;
}

function alsoAt(sets: readonly Transmission[]): Related[] {
  return sets.map((set) => ({ place: placeOf(set), says: set.piece.label }));
}

// ---- carriers ------------------------------------------------------------------------------------

function close({ one, other, awayHz, wantedHz }: Close): Finding {
  const more = { about: [other.piece.id], related: alsoAt([other]) };
  if (awayHz === 0) return finding('radio/same-frequency', placeOf(one), { one: told(one), other: told(other) }, more);
  return finding('radio/too-close', placeOf(one), { one: told(one), other: told(other), awayHz, wantedHz }, more);
}

const RANK = { pair: 0, triple: 1, fifth: 2 };

/** Of each carrier the worst that falls on it. */
function products({ settings }: Pick<Rig, 'settings'>, { troubles }: Coordination): Finding[] {
  const worst = new Map<OnAir, Trouble>();
  for (const each of troubles) {
    // What comes of two on one frequency is told as that.
    const all = [each.victim, ...each.of];
    if (new Set(all.map(({ hz }) => hz)).size < all.length) continue;
    const there = worst.get(each.victim);
    if (!there || isWorse(each, there)) worst.set(each.victim, each);
  }
  return [...worst.values()].map(({ victim, order, of, productHz, awayHz, on }) => {
    // What is the house's is told where ours has a share in it.
    const at = victim.ours ? victim : (of.find((each) => each.ours) ?? victim);
    const others = [...new Set([victim, ...of])].filter((each) => each !== at);
    return finding(
      on ? 'radio/product-on' : 'radio/product-near',
      placeOf(at),
      { victim: told(victim), order, of: of.map(told), productHz, awayHz, guardHz: guardOf(settings.guard, order) },
      { about: others.map(({ piece }) => piece.id), related: alsoAt(others) },
    );
  });
}

function isWorse(one: Trouble, other: Trouble): boolean {
  if (one.on !== other.on) return one.on;
  return RANK[one.order] !== RANK[other.order] ? RANK[one.order] < RANK[other.order] : one.awayHz < other.awayHz;
}

// ---- the set itself ------------------------------------------------------------------------------

function unsaid({ all }: Coordination, set: Transmission): Finding[] {
  if (set.hz !== undefined || set.kind === 'hopping' || set.piece.onHz !== undefined || set.piece.onUnread) return [];
  return [finding('radio/no-frequency', set.piece.place, { set: set.piece.label, theirs: !set.ours, others: all.length - 1 })];
}

function tuning(set: Transmission): Finding[] {
  const { hz, piece, tunesHz, packs } = set;
  if (hz === undefined) return [];
  const found: Finding[] = [];
  const cannot = tunesHz !== undefined && !isWithin(hz, tunesHz);
  if (cannot) found.push(finding('radio/cannot-tune', placeOf(set), { set: piece.label, hz, low: tunesHz.low, high: tunesHz.high }));
  for (const pack of packs) {
    const { onHz, model } = pack;
    const range = model.tunesHz;
    const apart = onHz !== undefined && Math.round(onHz) !== hz;
    // A pack of the transmitter's own range hears it as soon as that is on a frequency which it has.
    const matches = cannot && range !== undefined && range.low <= tunesHz.high && range.high >= tunesHz.low;
    const deaf = range !== undefined && !isWithin(hz, range) && !matches;
    if (!apart && !deaf) continue;
    found.push(
      finding(
        'radio/pack-apart',
        apart ? `${pack.id}/on` : `${pack.id}/hears`,
        { pack: pack.label, transmitter: piece.label, hz, packHz: apart ? onHz : undefined, low: range?.low, high: range?.high },
        {
          about: [piece.id],
          related: alsoAt([set]),
          fixes: apart ? [{ kind: 'rewrite', place: `${pack.id}/on`, with: '' }] : [],
        },
      ),
    );
  }
  return found;
}

function isWithin(hz: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  return hz >= low && hz <= high;
}

// ---- the place -----------------------------------------------------------------------------------

/** Of ours alone: what is the house's is theirs to answer for. */
function placeUnknown({ region, country, licensed }: Settings, { all, where }: Coordination): Finding[] {
  // Of one without a frequency it is said that it has none.
  const [first, ...more] = all.filter(({ ours, hz }) => ours && hz !== undefined);
  if (!first || licensed) return [];
  if (where === 'unstated') {
    const sets = [first, ...more].map(({ piece }) => piece.label);
    return [finding('radio/where-not-said', placeOf(first), { sets }, { about: more.map(({ piece }) => piece.id) })];
  }
  if (where !== 'unknown') return [];
  return [
    finding('radio/rules-not-known', country === undefined ? 'rig/region' : 'rig/country', {
      where: country ?? region ?? '',
      known: REGIONS.filter(({ code }) => code !== 'EU').map(({ name }) => name),
    }),
  ];
}

function allowed({ licensed }: Settings, air: Coordination, carrier: OnAir): Finding[] {
  if (licensed) return [];
  const allowance = air.allowance(carrier);
  if (allowance.kind === 'free' || allowance.kind === 'not-known') return [];
  const { region } = allowance;
  const named = { name: region.name, regulator: region.regulator };
  if (allowance.kind === 'outside') {
    const ranges = region.ranges.map(({ lowHz, highHz }) => [lowHz, highHz] as const);
    const spills = ranges.some(([low, high]) => carrier.hz >= low && carrier.hz <= high);
    return [
      finding('radio/outside-ranges', placeOf(carrier), {
        carrier: told(carrier),
        region: named,
        ranges,
        spills,
        bandwidthHz: carrier.bandwidthHz,
      }),
    ];
  }
  const { lowHz, highHz, licence } = allowance.range;
  return [
    finding('radio/needs-licence', placeOf(carrier), {
      carrier: told(carrier),
      region: named,
      range: [lowHz, highHz],
      varies: licence === 'varies',
    }),
  ];
}

/** Once: not where the rig says to avoid it anyway, and not where what is there is one of the house's that is too close. */
function occupied(air: Coordination, carrier: OnAir): Finding[] {
  const there = air.occupied(carrier);
  if (!there || air.avoided(carrier)) return [];
  const { scan, low, high, mostDbm } = there;
  const known = air.close.some(({ one, other }) => one === carrier && !other.ours && touches(there, other));
  if (known) return [];
  return [
    finding(
      'scan/occupied',
      placeOf(carrier),
      { carrier: told(carrier), low, high, mostDbm, file: scan.file, aboveDbm: scan.aboveDbm },
      { related: [{ place: scan.place, says: BESIDE.theScan }] },
    ),
  ];
}

/** Scans of where nothing of ours can be. */
function scansBeside(air: Coordination): Finding[] {
  const ours = air.all.filter(({ ours, hz, tunesHz }) => ours && (hz !== undefined || tunesHz !== undefined));
  if (ours.length === 0) return [];
  return air.scans.flatMap((scan) => {
    const low = scan.points[0]?.hz ?? 0;
    const high = scan.points.at(-1)?.hz ?? 0;
    const within = ours.some(({ hz, tunesHz }) =>
      hz !== undefined ? hz >= low && hz <= high : tunesHz && tunesHz.low <= high && tunesHz.high >= low,
    );
    if (within) return [];
    return [finding('scan/beside', scan.place, { file: scan.file, low, high })];
  });
}

function avoided(air: Coordination, carrier: OnAir): Finding[] {
  const range = air.avoided(carrier);
  if (!range) return [];
  const { low, high, label, place } = range;
  return [
    finding(
      'radio/avoided',
      placeOf(carrier),
      { carrier: told(carrier), low, high, label },
      { related: [{ place, says: BESIDE.toAvoid }] },
    ),
  ];
}
