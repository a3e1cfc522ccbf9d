/** What money buys, drawn: how many are served, step by step as more is spent. */
import { moneyText, type Step } from '#plan';
import { widthOf, words } from '../draw/words';
import type { Drawing, Shape } from '../drawing';

const WIDTH = 170;
const HEIGHT = 62;
const LEFT = 14;
const RIGHT = 12;
const TOP = 8;
const BOTTOM = 14;
const FIGURE_MM = 2.6;

/** Served: musts, shoulds and coulds together. `until` is where the money ends, in hundredths. */
export function stepCurve(steps: readonly Step[], until: number, currency: string): Drawing {
  const served = steps.map(({ reached }) => (reached.must ?? 0) + (reached.should ?? 0) + (reached.could ?? 0));
  const most = Math.max(1, ...served);
  const least = Math.max(0, Math.min(...served) - 1);
  const end = Math.max(until, (steps.at(-1)?.cents ?? 0) * 1.05, 100);
  const x = (cents: number) => LEFT + (cents / end) * (WIDTH - LEFT - RIGHT);
  const y = (value: number) => HEIGHT - BOTTOM - ((value - least) / Math.max(1, most - least)) * (HEIGHT - TOP - BOTTOM);
  const shapes: Shape[] = [
    {
      kind: 'path',
      points: [
        [LEFT, TOP - 3],
        [LEFT, HEIGHT - BOTTOM],
        [WIDTH - RIGHT + 4, HEIGHT - BOTTOM],
      ],
      stroke: 'line',
      strokeWidth: 0.25,
    },
    words('served', { x: LEFT + 1.5, y: TOP - 2, size: FIGURE_MM, width: 40, role: 'muted' }),
    words(currency, { x: WIDTH - 1, y: HEIGHT - 2.5, size: FIGURE_MM, width: 20, anchor: 'end', role: 'muted' }),
  ];
  const points: [number, number][] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const [index, step] of steps.entries()) {
    const value = served[index] as number;
    const [left, right] = [x(step.cents), x(steps[index + 1]?.cents ?? end)];
    points.push([left, y(value)], [right, y(value)]);
    shapes.push({
      kind: 'dot',
      x: left,
      y: y(value),
      radius: 1.1,
      fill: 'accent',
      label: `${moneyText(step.cents, currency)}: ${value} served`,
    });
    shapes.push(words(String(value), { x: left, y: y(value) - 2, size: FIGURE_MM, width: 12, anchor: 'middle' }));
    const figure = moneyText(step.cents, '').trim();
    const half = widthOf(figure, FIGURE_MM) / 2;
    if (left - half < last) continue;
    last = left + half + 1.5;
    shapes.push({
      kind: 'path',
      points: [
        [left, HEIGHT - BOTTOM],
        [left, HEIGHT - BOTTOM + 1.2],
      ],
      stroke: 'line',
      strokeWidth: 0.25,
    });
    shapes.push(words(figure, { x: left, y: HEIGHT - BOTTOM + 4.6, size: FIGURE_MM, width: 24, anchor: 'middle' }));
  }
  shapes.splice(3, 0, { kind: 'path', points, stroke: 'accent', strokeWidth: 0.6 });
  return { width: WIDTH, height: HEIGHT, shapes };
}
