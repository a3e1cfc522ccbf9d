/** What the carriers of a rig do to each other, and what the place they are used in says of them. */
import type { AirScan, Avoided, Guard, Rig, Settings } from '#rig';
import { avoidedBy, type Occupied, occupiedAt } from './avoiding';
import { spacingHz } from './choose';
import { type Hit, hits, type Signal } from './products';
import { type RadioRange, type RadioRegion, rangeFor, type Where, whereOf } from './regions';
import { type Transmission, transmissions } from './transmissions';

export interface OnAir extends Transmission {
  readonly hz: number;
}

/** Two carriers that are too close to each other; at 0 Hz they are on one frequency. */
export interface Close {
  readonly one: OnAir;
  readonly other: OnAir;
  readonly awayHz: number;
  readonly wantedHz: number;
}

/** A product on or near a carrier. */
export interface Trouble extends Omit<Hit, 'victim' | 'product'> {
  readonly victim: OnAir;
  readonly order: Hit['product']['order'];
  readonly productHz: number;
  /** The carriers that make it. */
  readonly of: readonly OnAir[];
  /** It falls into the middle of what the victim's receiver lets through. */
  readonly on: boolean;
}

/** What the regulations that are known of say of a carrier. */
export type Allowance =
  | { readonly kind: 'free' | 'licence'; readonly range: RadioRange; readonly region: RadioRegion }
  | { readonly kind: 'outside'; readonly region: RadioRegion }
  /** Nothing is known of the place, or the rig does not say where it is. */
  | { readonly kind: 'not-known' };

export interface Coordination {
  readonly all: readonly Transmission[];
  /** Those with a frequency. */
  readonly onAir: readonly OnAir[];
  readonly close: readonly Close[];
  /** Those that concern us: on a carrier of ours, or made with one. */
  readonly troubles: readonly Trouble[];
  readonly where: Where;
  readonly guard: Guard;
  readonly avoidedRanges: readonly Avoided[];
  readonly scans: readonly AirScan[];
  allowance(carrier: OnAir): Allowance;
  avoided(carrier: OnAir): Avoided | undefined;
  /** What a scan shows to be there. */
  occupied(carrier: OnAir): Occupied | undefined;
}

/** A receiver lets through some half of what its transmitter takes at full strength, a quarter on either side: common practice, no source. */
const MIDDLE = 1 / 4;

export function coordination(rig: Pick<Rig, 'pieces' | 'settings'>): Coordination {
  const all = transmissions(rig);
  const onAir = all.filter((each): each is OnAir => each.hz !== undefined);
  const where = whereOf(rig.settings);
  return {
    all,
    onAir,
    close: closeOnes(rig.settings, onAir),
    troubles: troubles(rig.settings, onAir),
    where,
    guard: rig.settings.guard,
    avoidedRanges: rig.settings.avoid,
    scans: rig.settings.scans,
    allowance: (carrier) => allowanceOf(where, carrier),
    avoided: (carrier) => avoidedBy(rig.settings, carrier),
    occupied: (carrier) => occupiedAt(rig.settings, carrier),
  };
}

function allowanceOf(where: Where, { hz, bandwidthHz }: OnAir): Allowance {
  if (typeof where === 'string') return { kind: 'not-known' };
  const range = rangeFor(where, hz, bandwidthHz);
  if (!range) return { kind: 'outside', region: where };
  return { kind: range.licence === 'none' ? 'free' : 'licence', range, region: where };
}

/** Pairs of which one is ours at least. */
function closeOnes({ guard }: Settings, onAir: readonly OnAir[]): Close[] {
  const rising = onAir.toSorted((a, b) => a.hz - b.hz);
  const widest = Math.max(0, ...onAir.map(({ bandwidthHz }) => bandwidthHz));
  const most = Math.max(guard.carriersHz, widest);
  const order = new Map(onAir.map((each, index) => [each, index]));
  return rising.flatMap((low, index) => {
    const found: Close[] = [];
    for (let at = index + 1; at < rising.length; at++) {
      const high = rising[at] as OnAir;
      const awayHz = high.hz - low.hz;
      if (awayHz >= most) break;
      const wantedHz = spacingHz(guard, low, high);
      if (awayHz >= wantedHz || (!low.ours && !high.ours)) continue;
      // Told at ours; where both are, at the one that is written later.
      const lowLater = (order.get(low) as number) > (order.get(high) as number);
      const [one, other] = low.ours && (!high.ours || lowLater) ? [low, high] : [high, low];
      found.push({ one, other, awayHz, wantedHz });
    }
    return found;
  });
}

function troubles({ guard }: Settings, onAir: readonly OnAir[]): Trouble[] {
  const signals = onAir.map(({ hz, kind }): Signal => ({ hz, mixes: kind === 'analogue' }));
  const ours = onAir.map((each) => each.ours);
  return hits(signals, guard, (victim, of) => ours[victim] === true || of.some((index) => ours[index])).map(
    ({ victim, product, awayHz }) => {
      const suffers = onAir[victim] as OnAir;
      return {
        victim: suffers,
        order: product.order,
        productHz: product.hz,
        of: product.of.map((index) => onAir[index] as OnAir),
        awayHz,
        on: awayHz < suffers.bandwidthHz * MIDDLE,
      };
    },
  );
}
