/** Several ways to take one source: the first is how it is taken, the others are kept for a plan. */
import { expect, it } from 'vitest';
import { analyseText } from '../checks/open';

const rig = (is: string) => `rig "Or"\nsource bass "Bass" is ${is}\n`;

it('is taken by the first, and knows the others in their order', async () => {
  const { lowered, located } = await analyseText(rig('amp-line-out or dynamic-mic or modeller'));
  expect(lowered.rig.pieces.get('source:bass')?.model.id).toBe('amp-line-out');
  expect(lowered.rig.sources.get('source:bass')?.instead?.map(({ id }) => id)).toEqual(['dynamic-mic', 'modeller']);
  expect(located.map(({ finding }) => finding.code)).toEqual([]);
});

it('tells of a name that is not known, and of one that is missing', async () => {
  const unknown = await analyseText(rig('amp-line-out or dynamic-mik'));
  expect(unknown.located.map(({ finding }) => finding.code)).toEqual(['names/unknown']);
  const missing = await analyseText(rig('amp-line-out or'));
  expect(missing.located.map(({ finding }) => finding.code)).toEqual(['text/unfinished']);
});

it('stays a name that a source may have', async () => {
  const { lowered } = await analyseText('rig "Or"\nsource or is dynamic-mic\n');
  expect([...lowered.rig.sources.keys()]).toEqual(['source:or']);
});
