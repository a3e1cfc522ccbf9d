/** A band that plays over its own loudspeakers, or over none: clean, and no sheet speaks of a house. */
import { expect, it } from 'vitest';
import { sheetOf } from '#sheets';
import { analyseText, foundIn } from '../checks/open';

const rig = (house: string) => `rig "Own Way, yard"
performer ola "Ola"
source voice "Voice" is dynamic-mic by ola
gear iface "Interface" is interface-4
input iface.1 takes voice
${house}
mix ola mono for ola { voice 0 dB }
output iface.phones carries ola
`;
const OURS = `house ours
mix yard "Yard" mono for house { voice -2 dB }
output iface.1 carries yard via powered-loudspeaker`;

it.each([
  ['ours', OURS],
  ['none', 'house none'],
])('house %s is clean and speaks of no house', async (_, house) => {
  const analysis = await analyseText(rig(house));
  expect(foundIn(analysis)).toEqual([]);
  const { checked } = analysis;
  if (!checked) throw new Error('not checked');
  expect((await sheetOf('house', checked)).blocks).toEqual([]);
  for (const id of ['patch-list', 'set-up', 'pack-down'] as const) {
    const ids = (await sheetOf(id, checked)).blocks.map((block) => ('id' in block ? block.id : ''));
    expect(ids.filter((each) => /^house/.test(each))).toEqual([]);
  }
  const words = JSON.stringify(await sheetOf('patch-list', checked));
  if (house === OURS) expect(words).toContain('our loudspeakers');
});

it('a click for the loudspeakers is still kept from the audience', async () => {
  const found = foundIn(
    await analyseText(
      rig(OURS.replace('{ voice', '{ click 0 dB  voice')).replace(
        'gear iface',
        'source click "Click" is click-channel\ninput iface.usb1 takes click\ngear iface',
      ),
    ),
  );
  expect(found.map(({ code }) => code)).toEqual(['mixes/private-to-house']);
});

it('a licence is said where radio is cautioned of', async () => {
  const radio = rig('house none')
    .replace('rig "Own Way, yard"', 'rig "Own Way, yard" licensed')
    .replace('is dynamic-mic', 'is wireless-mic');
  const { checked } = await analyseText(radio);
  if (!checked) throw new Error('not checked');
  expect(JSON.stringify(await sheetOf('set-up', checked))).toContain('you hold a licence');
});
