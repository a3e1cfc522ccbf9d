import { expect, it } from 'vitest';
import type { Checked } from '#engine';
import { collectNow } from '#server/collect';
import { contextOf } from '../../packages/sheets/shared/context';
import { analyseText } from './load';

it('what sheets have asked of a rig goes with its check, though its network stays through any number of comments', async () => {
  const { checked } = await analyseText('rig "Copper Wren"\nsource reed "Reed" is dynamic-mic\n');
  expect(contextOf(checked)).toBe(contextOf(checked));
  // As after a comment: checked again, of the same network.
  const asked = (again: Checked) => new WeakRef(contextOf(again));
  const refs = Array.from({ length: 20 }, () => asked({ ...checked }));
  await new Promise((resolve) => setTimeout(resolve, 20));
  collectNow();
  expect(refs.filter((ref) => ref.deref()).length).toBeLessThan(3);
  expect(contextOf(checked).checked.network).toBe(checked.network);
});
