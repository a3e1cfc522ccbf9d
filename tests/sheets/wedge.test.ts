/** Whoever hears a mix from a wedge has no earphones to plug in, to buy or to take out. */
import { expect, it } from 'vitest';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { mixesSheet } from '../../packages/sheets/mixes/sheet';
import { packDownSheet } from '../../packages/sheets/pack-down/sheet';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { shoppingSheet } from '../../packages/sheets/shopping/sheet';
import { analyseText } from './load';
import { cellsOf } from './tables';

const RIG = `rig "Salt and Ember, tithe barn" region EU
performer ida "Ida" at -1 m, 1 m ears earphones
performer jon "Jon" at 1 m, 1 m
source vox "Voice" is dynamic-mic by ida
source tuba "Tuba" is clip-on-mic by jon
gear iface "Interface" is interface-8-mic at 0 m, 3 m
gear wedge "Wedge" is floor-wedge at 1.5 m, 0 m borrowed
input iface.1 takes vox
input iface.3 takes tuba phantom on
mix ida mono for ida { vox 0 dB }
mix jon mono for jon { vox -3 dB }
output iface.1 carries ida via wired-pack
output iface.2 carries jon via wedge
`;

it('the strip, the knobs before the show and the ears after it are those of whoever wears some', async () => {
  const { checked } = await analyseText(RIG);
  const [ida, jon] = cellsOf(mixesSheet(checked), 'strips');
  expect(ida?.slice(2, 5)).toEqual(['from Interface 1', 'earphones in Wired body pack', 'mono: the same in both ears']);
  expect(jon?.slice(2, 5)).toEqual(['from Interface 2', 'Wedge', 'mono']);
  expect(jon?.[7]).toMatch(/^Nothing, too loud, or it howls: its knob down\. One arm up/);
  expect(cellsOf(setUpSheet(checked), 'limiters').map(([who]) => who)).toEqual(['Ida']);
  expect(cellsOf(packDownSheet(checked), 'quiet').find(([what]) => `${what}`.startsWith('Ears out'))?.[1]).toBe('Ida');
  expect(JSON.stringify(shoppingSheet(checked))).not.toContain('Earphones for Jon');
  expect(JSON.stringify(houseSheet(checked))).toContain('It serves all of us, two people');
});

it('somebody with a wedge and a pack wears ears', async () => {
  const both = RIG.replace('for ida { vox 0 dB }', 'for ida, jon { vox 0 dB }').replace(
    'ida via wired-pack',
    'ida via wired-pack\noutput iface.3 carries ida via wired-pack',
  );
  const { checked } = await analyseText(both);
  expect(cellsOf(setUpSheet(checked), 'limiters').map(([who]) => who)).toEqual(['Ida', 'Jon']);
  expect(cellsOf(packDownSheet(checked), 'quiet').find(([what]) => `${what}`.startsWith('Ears out'))?.[1]).toBe('Ida and Jon');
});
