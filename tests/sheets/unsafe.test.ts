/** What people are told of rigs in which something can be hurt. */
import { describe, expect, it } from 'vitest';
import { patchList, type SheetId, sheetOf } from '#sheets';
import { analyseText } from './load';
import { cellsOf } from './tables';

/** An invented trio. */
const BAND = `rig "Tin Lantern, boat shed"
performer ursa "Ursa"  at 0 m, 2 m
source c     "Bells"   is condenser-mic  by ursa
source r     "Cornet"  is ribbon-mic     by ursa
gear box "Box"  is interface-8-mic  at 0 m, 3 m
`;
const made = async (lines: string, id: SheetId) => sheetOf(id, (await analyseText(BAND + lines)).checked);

describe('phantom power', () => {
  it('has no switch turned on that a ribbon hangs on, and says what to do first', async () => {
    const rows = cellsOf(await made('input box.1 takes c\ninput box.2 takes r\n', 'set-up'), 'phantom');
    expect(rows[0]).toEqual(['Box 2', 'see that it is off, and stays off', 'Cornet']);
    expect(rows[1]?.[0]).toBe('Box 1..4');
    expect(rows[1]?.[1]).toMatch(
      /^do not switch on: Cornet is on this switch, and 48 V can destroy it\. First plug it into an input on another switch/,
    );
  });

  it('is on for a ribbon’s neighbours where a transformer keeps it from the ribbon', async () => {
    const rows = cellsOf(await made('input box.1 takes c\ninput box.2 takes r via isolating-transformer\n', 'set-up'), 'phantom');
    expect(rows).toEqual([['Box 1..4', 'on: one switch for all of these', 'Bells']]);
  });
});

describe('radio', () => {
  const caution = async (lines: string) => {
    const sheet = await made(lines, 'house');
    return sheet.blocks.some((block) => block.kind === 'cautions' && block.cautions.some(({ subject }) => subject === 'Radio'));
  };
  it.each([
    ['a transmitter, its frequency said or not', 'gear tx is in-ear-transmitter\n', true],
    ['a radio microphone', 'source v "Voice" is wireless-mic by ursa\n', true],
    ['none', '', false],
  ])('cautions: %s', async (_, lines, wanted) => {
    expect(await caution(`${lines}input box.1 takes c\n`)).toBe(wanted);
  });
});

describe('loudspeakers', () => {
  it('are on loudspeaker leads all the way, behind what passes them on, too', async () => {
    const { checked } = await analyseText(`${BAND}source steel "Lap steel" is guitar-amp by ursa
gear di   "Speaker DI"  is speaker-di
gear cab  "Cabinet"     is loudspeaker
input box.1   takes steel.speaker  via di.out
input cab.in  takes steel.speaker  via di.thru
`);
    const wirings = patchList(checked)
      .leads.filter(({ to }) => /Speaker DI|Cabinet/.test(to))
      .map(({ wiring }) => wiring);
    expect(wirings).toEqual(['speaker', 'speaker']);
  });
});
