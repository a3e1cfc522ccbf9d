/** What the sheet of levels in the ears says of ways that end in no ears. */
import { expect, it } from 'vitest';
import { sheetOf } from '#sheets';
import { analyseText } from './load';

it('has no level in the ears of somebody whose phones socket drives a loudspeaker', async () => {
  const loud = async (way: string) => {
    const { checked } = await analyseText(`rig "Wedge" # Invented.
      performer hedda "Hedda"
      source voice "Voice" is dynamic-mic by hedda
      gear iface "Interface" is interface-8-mic
      gear wedge "Loudspeaker" is powered-loudspeaker
      input iface.1 takes voice
      mix hedda mono for hedda { voice 0 dB }
      output iface.phones1 carries hedda ${way}`);
    if (!checked) throw new Error('That is a rig.');
    const sheet = await sheetOf('ears', checked);
    const cells = sheet.blocks.flatMap((block) => (block.kind === 'table' ? block.rows.map(({ cells }) => cells.join(' ')) : []));
    return [checked.hearings.length, cells.some((row) => /\d dB SPL|Hedda.*\d{2,3}/.test(row))];
  };
  expect(await loud('')).toEqual([1, true]);
  expect(await loud('via wedge.in')).toEqual([0, false]);
});
