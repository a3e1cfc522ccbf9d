/** What money buys, drawn: how many are served, step by step as more is spent. */
import { moneyText, type Step } from '#plan';
import { legend, SAMPLE_MM, type Sign } from '../draw/legend';
import { straight } from '../draw/straight';
import { widthOf, words } from '../draw/words';
import type { Dot, Drawing, Shape } from '../drawing';

const WIDTH = 170;
/** From the middle of the highest step to the scale of money. */
const HIGH = 40;
const LEFT = 10;
const RIGHT = 12;
const FIGURE_MM = 2.6;
const LINE_MM = 3.8;
/** Two figures under one another are at least so far apart. */
const APART_MM = 4;
const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** Served: musts, shoulds and coulds together. `until` is what there is to spend, in hundredths; 0 where that is not said. */
export function stepCurve(steps: readonly Step[], until: number, currency: string): Drawing {
  const served = steps.map(({ reached }) => (reached.must ?? 0) + (reached.should ?? 0) + (reached.could ?? 0));
  const most = Math.max(1, ...served);
  const least = Math.max(0, Math.min(...served) - 1);
  const end = Math.max(until, (steps.at(-1)?.cents ?? 0) * 1.05, 100);
  const more = served.map((value, index) => index === 0 || value !== served[index - 1]);

  const signs = legend(more.every(Boolean) ? [MORE] : [MORE, BETTER], { x: 0, top: 0, width: WIDTH });
  const top = signs.height + 2 * LINE_MM;
  const bottom = top + HIGH;
  const x = (cents: number) => LEFT + (cents / end) * (WIDTH - LEFT - RIGHT);
  const y = (value: number) => bottom - ((value - least) / (most - least)) * HIGH;

  const right = WIDTH - RIGHT + 4;
  const shapes: Shape[] = [
    ...signs.shapes,
    words('sources and ears served', { x: 0, y: top - LINE_MM, size: FIGURE_MM, width: 60, role: 'muted' }),
  ];
  const by = STEPS.find((each) => (each / (most - least)) * HIGH >= APART_MM) ?? most;
  for (let value = Math.ceil(least / by) * by; value <= most; value += by)
    shapes.push(
      straight(LEFT, y(value), right, y(value), { stroke: 'line', strokeWidth: 0.12 }),
      words(`${value}`, { x: LEFT - 2, y: y(value) + FIGURE_MM * 0.35, size: FIGURE_MM, width: LEFT - 2, anchor: 'end' }),
    );
  shapes.push(
    straight(LEFT, top - 2, LEFT, bottom, { stroke: 'line', strokeWidth: 0.25 }),
    straight(LEFT, bottom, right, bottom, { stroke: 'line', strokeWidth: 0.25 }),
  );
  if (until > 0)
    shapes.push(
      straight(x(until), top - 2, x(until), bottom, { stroke: 'muted', strokeWidth: 0.3, dashed: true }),
      words(`to spend: ${moneyText(until, currency)}`, {
        x: x(until),
        y: top - LINE_MM,
        size: FIGURE_MM,
        width: 80,
        anchor: x(until) > WIDTH / 2 ? 'end' : 'start',
        role: 'muted',
      }),
    );

  const points = steps.flatMap(({ cents }, index): [number, number][] => {
    const high = y(served[index] as number);
    return [
      [x(cents), high],
      [x(steps[index + 1]?.cents ?? end), high],
    ];
  });
  shapes.push({ kind: 'path', points, stroke: 'accent', strokeWidth: 0.6 });
  // A figure that has no room beside the one before stands below.
  const taken = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const [index, { cents }] of steps.entries()) {
    const at = x(cents);
    const label = `${moneyText(cents, currency)}: ${served[index]} served`;
    shapes.push({ ...dot(at, y(served[index] as number), more[index] === true), label });
    const figure = moneyText(cents, '').trim();
    const half = widthOf(figure, FIGURE_MM) / 2;
    const line = taken.findIndex((to) => at - half > to);
    if (line < 0) continue;
    taken[line] = at + half + 1.5;
    const under = bottom + 1 + (line + 1) * LINE_MM;
    shapes.push(
      straight(at, bottom, at, under - FIGURE_MM, { stroke: 'line', strokeWidth: 0.25 }),
      words(figure, { x: at, y: under, size: FIGURE_MM, width: 24, anchor: 'middle' }),
    );
  }
  const under = bottom + 1 + 3 * LINE_MM;
  shapes.push(words(`spent, in ${currency}`, { x: LEFT, y: under, size: FIGURE_MM, width: 80, role: 'muted' }));
  return { width: WIDTH, height: under + 2, shapes };
}

/** A step is full where another number is served from there on. */
function dot(x: number, y: number, more: boolean): Dot {
  return { kind: 'dot', x, y, radius: 1.1, fill: more ? 'accent' : 'paper', stroke: 'accent', strokeWidth: 0.4 };
}

const MORE: Sign = { sample: (x, y) => [dot(x + SAMPLE_MM / 2, y, true)], text: 'more is served from here on, or what matters more' };
const BETTER: Sign = { sample: (x, y) => [dot(x + SAMPLE_MM / 2, y, false)], text: 'as many, but better: the table says how' };
