/** What brings the mains to our gear: a strip of sockets at each place, and extension leads from the place with the most sockets to the others. */
import { count, floorLength, lengthText, stockLength } from '#engine';
import type { Position } from '#rig';
import type { TableBlock } from '../sheet';
import { alike } from './alike';
import type { Context } from './context';
import { type MainsSocket, mainsSockets, standing } from './power';
import { tableRow } from './tableRow';

/** Things so near each other share a strip, in metres: common practice, no source. */
const NEAR_M = 1.5;

export interface MainsPlace {
  /** Nothing of those whose place the rig does not say. */
  readonly at?: Position;
  readonly sockets: readonly MainsSocket[];
  /** Of the extension lead to it; nothing at the place that the others are fed from, and where a place is not known. */
  readonly lengthM?: number;
}

/** Every sheet that speaks of sockets has them from here. The place with the most first; what stands nowhere last. */
export function mainsPlaces(context: Context): MainsPlace[] {
  const { rig, leads } = context.checked;
  const where = standing(leads);
  const places: { at?: Position; sockets: MainsSocket[] }[] = [];
  for (const each of mainsSockets(context)) {
    const at = each.piece && (where.get(each.piece) ?? each.piece.at);
    const there = places.find((place) => (at && place.at ? Math.hypot(at.x - place.at.x, at.y - place.at.y) <= NEAR_M : at === place.at));
    if (there) there.sockets.push(each);
    else places.push({ at, sockets: [each] });
  }
  const sorted = places.sort((a, b) => Number(a.at === undefined) - Number(b.at === undefined) || b.sockets.length - a.sockets.length);
  const [first] = sorted;
  return sorted.map((place) => {
    if (place === first || !first?.at || !place.at) return place;
    return { ...place, lengthM: stockLength(rig, floorLength(first.at, place.at) ?? 0) };
  });
}

/** To pack, and to count back into the case. None where nothing of ours takes the mains. */
export function mainsTable(context: Context, title: string): TableBlock[] {
  const places = mainsPlaces(context);
  if (places.length === 0) return [];
  const rows = places.map(({ sockets, lengthM }, index) =>
    tableRow(
      `strip ${index}`,
      [
        1,
        `strip with ${count(sockets.length, 'socket')} or more`,
        lengthM === undefined
          ? index === 0
            ? 'from the venue’s socket'
            : 'not known'
          : `extension lead of ${lengthText(lengthM, context.checked.rig.settings)}`,
        alike(sockets.map(({ label }) => label)).join(', '),
      ],
      {
        about: sockets.flatMap(({ piece }) => (piece && piece.kind !== 'fresh' ? [piece.place] : [])),
        unfinished: index > 0 && lengthM === undefined,
      },
    ),
  );
  return [
    {
      kind: 'table',
      id: 'mains',
      title,
      columns: [{ title: 'Count', number: true }, { title: 'What', names: true }, { title: 'Fed by' }, { title: 'For' }],
      rows,
      empty: '',
      remark:
        'Fed from the place with the most sockets; how far that is from the venue’s socket the rig does not say. For a stage: rubber leads, earthed, unrolled from their drums, along edges and away from signal leads; strips do not hang on strips. Where unsure, ask the venue’s electrician.',
      ticks: 'boxes',
    },
  ];
}
