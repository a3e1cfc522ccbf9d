/** A band that plays over its own loudspeakers, or over none: clean, and no sheet speaks of a house. */
import { expect, it } from 'vitest';
import { renderSheet, SHEET_IDS, sheetOf } from '#sheets';
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
  const handedOver = renderSheet(await sheetOf('house', checked), 'text');
  expect(handedOver).toContain(`"house ${house === OURS ? 'ours' : 'none'}"`);
  expect(handedOver).not.toContain('Nothing of a rig');
  for (const id of ['patch-list', 'set-up', 'pack-down'] as const) {
    const ids = (await sheetOf(id, checked)).blocks.map((block) => ('id' in block ? block.id : ''));
    expect(ids.filter((each) => /^house/.test(each))).toEqual([]);
  }
  const words = JSON.stringify(await sheetOf('patch-list', checked));
  if (house === OURS) expect(words).toContain('our loudspeakers');
});

/** With radio, phantom power, what runs on the mains, and leads whose length nobody knows. */
const FULL = (house: string) => `rig "Own Way, yard" region EU budget 100 EUR
performer ola "Ola"
performer ida "Ida"
source voice "Voice" is wireless-mic by ola on 863.1 MHz
source horn "Horn" is clip-on-mic by ida
gear iface "Interface" is interface-8-mic
gear tx "Transmitter" is in-ear-transmitter on 864.5 MHz
gear pack "Pack" is belt-pack for ola hears tx.left buy 90 EUR
input iface.1 takes horn
input iface.5 takes voice.xlr
${house}
mix ola mono for ola { voice 0 dB }
mix ida mono for ida { horn 0 dB }
output iface.2 carries ola via tx.left
output iface.phones1 carries ida
`;

it.each([
  ['ours', OURS],
  ['none', 'house none'],
])('house %s: no word of a house on any other sheet, with all there can be on it', async (_, house) => {
  const { checked } = await analyseText(FULL(house));
  if (!checked) throw new Error('not checked');
  for (const id of SHEET_IDS.filter((each) => each !== 'house')) {
    const said = renderSheet(await sheetOf(id, checked), 'text');
    expect(said.length).toBeGreaterThan(200);
    expect(
      said.split('\n').filter((line) => /house/i.test(line)),
      id,
    ).toEqual([]);
  }
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
