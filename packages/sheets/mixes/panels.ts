/** Each mix as a panel of bars, the loudest send first, all on one scale; two panels side by side. */
import { decibels, list } from '#engine';
import type { Mix, Rig, Send } from '#rig';
import { gridFigures, gridLines, type Scale, scaleOf, xOf } from '../draw/axis';
import { figure } from '../draw/figure';
import { legend, SAMPLE_MM, type Sign } from '../draw/legend';
import { straight } from '../draw/straight';
import { fitted, fittedToLast, words } from '../draw/words';
import type { Drawing, Path, Shape } from '../drawing';
import { isRaised, RAISED } from '../shared/raised';
import { isWide, sideWords, soundingLabel } from './sends';

/** A mix with what stands under its name. */
export interface Paneled {
  readonly mix: Mix;
  readonly under: string;
}

/** In mm. */
const PAGE = 180;
const PANEL = 86;
const GAP = PAGE - 2 * PANEL;
const HEAD = 11.5;
const ROW = 4.7;
const BETWEEN = 6;
const NAME = { x: 3.4, width: 30 };
const BAR = { x: 35, width: 30, height: 2.4 };
const FIGURE = { right: 74.5, width: 9 };
const PAN = { x: 77.5, width: 7.5 };
/** A drawing is no taller than this, so that two go on a page, unless one panel is. */
const MOST_TALL = 122;
/** A panel has at most so many rows, so that it goes on a page. */
const MOST_ROWS = 44;
/** Faders go no lower than this before they are shut (common practice, no source); what is sent lower has a bar of no length. */
const LOWEST_DB = -60;
const HIGHEST_DB = 20;

/** Drawings one below another, with the mixes that each shows. */
export function mixDrawings(rig: Rig, all: readonly Paneled[]): { readonly drawing: Drawing; readonly mixes: readonly Mix[] }[] {
  const levels = all.flatMap(({ mix }) => mix.sends.map((send) => send.levelDb));
  const scale = scaleOf([...levels, 0, -20], BAR, [LOWEST_DB, HIGHEST_DB]);
  const panels = all.flatMap((each) => panelsOf(rig, each, scale));
  const lines: Panel[][] = [];
  for (let index = 0; index < panels.length; index += 2) lines.push(panels.slice(index, index + 2));
  const pages: Panel[][][] = [];
  let tall = Number.POSITIVE_INFINITY;
  for (const line of lines) {
    const height = heightOf(line) + BETWEEN;
    if (tall + height > MOST_TALL) {
      pages.push([]);
      tall = 0;
    }
    pages.at(-1)?.push(line);
    tall += height;
  }
  return pages.map((page) => pageOf(page));
}

interface Panel {
  readonly mix: Mix;
  readonly height: number;
  readonly owns: boolean;
  /** Its shapes, with its upper left corner at x and y. */
  drawn(x: number, y: number): Shape[];
}

const heightOf = (line: readonly Panel[]) => Math.max(...line.map(({ height }) => height));

function pageOf(page: readonly (readonly Panel[])[]): { drawing: Drawing; mixes: Mix[] } {
  const panels = page.flat();
  const stereo = panels.some(({ mix }) => mix.stereo);
  const raised = panels.some(({ mix }) => mix.sends.some(isRaised));
  const signs = [...(panels.some(({ owns }) => owns) ? [OWN] : []), LEVEL, ...(raised ? [ABOVE] : []), ...(stereo ? [SIDE, WIDE] : [])];
  const key = legend(signs, { x: 0, top: 0, width: PAGE });
  const shapes = [...key.shapes];
  let y = key.height + 3;
  for (const line of page) {
    line.forEach((panel, index) => {
      shapes.push(...panel.drawn(index * (PANEL + GAP), y));
    });
    y += heightOf(line) + BETWEEN;
  }
  return { drawing: { width: PAGE, height: y - BETWEEN, shapes }, mixes: [...new Set(panels.map(({ mix }) => mix))] };
}

function panelsOf(rig: Rig, { mix, under }: Paneled, scale: Scale): Panel[] {
  const sends = mix.sends.toSorted((a, b) => b.levelDb - a.levelDb);
  const panels: Panel[] = [];
  for (let first = 0; first === 0 || first < sends.length; first += MOST_ROWS) {
    const here = sends.slice(first, first + MOST_ROWS);
    const title = first === 0 ? mix.label : `… ${mix.label}, continued`;
    panels.push({
      mix,
      height: HEAD + Math.max(1, here.length) * ROW,
      owns: here.some((send) => isOwn(rig, mix, send)),
      drawn: (x, y) => [
        ...head(mix, title, under, scale, x, y),
        ...(here.length > 0 ? rows(rig, mix, here, scale, x, y + HEAD) : nothing(x, y + HEAD)),
      ],
    });
  }
  return panels;
}

function head(mix: Mix, title: string, under: string, scale: Scale, x: number, y: number): Shape[] {
  const small = { size: 2.2, width: 3, anchor: 'middle', role: 'muted' } as const;
  return [
    straight(x, y, x + PANEL, y, { stroke: 'line' }),
    words(title, { x, y: y + 4, size: 3.2, width: PANEL, bold: true, place: mix.place }),
    words(under, { x, y: y + 7.4, size: 2.5, width: PANEL, role: 'muted', place: mix.place }),
    ...gridFigures({ ...scale, x: x + scale.x }, y + 10.8),
    words('dB', { ...small, x: x + FIGURE.right, y: y + 10.8, width: 5, anchor: 'end' }),
    ...(mix.stereo
      ? [words('L', { ...small, x: x + PAN.x, y: y + 10.8 }), words('R', { ...small, x: x + PAN.x + PAN.width, y: y + 10.8 })]
      : []),
  ];
}

function nothing(x: number, y: number): Shape[] {
  return [words('Nothing is sent to it yet.', { x: x + NAME.x, y: y + 3.3, size: 2.6, width: PANEL - NAME.x, role: 'muted' })];
}

function rows(rig: Rig, mix: Mix, sends: readonly Send[], scale: Scale, x: number, y: number): Shape[] {
  const here = { ...scale, x: x + scale.x };
  return [...gridLines(here, y, y + sends.length * ROW), ...sends.flatMap((send, index) => row(rig, mix, send, here, x, y + index * ROW))];
}

function row(rig: Rig, mix: Mix, send: Send, scale: Scale, x: number, y: number): Shape[] {
  const own = isOwn(rig, mix, send);
  const middle = y + ROW / 2;
  const { place } = send;
  const name = soundingLabel(rig, send);
  const shapes: Shape[] = [
    {
      kind: 'box',
      x: scale.x,
      y: middle - BAR.height / 2,
      width: xOf(scale, send.levelDb) - scale.x,
      height: BAR.height,
      fill: own ? 'accent' : 'muted',
      label: sendWords(rig, mix, send),
    },
    ...(own ? [diamond(x + 1.3, middle)] : []),
    words(cut(name, send.channel, own), { x: x + NAME.x, y: middle + 0.95, size: 2.7, width: NAME.width, bold: own, label: name }),
    levelFigure(send, x, middle),
    ...(mix.stereo ? side(isWide(rig, send), send.panPercent, x, middle) : []),
  ];
  return shapes.map((shape) => ({ ...shape, place }));
}

/** One that is raised stands out, and has a sign that is seen without colour or weight. */
function levelFigure(send: Pick<Send, 'levelDb'>, x: number, middle: number): Shape {
  const raised = isRaised(send);
  const text = `${raised ? '! ' : ''}${figure(send.levelDb)}`;
  return words(text, { x: x + FIGURE.right, y: middle + 0.95, size: 2.7, width: FIGURE.width, anchor: 'end', bold: raised });
}

/** Where it does not fit, a channel's name stays. */
function cut(name: string, channel: string | undefined, bold: boolean): string {
  return (channel === undefined ? fitted : fittedToLast)(name, 2.7, NAME.width, bold);
}

/** Played or sung by somebody who hears the mix. */
function isOwn(rig: Rig, mix: Mix, send: Send): boolean {
  const by = rig.sources.get(send.source)?.by;
  return by !== undefined && mix.for.includes(by);
}

/** Where a sound stands between left and right; one that is stereo itself keeps its width and leans. */
function side(wide: boolean, panPercent: number, x: number, y: number): Shape[] {
  const left = x + PAN.x;
  const at = left + ((Math.max(-100, Math.min(panPercent, 100)) + 100) / 200) * PAN.width;
  const right = left + PAN.width;
  const centre = left + PAN.width / 2;
  const rules = [
    straight(left, y, right, y, { stroke: 'line', strokeWidth: 0.2 }),
    straight(centre, y - 0.8, centre, y + 0.8, { stroke: 'line', strokeWidth: 0.2 }),
  ];
  if (!wide) return [...rules, { kind: 'dot', x: at, y, radius: 0.9, fill: 'ink' }];
  const ring = (where: number): Shape => ({ kind: 'dot', x: where, y, radius: 0.8, fill: 'paper', stroke: 'ink', strokeWidth: 0.3 });
  const span = straight(left, y, right, y, { stroke: 'ink', strokeWidth: 0.4 });
  const leaning: Shape[] = panPercent === 0 ? [] : [{ kind: 'dot', x: at, y, radius: 0.9, fill: 'ink' }];
  return [span, ring(left), ring(right), ...leaning];
}

function diamond(x: number, y: number): Path {
  const r = 1.2;
  const points = [[x, y - r] as const, [x + r, y] as const, [x, y + r] as const, [x - r, y] as const];
  return { kind: 'path', points, closed: true, fill: 'accent' };
}

// ---- words ---------------------------------------------------------------------------------------

function sendWords(rig: Rig, mix: Mix, send: Send): string {
  const side = mix.stereo ? (sideWords(send.panPercent) ?? (isWide(rig, send) ? 'left and right' : 'in the middle')) : undefined;
  const level = `${soundingLabel(rig, send)} ${decibels(send.levelDb)}`;
  return [level, isRaised(send) ? RAISED : undefined, side, isOwn(rig, mix, send) ? 'their own' : undefined].filter(Boolean).join(', ');
}

/** What a drawing of these mixes shows, for those who cannot see it. */
export function mixWords(rig: Rig, mixes: readonly Mix[]): string {
  return mixes
    .map((mix) => {
      const loudest = mix.sends.toSorted((a, b) => b.levelDb - a.levelDb).slice(0, 3);
      const told = loudest.map((send) => sendWords(rig, mix, send));
      return told.length > 0
        ? `${mix.label}: loudest ${list(told.map((each) => each.replaceAll(', ', ' ')))}.`
        : `${mix.label}: nothing yet.`;
    })
    .join(' ');
}

// ---- signs ---------------------------------------------------------------------------------------

const OWN: Sign = { text: 'the listener’s own', sample: (x, y) => [diamond(x + SAMPLE_MM / 2, y)] };
const LEVEL: Sign = {
  text: 'what is sent; 0 dB: as loud as it comes in',
  sample: (x, y) => [{ kind: 'box', x, y: y - BAR.height / 2, width: SAMPLE_MM, height: BAR.height, fill: 'muted' }],
};
const ABOVE: Sign = { text: RAISED, sample: (x, y) => [levelFigure({ levelDb: 3 }, x + SAMPLE_MM - FIGURE.right, y)] };
// A little wider than the field for a sample, it reaches into the gap before the words.
const SIDE: Sign = { text: 'where it is between left and right', sample: (x, y) => side(false, 0, x - PAN.x + 0.8, y) };
const WIDE: Sign = { text: 'stereo itself', sample: (x, y) => side(true, 0, x - PAN.x + 0.8, y) };
