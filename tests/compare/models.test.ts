/** A kind of gear that is called otherwise is the same kind. */
import { expect, it } from 'vitest';
import { changeLines } from '#compare';
import { compareTexts, OWN_MODELS } from './open';

it.each(['our-buds', 'our-box', 'our-reed', 'our-desk'])('%s, renamed, is told as that and as nothing else', async (name) => {
  const compared = await compareTexts(OWN_MODELS, OWN_MODELS.replaceAll(name, 'anew'));
  const { moves, leads, leadCounts, settings, house, things, findings } = compared;
  expect(moves.renamed).toEqual([{ kind: 'model', before: `model:${name}`, after: 'model:anew' }]);
  expect(moves.moves.flatMap((move) => (move.what === 'changed' ? move.fields.map(({ field }) => field) : [move.what]))).toEqual(
    name === 'our-box' ? ['label'] : [],
  );
  expect({ leads, leadCounts, settings, house, things, come: findings.come, gone: findings.gone }).toEqual({
    leads: [],
    leadCounts: [],
    settings: [],
    house: [],
    things: [],
    come: [],
    gone: [],
  });
  expect(changeLines(compared).map(({ what, before, after }) => [what, before, after])).toEqual([['called', name, 'anew']]);
});

it('is still that where a figure of it has changed, as long as it has a label', async () => {
  const { moves } = await compareTexts(
    OWN_MODELS,
    OWN_MODELS.replace('our-desk "Desk" is interface-8-mic { owned }', 'a-desk "Desk" is interface-8-mic { latency 2 ms }').replace(
      'is our-desk',
      'is a-desk',
    ),
  );
  expect(moves.renamed).toEqual([{ kind: 'model', before: 'model:our-desk', after: 'model:a-desk' }]);
});
