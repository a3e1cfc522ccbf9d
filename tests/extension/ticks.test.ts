/** What is ticked outlives the window, by rig. */
import { expect, it } from 'vitest';
import { Ticks } from '../../packages/extension/ticks';

it('ticks are kept for each rig, and nothing is kept where nothing is ticked', () => {
  const kept = new Map<string, unknown>();
  const memento = {
    keys: () => [...kept.keys()],
    get: (key: string) => kept.get(key) as never,
    update: async (key: string, value: unknown) => void (value === undefined ? kept.delete(key) : kept.set(key, value)),
  };
  new Ticks(memento).keep('file:///a.rig', { 'set-up': ['x'], leads: [] });
  const later = new Ticks(memento);
  expect(later.of('file:///a.rig')).toEqual({ 'set-up': ['x'], leads: [] });
  expect(later.of('file:///b.rig')).toEqual({});
  later.keep('file:///a.rig', { 'set-up': [], leads: [] });
  expect(memento.keys()).toEqual([]);
});
