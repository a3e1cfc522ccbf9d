/** The first steps of setting up: gear in its place, then power to it. */
import { isTheirs, list } from '#engine';
import type { Piece } from '#rig';
import { unique } from '../draft';
import { isThing } from '../holdings';
import type { TableBlock, TableRow } from '../sheet';
import { tableRow } from '../tableRow';
import { type Areas, positionWords } from './areas';
import { stepTable } from './table';

export function placeTable(areas: Areas): TableBlock {
  const rows = areas.all.flatMap(({ name, at, pieces }) => {
    const ours = things(pieces);
    return ours.length > 0 ? [placeRow(name, positionWords(at), ours)] : [];
  });
  const lost = things(areas.nowhere);
  return stepTable({
    id: 'place',
    title: 'Put in place',
    columns: ['At', 'Where', 'What stands there'],
    rows: lost.length > 0 ? [...rows, placeRow('place not known', '', lost)] : rows,
    empty: 'There is no gear yet.',
    remark: rows.length > 0 ? 'Left and right are the players’; distances are from the middle of the stage’s front edge.' : undefined,
  });
}

function things(pieces: readonly Piece[]): Piece[] {
  return pieces.filter((piece) => !isTheirs(piece) && isThing(piece.model));
}

function placeRow(name: string, where: string, pieces: readonly Piece[]): TableRow {
  return tableRow(name, [name, where, labels(pieces)], { ...placesOf(pieces), unfinished: where === '' });
}

const FROM_ONE =
  'Ask the venue’s electrician where to take power. All of the rig and, where it can be, the house’s desk on one distribution, behind a residual-current device (RCD, GFCI). Mains work of any other kind is for licensed people.';

/** Plugged in with everything off; switched on when the leads are in. */
export function powerTable(areas: Areas): TableBlock {
  const rows = [...areas.all, { name: 'place not known', pieces: areas.nowhere }].flatMap(({ name, pieces }) => {
    const fed = things(pieces).filter((piece) => sourceOf(piece, 'mains'));
    const sockets = `${fed.length} ${fed.length === 1 ? 'socket' : 'sockets'}`;
    return fed.length > 0 ? [tableRow(name, [name, sockets, labels(fed)], placesOf(fed))] : [];
  });
  const all = [...areas.all.flatMap(({ pieces }) => pieces), ...areas.nowhere];
  const cells = things(all).filter((piece) => sourceOf(piece, 'battery'));
  const batteries = cells.length > 0 ? [tableRow('batteries', ['batteries', '', `fresh cells in ${labels(cells)}`], placesOf(cells))] : [];
  return stepTable({
    id: 'power',
    title: 'Power, everything still off',
    columns: ['At', 'Needs', 'For'],
    rows: [...rows, ...batteries],
    empty: 'Nothing here says that it runs on the mains or on batteries.',
    remark: rows.length > 0 ? FROM_ONE : undefined,
  });
}

interface Powered {
  readonly what: string;
  readonly pieces: readonly Piece[];
  readonly how: string;
}

/** What is switched on together, in that order: what drives ears and loudspeakers last. Off it goes the other way round. */
export function poweredGroups(areas: Areas): Powered[] {
  const all = things([...areas.all.flatMap(({ pieces }) => pieces), ...areas.nowhere]).filter(({ model }) => runs(model.power?.from));
  const gear = (wanted: number) => all.filter((piece) => piece.kind !== 'source' && rank(piece) === wanted);
  return [
    { what: 'Instruments and what makes sound', pieces: all.filter(({ kind }) => kind === 'source'), how: 'their own volume down' },
    { what: 'Interfaces, expanders and the like', pieces: gear(0), how: 'every output and every mix down' },
    { what: 'Transmitters', pieces: gear(1), how: 'one at a time, frequencies agreed before' },
    { what: 'Packs and amplifiers', pieces: gear(2), how: 'knobs down, ears out' },
  ].filter(({ pieces }) => pieces.length > 0);
}

export function switchOnTable(areas: Areas): TableBlock {
  return stepTable({
    id: 'on',
    title: 'Switch on, ears out and all levels down',
    columns: ['What', 'Which', 'How'],
    rows: poweredGroups(areas).map(({ what, pieces, how }) => tableRow(what, [what, labels(pieces), how], placesOf(pieces))),
    empty: 'Nothing here says that it needs power.',
  });
}

function runs(from: string | undefined): boolean {
  return from !== undefined && from !== 'none' && from !== 'phantom';
}

function rank({ model }: Piece): 0 | 1 | 2 {
  const gives = (kind: string) =>
    model.ports.some(({ direction, modes }) => direction === 'output' && modes.some((mode) => mode.kind === kind));
  if (model.mixes !== undefined) return 0;
  if (gives('radio')) return 1;
  return gives('phones') || gives('speaker') ? 2 : 0;
}

function sourceOf({ model }: Piece, kind: string): boolean {
  return new RegExp(`\\b${kind}\\b`).test(model.power?.from ?? '');
}

export function labels(pieces: readonly Piece[]): string {
  return list(unique(pieces.map(({ label }) => label)));
}

export function placesOf(pieces: readonly Piece[]) {
  const about = unique(pieces.map(({ place }) => place.split('/', 1)[0] ?? place));
  return { place: about[0], about };
}
