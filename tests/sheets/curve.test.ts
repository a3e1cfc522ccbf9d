/** What money buys, drawn. */
import { expect, it } from 'vitest';
import type { Step } from '#plan';
import { stepCurve } from '../../packages/sheets/plan/curve';
import { troubles } from './drawings';

/** Money in whole units, and how many are served for it. */
function steps(...all: readonly (readonly [number, number])[]): Step[] {
  return all.map(([money, must]) => ({ cents: money * 100, purchases: [], reached: { must }, gains: [], losses: [], proven: true }));
}

const USUAL = steps([0, 8], [25, 9], [50, 10], [75, 10], [125, 11], [150, 11], [160, 11], [185, 11]);
const words = (made: readonly Step[], until: number) =>
  stepCurve(made, until, 'EUR').shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : []));

it.each<[string, Step[], number]>([
  ['the usual', USUAL, 25_000],
  ['no budget', USUAL, 0],
  ['a budget far beyond', USUAL, 9_000_000],
  ['hundredths', steps([0, 0], [19.99, 1], [39.98, 2], [40.01, 3]), 4_001],
  ['much money', steps([0, 3], [123_456, 4], [1_234_567, 5]), 123_456_789],
  ['many steps', steps(...Array.from({ length: 40 }, (_, at) => [at * 7, at] as const)), 30_000],
  ['many served', steps([0, 900], [20, 1_000]), 2_000],
  ['fewer served, that matter more', steps([0, 5], [20, 3]), 2_000],
])('has all in its place: %s', (_, made, until) => {
  expect(troubles(stepCurve(made, until, 'EUR'))).toEqual([]);
});

it('says what both scales are, each price and each number served once, and where the money ends', () => {
  const told = words(USUAL, 25_000);
  for (const { cents } of USUAL) expect(told.filter((each) => each === `${cents / 100}`)).toHaveLength(1);
  for (const served of ['8', '9', '10', '11']) expect(told.filter((each) => each === served)).toHaveLength(1);
  expect(told).toEqual(expect.arrayContaining(['sources and ears served', 'spent, in EUR', 'to spend: 250 EUR']));
  expect(words(USUAL, 0).some((each) => each.startsWith('to spend'))).toBe(false);
});

it('tells by a shape, not by a colour alone, where no more is served', () => {
  const dots = stepCurve(USUAL, 25_000, 'EUR').shapes.flatMap((shape) => (shape.kind === 'dot' && shape.label ? [shape.fill] : []));
  expect(dots).toEqual(['accent', 'accent', 'accent', 'paper', 'accent', 'paper', 'paper', 'paper']);
});
