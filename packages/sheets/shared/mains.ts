/**
 * What brings the mains to our gear: a strip of sockets at each place, from the venue's socket; to a single thing elsewhere an
 * extension lead from the strip with the most sockets. No strip hangs on another.
 */
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
  /** Of what stands there: `Interface`. */
  readonly name: string;
  readonly sockets: readonly MainsSocket[];
  /** `strip with three sockets or more`, `extension lead of 5 m, one socket`. */
  readonly what: string;
  /** `the venue’s socket`, `the strip at Interface`. */
  readonly fedBy: string;
  /** `Interface, computer, two extension leads`. */
  readonly feeds: string;
  /** Where it has to be does not follow from the rig. */
  readonly unfinished: boolean;
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
  const first = sorted[0];
  const extended = sorted.filter((place) => place !== first && place.sockets.length === 1);
  return sorted.map((place) => {
    const { at, sockets } = place;
    const labels = alike(sockets.map(({ label }) => label));
    const common = { at, sockets, name: labels[0] ?? '' };
    const lengthM = first?.at && at && stockLength(rig, floorLength(first.at, at) ?? 0);
    if (extended.includes(place))
      return {
        ...common,
        what: `extension lead${lengthM === undefined ? '' : ` of ${lengthText(lengthM, rig.settings)}`}, one socket`,
        fedBy: `the strip at ${first?.sockets[0]?.label}`,
        feeds: labels.join(),
        unfinished: lengthM === undefined,
      };
    const leadsHere = place === first ? extended.length : 0;
    const plugs = sockets.length + leadsHere;
    return {
      ...common,
      what: plugs === 1 ? 'extension lead, one socket' : `strip with ${count(plugs, 'socket')} or more`,
      fedBy: 'the venue’s socket',
      feeds: [...labels, ...(leadsHere > 0 ? [count(leadsHere, 'extension lead')] : [])].join(', '),
      unfinished: place !== first && at === undefined,
    };
  });
}

/** To pack, and to count back into the case. None where nothing of ours takes the mains. */
export function mainsTable(context: Context, title: string): TableBlock[] {
  const places = mainsPlaces(context);
  if (places.length === 0) return [];
  const rows = places.map(({ sockets, what, fedBy, feeds, unfinished }, index) =>
    tableRow(`mains ${index}`, [1, what, unfinished ? `${fedBy}; place not known` : fedBy, feeds], {
      about: sockets.flatMap(({ piece }) => (piece && piece.kind !== 'fresh' ? [piece.place] : [])),
      unfinished,
    }),
  );
  return [
    {
      kind: 'table',
      id: 'mains',
      title,
      columns: [{ title: 'Count', number: true }, { title: 'What', names: true }, { title: 'Fed by' }, { title: 'For' }],
      rows,
      empty: '',
      remark: MAINS_RULE,
      ticks: 'boxes',
    },
  ];
}

const MAINS_RULE =
  'How far it is to the venue’s socket the rig does not say: have leads for it. For a stage: rubber leads, earthed, unrolled from their drums, along edges and away from signal leads. Strips do not hang on strips, nor extension leads end to end; no more on any of them than is marked on it. Where unsure, ask the venue’s electrician.';
