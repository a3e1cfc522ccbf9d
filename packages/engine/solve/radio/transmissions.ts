/** Everything of a rig that sends by radio, whoever it belongs to: who hears it, how wide it is, what it can be tuned to. */
import type { CarrierFigures, Piece, Rig, Span } from '#rig';
import { isRadio } from '../mating';
import { isTheirs } from '../path';

/** Of a set that does not state its own, in Hz: analogue FM, common practice, no source. */
export const USUAL_BANDWIDTH_HZ = 200e3;

/** Sets are tuned in steps of so much, in Hz: common practice, no source. */
export const RASTER_HZ = 25e3;

export interface Transmission {
  readonly piece: Piece;
  /** In the middle; nothing where the rig does not say, and of a set that hops. */
  readonly hz?: number;
  readonly kind: CarrierFigures['kind'];
  readonly bandwidthHz: number;
  readonly ours: boolean;
  /** What the set and all who hear it can be tuned to. */
  readonly tunesHz?: Span;
  /** The packs that hear it. */
  readonly packs: readonly Piece[];
}

/** What sends: radio microphones and transmitters, in use. A pack only listens. */
export function transmissions(rig: Pick<Rig, 'pieces'>): Transmission[] {
  const packs = new Map<string, Piece[]>();
  for (const piece of rig.pieces.values()) {
    if (!piece.hears) continue;
    const there = packs.get(piece.hears.piece);
    if (there) there.push(piece);
    else packs.set(piece.hears.piece, [piece]);
  }
  return [...rig.pieces.values()].flatMap((piece) => {
    if (!isOnAir(piece)) return [];
    const { model, onHz } = piece;
    const kind = model.carrier?.kind ?? 'analogue';
    const hearing = packs.get(piece.id) ?? [];
    return [
      {
        piece,
        // Whole hertz, so that what is just as far as it has to be is so.
        hz: isHopping(piece) || onHz === undefined ? undefined : Math.round(onHz),
        kind,
        bandwidthHz: model.carrier?.bandwidthHz ?? USUAL_BANDWIDTH_HZ,
        ours: !isTheirs(piece),
        tunesHz: model.tunesHz,
        packs: hearing,
      },
    ];
  });
}

/** What sends, whoever it belongs to. A spare stays in its case, and what has a radio input and no output only listens. */
export function isOnAir(piece: Piece): boolean {
  const { holding, hears, onHz, model } = piece;
  if (holding?.spare || hears) return false;
  const radio = model.ports.filter(isRadio);
  if (radio.length > 0) return radio.some(({ direction }) => direction === 'output');
  return onHz !== undefined || model.tunesHz !== undefined || model.carrier !== undefined;
}

/** It looks for free channels by itself: nobody sets a frequency. */
export function isHopping({ model }: Pick<Piece, 'model'>): boolean {
  return model.carrier?.kind === 'hopping';
}

/** A carried part and its receiver, as one thing: a radio microphone, an instrument link. */
export function isRadioSet({ kind, model }: Piece): boolean {
  return kind === 'source' && (model.tunesHz !== undefined || model.carrier !== undefined);
}
