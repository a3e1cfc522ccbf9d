/** The first steps of setting up: gear in its place, then power to it. */
import { type Checked, carriesSpeakerLevel, inUse, isRadioSet, type Lengths, list, mustNotBe, onBatteries } from '#engine';
import type { Piece, Rig } from '#rig';
import { alike } from '../shared/alike';
import { type Context, grouped } from '../shared/context';
import { unique } from '../shared/draft';
import { withoutHouse } from '../shared/facts';
import { mainsPlaces } from '../shared/mains';
import { onMainsAs } from '../shared/power';
import { tableRow } from '../shared/tableRow';
import { frequencyAt } from '../shared/tells';
import type { TableBlock, TableRow } from '../sheet';
import { type Areas, PLACES_RULE, positionWords } from './areas';
import { stepTable } from './table';

export function placeTable(areas: Areas, lengths: Lengths): TableBlock {
  const rows = areas.all.flatMap(({ name, at, pieces, worn }) => {
    const middle = positionWords(at, lengths);
    // What is worked at from one place need not stand in one.
    const spots = grouped(pieces.filter(inUse), (piece) => positionWords(areas.at(piece) ?? at, lengths));
    const [there = [], theirOwn] = [spots.get(middle), worn.filter(inUse)];
    const beside = [...spots].filter(([spot]) => spot !== middle);
    return [
      ...(there.length + theirOwn.length > 0 ? [placeRow(name, middle, there, areas, theirOwn)] : []),
      ...beside.map(([spot, some]) => placeRow(some[0] ? onMainsAs(some[0]) : name, spot, some, areas)),
    ];
  });
  const lost = areas.nowhere.filter(inUse);
  return stepTable({
    id: 'place',
    title: 'Put in place',
    columns: ['At', 'Where', 'What stands there'],
    rows: lost.length > 0 || isLost(areas) ? [...rows, placeRow(NOWHERE, '', lost, areas)] : rows,
    empty: 'There is no gear yet.',
    remark: rows.length > 0 ? PLACES_RULE : undefined,
  });
}

const NOWHERE = 'place not known';

/** A computer that is beside nothing. */
function isLost({ computer }: Areas): boolean {
  return computer !== undefined && computer.beside === undefined;
}

/** Of a radio microphone the receiver stands there; the microphone is `worn`, where its player is. */
function placeRow(name: string, where: string, pieces: readonly Piece[], { computer }: Areas, worn: readonly Piece[] = []): TableRow {
  const here = computer && (computer.beside ? pieces.includes(computer.beside) : name === NOWHERE);
  const what = [...alike(pieces.map(onMainsAs)), ...alike(worn.map(({ label }) => `${label} by radio`))];
  return tableRow(name, [name, where, list(here ? [...what, 'the computer with its USB lead'] : what)], {
    ...placesOf([...pieces, ...worn]),
    unfinished: where === '',
  });
}

function fromOne(rig: Rig): string {
  const all = withoutHouse(rig) ? 'All of the rig' : 'All of the rig and, where it can be, the house’s desk';
  return `Ask the venue’s electrician where to take power. ${all} on one distribution, behind a residual-current device (RCD, GFCI). Mains work of any other kind is for licensed people.`;
}

/** Plugged in with everything off; switched on when the leads are in. */
export function powerTable(context: Context, areas: Areas): TableBlock {
  const { settings } = context.checked.rig;
  const rows = mainsPlaces(context).map(({ at, name, sockets, what, fedBy, feeds, unfinished }) => {
    const fed = sockets.flatMap(({ piece, computer }) => (piece && !computer ? [piece] : []));
    const where = at ? positionWords(at, settings) : NOWHERE;
    return tableRow(name, [name, where, `${what}, from ${fedBy}`, feeds], { ...placesOf(fed), unfinished });
  });
  const cells = [...areas.all.flatMap(({ pieces }) => pieces), ...areas.nowhere].filter(
    (piece) => inUse(piece) && onBatteries(piece.model),
  );
  const batteries = cells.length > 0 ? [tableRow('batteries', ['batteries', '', 'fresh cells', labels(cells)], placesOf(cells))] : [];
  return stepTable({
    id: 'power',
    title: 'Power, everything still off',
    columns: [{ title: 'At', under: { title: 'Where' } }, 'Needs', 'For'],
    rows: [...rows, ...batteries],
    empty: 'Nothing here says that it runs on the mains or on batteries.',
    remark: rows.length > 0 ? fromOne(context.checked.rig) : undefined,
  });
}

interface Powered {
  readonly what: string;
  readonly pieces: readonly Piece[];
  readonly how: string;
  /** What comes out of it is heard: off before anything thumps. */
  readonly heard?: true;
}

/** What is switched on together, in that order: what drives ears and loudspeakers last. Off it goes the other way round. */
export function poweredGroups({ all, nowhere, computer }: Areas): Powered[] {
  const powered = [...all.flatMap(({ pieces }) => pieces), ...nowhere].filter((piece) => inUse(piece) && runs(piece.model.power?.from));
  const sources = powered.filter(({ kind }) => kind === 'source');
  const gear = (wanted: number) => powered.filter((piece) => piece.kind !== 'source' && rank(piece) === wanted);
  return [
    { what: 'Instruments and what makes sound', pieces: sources.filter((piece) => !isRadioSet(piece)), how: 'their own volume down' },
    { what: 'Computer', pieces: computer?.serves ?? [], how: 'nothing playing yet' },
    { what: 'Interfaces, expanders and the like', pieces: gear(0), how: 'every output and every mix down' },
    { what: 'Radio microphones and links', pieces: sources.filter(isRadioSet), how: ONE_BY_ONE },
    { what: 'Transmitters', pieces: gear(1), how: ONE_BY_ONE },
    { what: 'Packs and amplifiers', pieces: gear(2), how: 'knobs down, ears out', heard: true as const },
    { what: 'Loudspeakers', pieces: gear(3), how: 'last, their own volume down', heard: true as const },
  ].filter(({ pieces }) => pieces.length > 0);
}

const ONE_BY_ONE = 'one at a time, frequencies agreed before';

export function switchOnTable(checked: Checked, areas: Areas): TableBlock {
  const off = keptOff(checked);
  const forbidden = [...off].map(([piece, why]) => tableRow(`never ${piece.id}`, [piece.label, '', why], placesOf([piece])));
  const rows = poweredGroups(areas).flatMap(({ what, pieces, how }) => {
    const on = pieces.filter((piece) => !off.has(piece));
    return on.length > 0
      ? [tableRow(what, [what, labels(on), how], { ...placesOf(on), tells: how === ONE_BY_ONE ? on.map(frequencyAt) : undefined })]
      : [];
  });
  return stepTable({
    id: 'on',
    title: 'Switch on, ears out and all levels down',
    columns: ['What', 'Which', 'How'],
    rows: [...forbidden, ...rows],
    empty: 'Nothing here says that it needs power.',
  });
}

/** Amplifiers that break, or break something, when they are switched on as the rig is, and why. */
export function keptOff({ rig, findings, network }: Checked): ReadonlyMap<Piece, string> {
  const bare = findings.filter(({ code }) => code === 'amplifiers/no-loudspeaker').flatMap(({ about }) => about);
  return new Map([
    ...[...rig.pieces.values()]
      .filter(({ id, model }) => bare.includes(id) && model.ports.some((port) => port.direction === 'output' && carriesSpeakerLevel(port)))
      .map((piece) => [piece, NO_LOUDSPEAKER] as const),
    ...network.joints.filter(mustNotBe).map(({ from }) => [from.piece, INTO_AN_INPUT] as const),
  ]);
}

const NO_LOUDSPEAKER = 'do not switch on: no loudspeaker is plugged into it';
const INTO_AN_INPUT = 'do not switch on: its loudspeaker output would go into what it breaks';

function runs(from: string | undefined): boolean {
  return from !== undefined && from !== 'none' && from !== 'phantom';
}

function rank({ model }: Piece): 0 | 1 | 2 | 3 {
  const gives = (kind: string) =>
    model.ports.some(({ direction, modes }) => direction === 'output' && modes.some((mode) => mode.kind === kind));
  if (model.mixes !== undefined) return 0;
  if (model.lineage.includes('loudspeaker')) return 3;
  if (gives('radio')) return 1;
  return gives('phones') || gives('speaker') ? 2 : 0;
}

export function labels(pieces: readonly Piece[]): string {
  return list(alike(unique(pieces).map(({ label }) => label)));
}

export function placesOf(pieces: readonly Piece[]) {
  const about = unique(pieces.map(({ place }) => place.split('/', 1)[0] ?? place));
  return { place: about[0], about };
}
