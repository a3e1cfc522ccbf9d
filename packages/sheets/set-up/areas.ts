/**
 * A stage in areas: places where somebody stands to work. Each performer has one, and so has each place with gear that is no
 * performer's; they come in the order in which one walks them.
 */
import { isTheirs, type Lengths, lengthText, placed, receiverApart } from '#engine';
import type { Piece, Position } from '#rig';
import type { Context } from '../shared/context';
import { placeDigits } from '../shared/figures';
import { type Computer, computerOf, standing as standingBy } from '../shared/power';

export interface Area {
  /** Of whom or what stands there: `Ilse`, `Interface`, `the house’s stage box`. */
  readonly name: string;
  readonly at: Position;
  readonly pieces: readonly Piece[];
  /** What its player has in hand or wears, and is a piece where its receiver stands. */
  readonly worn: readonly Piece[];
}

export interface Areas {
  /** In walking order: from where most leads end, always to the next that is nearest. */
  readonly all: readonly Area[];
  readonly nowhere: readonly Piece[];
  readonly computer?: Computer;
  of(piece: Piece): Area | undefined;
  /** Where it stands itself, which may be some way from where one works at it. */
  at(piece: Piece): Position | undefined;
}

/** What is nearer than this, sideways and back together, is at the same place: common practice, no source. */
const SAME_M = 1;

interface Growing {
  readonly name: string;
  readonly at: Position;
  readonly pieces: Piece[];
  readonly worn: Piece[];
}

export function areasOf(context: Context): Areas {
  const { checked } = context;
  const { rig } = checked;
  const areas: Growing[] = [];
  const home = new Map<Piece, Growing>();
  const nowhere: Piece[] = [];
  const standing = standingBy(checked.leads);
  const where = (piece: Piece) => placed(rig, piece) ?? standing.get(piece);
  for (const { label, at } of rig.performers.values()) if (at) areas.push({ name: label, at, pieces: [], worn: [] });
  for (const piece of rig.pieces.values()) {
    const at = where(piece);
    if (!at) {
      if (piece.kind !== 'house') nowhere.push(piece);
      continue;
    }
    const name = piece.kind === 'house' ? 'the house’s stage box' : piece.label;
    const area = nearest(areas, at, SAME_M) ?? { name, at, pieces: [], worn: [] };
    if (area.pieces.length === 0 && !areas.includes(area)) areas.push(area);
    area.pieces.push(piece);
    home.set(piece, area);
  }
  for (const { id, by } of rig.sources.values()) {
    const piece = rig.pieces.get(id);
    const at = rig.performers.get(by ?? '')?.at;
    if (piece && at && receiverApart(piece)) nearest(areas, at, SAME_M)?.worn.push(piece);
  }
  return {
    all: walked(
      areas.filter(({ pieces, worn }) => pieces.length + worn.length > 0),
      hub(checked.leads, home),
    ),
    nowhere,
    computer: computerOf(context),
    // Earphones are no piece of the rig, and are where their listener is.
    of: (piece) => home.get(piece) ?? (piece.at && nearest(areas, piece.at, SAME_M)),
    at: where,
  };
}

function hub(leads: Context['checked']['leads'], home: ReadonlyMap<Piece, Growing>): Growing | undefined {
  const ends = new Map<Growing, number>();
  for (const { joint } of leads) {
    for (const { piece } of [joint.from, joint.to]) {
      const area = isTheirs(piece) ? undefined : home.get(piece);
      if (area) ends.set(area, (ends.get(area) ?? 0) + 1);
    }
  }
  // The first of those that have as many.
  return [...ends].reduce<[Growing, number] | undefined>((most, each) => (most && most[1] >= each[1] ? most : each), undefined)?.[0];
}

function walked(areas: readonly Growing[], start: Growing | undefined): Area[] {
  const left = [...areas];
  const way: Area[] = [];
  for (let at = start ?? left[0]; at; at = nearest(left, at.at, Number.POSITIVE_INFINITY)) {
    way.push(at);
    left.splice(left.indexOf(at), 1);
  }
  return way;
}

function nearest<A extends { readonly at: Position }>(areas: readonly A[], at: Position, within: number): A | undefined {
  let found: A | undefined;
  let best = within + 1e-9;
  for (const area of areas) {
    const away = Math.abs(area.at.x - at.x) + Math.abs(area.at.y - at.y);
    if (away < best || (away === best && found === undefined)) {
      found = area;
      best = away;
    }
  }
  return found;
}

/** Said once wherever places are. */
export const PLACES_RULE = 'Left and right are the players’; distances are from the middle of the stage’s front edge.';

/** `1 m left, 4.5 m back`, as the players see it, from the middle of the front edge. */
export function positionWords({ x, y }: Position, lengths: Lengths): string {
  const away = (distance: number) => lengthText(Math.abs(distance), lengths, placeDigits(lengths));
  const side = away(x).startsWith('0 ') ? 'middle' : `${away(x)} ${x > 0 ? 'left' : 'right'}`;
  return `${side}, ${away(y)} ${y < 0 ? 'to the front' : 'back'}`;
}
