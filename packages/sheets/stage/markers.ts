/** What things look like from above: told apart by shape, each with its number in it. */
import type { Shape } from '../drawing';
import type { Kind, Thing } from './things';

/** From the middle of a marker to its edges, in mm; what lies at somebody's feet is drawn below. */
export const HALF_WIDTH = 3.9;
export const HALF_HEIGHT = 3.5;
const FEET = 2.2;
export const reach = (thing: Pick<Thing, 'kind' | 'with'>) => ({
  above: HALF_HEIGHT,
  below: feet(thing).length > 0 ? HALF_HEIGHT + FEET : HALF_HEIGHT,
});

const STROKE = 0.35;
const NUMBER_MM = 2.6;

type Drawn = Pick<Shape, 'place' | 'label'>;

/** A marker with its middle at x, y. `number` stands in it. */
export function marker(thing: Thing, number: number, x: number, y: number): Shape[] {
  const drawn = { place: thing.place, label: `${thing.label}, ${thing.is}` };
  const kinds = feet(thing);
  return [
    ...outline(thing.kind, x, y, 1, drawn),
    {
      kind: 'words',
      x,
      y: y + NUMBER_MM * 0.36 + (thing.kind === 'mic' ? -0.6 : thing.kind === 'mains' ? -1 : 0),
      text: String(number),
      size: NUMBER_MM,
      width: 2 * HALF_WIDTH,
      anchor: 'middle',
      role: thing.kind === 'interface' ? 'paper' : 'ink',
      bold: true,
      place: thing.place,
    },
    ...kinds.flatMap((kind, index) =>
      outline(kind, x + (index - (kinds.length - 1) / 2) * 2.5, y + HALF_HEIGHT + 0.9, 0.3, { place: thing.place }),
    ),
  ];
}

/** The kinds of what is at somebody's feet or on them, each once. */
export function feet({ with: there }: Pick<Thing, 'with'>): Kind[] {
  return (['stand', 'mic', 'box', 'radio'] as const).filter((kind) => there.some((each) => each.kind === kind));
}

/** `scale` 1 is as large as on the stage. */
export function outline(kind: Kind, x: number, y: number, scale: number, drawn: Drawn): Shape[] {
  const line = { stroke: 'ink', strokeWidth: scale < 1 ? 0.25 : STROKE, fill: 'paper', ...drawn } as const;
  const path = (...points: [number, number][]): Shape => ({
    kind: 'path',
    points: points.map(([dx, dy]) => [x + dx * scale, y + dy * scale] as const),
    closed: true,
    ...line,
  });
  const box = (halfWidth: number, halfHeight: number, radius = 0): Shape => ({
    kind: 'box',
    x: x - halfWidth * scale,
    y: y - halfHeight * scale,
    width: 2 * halfWidth * scale,
    height: 2 * halfHeight * scale,
    radius: radius * scale,
    ...line,
  });
  switch (kind) {
    case 'person':
      return [{ kind: 'dot', x, y, radius: 3.2 * scale, ...line, strokeWidth: scale < 1 ? 0.3 : 0.5 }];
    case 'mic':
      return [path([-3.8, -2.9], [3.8, -2.9], [0, 3.4])];
    case 'stand': {
      const leg = (dx: number, dy: number): Shape => ({ kind: 'path', points: [[x, y], [x + dx * scale, y + dy * scale]], stroke: 'ink', strokeWidth: line.strokeWidth, ...drawn }); // biome-ignore format: one stroke
      return [leg(-3.2, 2.2), leg(3.2, 2.2), leg(0, -3.4), { kind: 'dot', x, y, radius: 1.5 * scale, ...line }];
    }
    case 'mains':
      return [
        box(2.6, 2.6, 0.6),
        ...[-1, 1].map(
          (side): Shape => ({ kind: 'dot', x: x + side * 1.1 * scale, y: y + 0.6 * scale, radius: 0.5 * scale, fill: 'ink', ...drawn }),
        ),
      ];
    case 'box':
      return [path([0, -3.4], [3.9, 0], [0, 3.4], [-3.9, 0])];
    case 'interface':
      return [{ ...box(3.8, 2.5), fill: 'accent', stroke: 'accent' } as Shape];
    case 'radio':
      return [
        { kind: 'path', ...drawn, points: [[x + 2.4 * scale, y - 2 * scale], [x + 2.4 * scale, y - 3.5 * scale]], stroke: 'ink', strokeWidth: line.strokeWidth * 1.6 }, // biome-ignore format: one stroke
        box(3.6, 2.2, 2.2),
      ];
    case 'other':
      return [box(3.4, 2.4)];
    case 'house':
      return [box(3.8, 3.2), { ...box(3.1, 2.5), fill: 'tint', label: undefined } as Shape];
  }
}
