/** The words of labels in the room that each has, in mm: the same parts in the same order, places and sizes on all of a set. */
import { fitted, widthOf } from '../draw/words';
import type { Words } from '../drawing';
import { type Fit, linesOf, type Measured, measured, setApart } from './fit';
import type { Label } from './labels';
import type { Rectangle } from './stocks';

/** Of the height of the room. */
const MARK = 0.28;
const NAME = 0.16;
const SMALL = 0.115;
/** In mm. Smaller is not read by stage light: common practice, no source. */
const LEAST = { mark: 3, name: 2.2, small: 1.9 };
const MOST = { mark: 8, name: 4.4, small: 3 };
/** What is below a name is set smaller by as much before it goes on two lines. */
const SMALLER = 0.8;
/** So many of the names may be cut for the sake of all others. */
const CUT = 0.05;
/** Sizes of names that are tried, from the largest to the smallest. */
const TRIED = 9;
/** How far letters go above the base line and below it, of the size; figures and capitals stand on it. */
const ASCENT = 0.8;
const DESCENT = 0.25;
const AFTER_MARK = 0.1;
/** Between the lowest of a line and the highest of the next, of the size of the next. */
const LEADING = 0.23;
/** A name in less room than this is no help: the number and the length stand alone. */
const LEAST_FOR_NAME_MM = 16;

const lineHeight = (size: number) => size * (LEADING + ASCENT + DESCENT);

/** What is the same on all labels of a set. */
interface Setting {
  readonly sizes: { readonly mark: number; readonly name: number; readonly small: number };
  /** Of each half of a name, as it is written, its lines. */
  readonly halves: ReadonlyMap<string, readonly string[]>;
  /** Of the label with the most. */
  readonly nameLines: number;
  /** What stands below the name, line by line; an empty one keeps its place. */
  readonly tail: Tail;
  readonly tailLines: number;
}

type Tail = (label: Label) => readonly string[];

/** Sets labels in rooms that are all of one size. `band` stands on each, where there is room for a name. */
export function setter(labels: readonly Label[], room: Rectangle, band?: string): (label: Label, room: Rectangle) => Words[] {
  const setting = settingOf(labels, room, band);
  return (label, at) => face(label, at, setting);
}

function settingOf(labels: readonly Label[], room: Rectangle, band: string | undefined): Setting {
  const size = (part: keyof typeof LEAST, share: number) => Math.min(MOST[part], Math.max(LEAST[part], share * room.height));
  const widest = Math.max(...labels.map(({ mark }) => widthOf(mark, 1, true)));
  const mark = Math.min(size('mark', MARK), room.width / widest);
  const most = { mark, name: size('name', NAME), small: size('small', SMALL) };
  if (room.width < LEAST_FOR_NAME_MM) {
    const small = Math.min(most.small, room.width / Math.max(1, ...labels.map(({ length }) => widthOf(length, 1))));
    const tailLines = small < LEAST.small ? 0 : 1;
    return { sizes: { ...most, small }, halves: new Map(), nameLines: 0, tail: ({ length }) => [length].slice(0, tailLines), tailLines };
  }
  const { small, tail, tailLines } = tailOf(labels, room, most, band);
  const forNames = room.height - headHeight(most) - tailLines * lineHeight(small);
  const words = new Map(labels.flatMap(({ halves }) => halves).map((half) => [half, measured(half)]));
  const place = { width: room.width, height: forNames };
  const name = nameSize(labels, words, place, most.name);
  const fits = fitsOf(labels, words, name, place);
  const halves = setApart([...fits.keys()], (text) => fits.get(text) ?? { size: name, width: room.width, lines: 1 });
  const nameLines = Math.max(0, ...labels.map(({ halves: [one, two] }) => (halves.get(one)?.length ?? 0) + (halves.get(two)?.length ?? 0)));
  return { sizes: { mark, name, small: Math.min(small, Math.max(LEAST.small, name)) }, halves, nameLines, tail, tailLines };
}

function headHeight({ mark }: { readonly mark: number }): number {
  return mark * (ASCENT + AFTER_MARK);
}

/** How long it is and the plug: on one line where that holds for all in nearly the usual size, else on two where there is the height, else the first that there is. */
function tailOf(
  labels: readonly Label[],
  room: Rectangle,
  sizes: { readonly mark: number; readonly small: number },
  band: string | undefined,
): Pick<Setting, 'tail' | 'tailLines'> & { readonly small: number } {
  const last = band ? 1 : 0;
  const whole = ({ length, plug }: Label) => [length, plug].filter(Boolean).join(', ');
  const sizeOf = (tail: Tail) => Math.min(sizes.small, room.width / Math.max(...labels.flatMap(tail).map((text) => widthOf(text, 1))));
  const as = (lines: number, tail: Tail) => {
    const small = Math.max(LEAST.small, sizeOf(tail));
    const lower = (label: Label) => [...tail(label), ...(band ? [band] : [])].map((text) => fitted(text, small, room.width));
    return { small, tail: lower, tailLines: lines + last };
  };
  const one: Tail = (label) => [whole(label)];
  if (sizeOf(one) >= sizes.small * SMALLER) return as(1, one);
  const two: Tail = ({ length, plug }) => [length, plug];
  const left = room.height - headHeight(sizes) - (2 + last) * lineHeight(Math.max(LEAST.small, sizeOf(two)));
  return left >= 2 * lineHeight(LEAST.name) ? as(2, two) : as(1, ({ length, plug }) => [length || plug]);
}

/** Where names stand. */
type Place = Pick<Rectangle, 'width' | 'height'>;
type Measures = ReadonlyMap<string, Measured>;

/** The largest in which nearly as many names as possible are whole: a few long ones make the others no smaller. */
function nameSize(labels: readonly Label[], words: Measures, place: Place, largest: number): number {
  const tried: { size: number; whole: number }[] = [];
  for (let step = 0; step < TRIED; step++) {
    const size = largest + (step / (TRIED - 1)) * (LEAST.name - largest);
    if (2 * lineHeight(size) > place.height) continue;
    const fits = fitsOf(labels, words, size, place);
    const isWhole = (half: string) => (linesOf(words.get(half) ?? [], size, place.width) ?? Infinity) <= (fits.get(half)?.lines ?? 0);
    const whole = labels.filter(({ halves }) => halves.every(isWhole)).length;
    tried.push({ size, whole });
  }
  const most = Math.max(...tried.map(({ whole }) => whole));
  const cut = CUT * labels.length;
  const best = tried.filter(({ whole }) => whole >= most - cut);
  // Where many are cut in any size, as much of them as can be is left in the smallest.
  return (most >= labels.length - cut ? best[0] : best.at(-1))?.size ?? LEAST.name;
}

/** How many lines each half of a name may have: what it needs, or as much as the other leaves, which is half at least. */
function fitsOf(labels: readonly Label[], words: Measures, size: number, { width, height }: Place): Map<string, Fit> {
  const room = Math.max(2, Math.floor(height / lineHeight(size) + 1e-9));
  const fits = new Map<string, Fit>();
  const needed = (half: string) => linesOf(words.get(half) ?? [], size, width) ?? Infinity;
  const allow = (half: string, lines: number) => fits.set(half, { size, width, lines: Math.min(lines, fits.get(half)?.lines ?? Infinity) });
  for (const { halves } of labels) {
    const [one, two] = [needed(halves[0]), needed(halves[1])];
    const first = Math.min(one, Math.max(Math.floor(room / 2), room - two));
    allow(halves[0], first);
    allow(halves[1], Math.min(two, room - first));
  }
  return fits;
}

/** The number and end in large; the name, the half of this end in bold; how long the lead is, the plug and the band. In the middle of the height. */
function face(label: Label, room: Rectangle, { sizes, halves, nameLines, tail, tailLines }: Setting): Words[] {
  const names = nameLines * lineHeight(sizes.name);
  const high = headHeight(sizes) + names + (tailLines > 0 ? tailLines * lineHeight(sizes.small) : 0);
  const top = room.y + Math.max(0, (room.height - high) / 2);
  const at = (text: string, size: number, y: number, more: Partial<Words> = {}): Words => ({
    kind: 'words',
    x: room.x,
    y,
    text,
    size,
    width: room.width,
    role: 'ink',
    ...more,
  });
  const below = (from: number, size: number, index: number) => from + index * lineHeight(size) + (LEADING + ASCENT) * size;
  const afterMark = top + headHeight(sizes);
  const lines = label.halves.flatMap((half, index) => {
    const bold = !label.joint && (index === 0) === (label.end === 'A');
    return (halves.get(half) ?? []).map((text) => ({ text, ...(bold ? { bold } : {}) }));
  });
  return [
    at(label.mark, sizes.mark, top + ASCENT * sizes.mark, { bold: true, place: label.place, label: `${label.mark}: ${label.name}` }),
    ...lines.map(({ text, ...more }, index) => at(text, sizes.name, below(afterMark, sizes.name, index), more)),
    ...tail(label).flatMap((text, index) =>
      text === '' ? [] : [at(text, sizes.small, below(afterMark + names, sizes.small, index), { role: 'muted' })],
    ),
  ];
}
