/** The helper that looks at drawings sees what it is to see. */
import { expect, it } from 'vitest';
import type { Shape } from '../../packages/sheets/drawing';
import { troubles } from './drawings';

const drawn = (...shapes: Shape[]) => troubles({ width: 100, height: 50, shapes });
const word = (x: number, y: number, text = 'word') => ({ kind: 'words', x, y, text, size: 3, width: 30 }) as const;

it('finds nothing wrong where nothing is', () => {
  expect(drawn(word(0, 3), word(0, 6), word(20, 3), { kind: 'box', x: 0, y: 0, width: 100, height: 50 })).toEqual([]);
});

it.each<[string, Shape[], RegExp]>([
  ['a box over the edge', [{ kind: 'box', x: 90, y: 0, width: 11, height: 5 }], /leaves the frame/],
  ['a box that is inside out', [{ kind: 'box', x: 90, y: 0, width: -1, height: 5 }], /inside out/],
  ['a dot over the edge', [{ kind: 'dot', x: 1, y: 10, radius: 2 }], /leaves the frame/],
  ['a path over the edge', [{ kind: 'path', points: [[0, 0], [5, 51]] }], /leaves the frame/], // biome-ignore format: one line a case
  ['words below the edge', [word(0, 50)], /leaves the frame/],
  ['words that end beyond the edge', [{ ...word(5, 10), anchor: 'end' }], /leaves the frame/],
  ['words longer than they may be', [{ ...word(5, 10), width: 4 }], /takes more/],
  ['words on words', [word(10, 10), word(14, 11)], /"word" and "word" lie on each other/],
  ['a figure that is none', [{ kind: 'dot', x: Number.NaN, y: 10, radius: 2 }], /nowhere/],
])('sees %s', (_, shapes, says) => {
  const found = drawn(...shapes);
  expect(found).toHaveLength(1);
  expect(found[0]).toMatch(says);
});
