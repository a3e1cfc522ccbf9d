/** The words of one label in the room that it has, in mm. */
import { fitted, widthOf } from '../draw/words';
import type { Role, Words } from '../drawing';
import { onTwo } from './fit';
import type { Label } from './labels';
import type { Rectangle } from './stocks';

/** Of the height of the room. */
const MARK = 0.28;
const NAME = 0.16;
const SMALL = 0.115;
/** In mm. Smaller is not read by stage light: common practice, no source. */
const LEAST = { mark: 3, name: 2.2, small: 1.9 };
const MOST = { mark: 8, name: 4.4, small: 3 };
/** A name is set smaller by as much before it is broken. */
const SMALLER = 0.8;
/** How far letters go above the base line and below it, of the size; figures and capitals stand on it. */
const ASCENT = 0.8;
const DESCENT = 0.25;
const AFTER_MARK = 0.1;
/** Between the lowest of a line and the highest of the next, of the size of the next. */
const LEADING = 0.23;
/** A name in less room than this is no help: the number stands alone. */
const LEAST_FOR_NAME_MM = 16;

interface Line {
  readonly text: string;
  readonly size: number;
  readonly mark?: boolean;
  readonly bold?: boolean;
  readonly role?: Role;
}

/** The number and end in large; the name on two lines, the half of this end in bold; the plug, and how long the lead is. */
export function face(label: Label, room: Rectangle): Words[] {
  const size = (part: 'mark' | 'name' | 'small', share: number) => Math.min(MOST[part], Math.max(LEAST[part], share * room.height));
  const mark = size('mark', MARK);
  const first: Line = { text: label.mark, size: Math.min(mark, room.width / widthOf(label.mark, 1, true)), bold: true, mark: true };
  if (room.width < LEAST_FOR_NAME_MM) return stacked([first], heightOf([first]), label, room);
  const name = size('name', NAME);
  const small = size('small', SMALL);
  const last: Line = { text: plugWords(label, small, room.width), size: small, role: 'muted' };
  // So that the numbers of all labels of a sheet stand on the same line.
  const usual = heightOf([first, { text: '', size: name }, { text: '', size: name }, last]);
  return stacked([first, ...nameLines(label, name, room, heightOf([first, last])), last], usual, label, room);
}

/** In full size where both halves fit, else smaller, else broken where there is the height: as large as leaves it whole, else as small as can be read, and cut in the middle. Reckoned in bold, so that both ends look alike. */
function nameLines({ halves, end }: Label, size: number, room: Rectangle, taken: number): Line[] {
  const widest = Math.max(...halves.map((half) => widthOf(half, 1, true)));
  const fitting = Math.min(size, Math.max(size * SMALLER, room.width / widest));
  const lines = (at: number, of: (half: string) => string[]): Line[] =>
    halves.flatMap((half, index) => of(half).map((text) => ({ text, size: at, bold: (index === 0) === (end === 'A') })));
  const sizes = [0, 0.25, 0.5, 0.75, 1].map((share) => fitting + share * (LEAST.name - fitting));
  const broken = sizes.map((at) => {
    const set = lines(at, (half) => onTwo(half, at, room.width, true));
    return { set, whole: halves.every((half) => onTwo(half, at, room.width, true).join(' ') === half) };
  });
  const high = broken.filter(({ set }) => taken + heightOf(set) <= room.height);
  const best = high.find(({ whole }) => whole) ?? high.at(-1);
  if (best) return best.set;
  return lines(fitting, (half) => [fitted(half, fitting, room.width, true)]);
}

/** `XLR female, 10 m`; one of the two where there is no room for both. */
function plugWords({ plug, length }: Label, size: number, width: number): string {
  const both = [plug, length].filter(Boolean).join(', ');
  return [both, plug, length].find((text) => widthOf(text, size) <= width) ?? fitted(plug, size, width);
}

function heightOf(lines: readonly Line[]): number {
  return lines.reduce((sum, line, index) => sum + above(line, index) + below(line), 0);
}

function above({ size }: Line, index: number): number {
  return size * (index === 0 ? ASCENT : ASCENT + LEADING);
}

function below({ size, mark }: Line): number {
  return size * (mark ? AFTER_MARK : DESCENT);
}

/** Under one another, in the middle of the height: of what is usual, or of what there is where that is more. */
function stacked(lines: readonly Line[], usual: number, label: Label, room: Rectangle): Words[] {
  const shown = lines.filter(({ text }) => text !== '');
  let y = room.y + Math.max(0, (room.height - Math.max(usual, heightOf(shown))) / 2);
  return shown.map((line, index) => {
    const { text, size, bold, role = 'ink' } = line;
    const base = y + above(line, index);
    y = base + below(line);
    const said = index === 0 ? { place: label.place, label: `${label.mark}: ${label.name}` } : {};
    return { kind: 'words', x: room.x, y: base, text, size, width: room.width, ...(bold ? { bold } : {}), role, ...said };
  });
}
