/** The page for the house's engineer: what it says of each kind of line, what it asks, and that it stays on one page. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Sheet, sheetOf } from '#sheets';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { analyse, analyseText, here, TOUR } from './load';

const examples = join(import.meta.dirname, '../../examples');
const of = async (path: string) => await sheetOf('house', (await analyse(path)).checked);

function table(sheet: Sheet, id: string) {
  const block = sheet.blocks.find((each) => each.id === id);
  if (block?.kind !== 'table') throw new Error(`no table ${id}`);
  return block;
}

/** A two-column table as what stands beside each subject. */
const told = (sheet: Sheet, id: string) => Object.fromEntries(table(sheet, id).rows.map((row) => row.cells as [string, string]));

describe('a line of each kind', async () => {
  const sheet = await of(here('../house/each-kind.rig'));

  it('says of each what the house gets, how it comes, and what our rig does to it', () => {
    expect(table(sheet, 'lines').rows.map((row) => row.cells)).toEqual([
      ['1', 'Kick', 'own mic', '', '', '', 'untouched', '', undefined],
      ['2', 'Kick, inside', 'ours: Kick', 'direct', 'mic level, XLR', 'off', 'untouched', '', undefined],
      ['3', 'Voice', 'ours', 'its xlr output', 'mic level, XLR', 'off', 'untouched, we take Voice jack', '', undefined],
      ['4', 'Tenor', 'ours', 'Y-lead', 'mic level, XLR', 'off; 48 V from us arrives here', 'tapped at Y-lead', 'into our Y-lead', 0.6],
      ['5', 'Alto', 'ours', 'Transformer split direct', 'mic level, XLR', 'off', 'isolated by Transformer split', 'into our Transformer split', 0.6],
      ['6', 'Fiddle', 'ours', 'Y-lead', 'mic level, XLR', '48 V from us', 'depends on 48 V from Interface 2', 'into our Y-lead', 0.8],
      ['7', 'Cello', 'ours', 'House split 1', 'mic level, XLR', '48 V from the house', 'isolated by House split', '', 0.8],
      ['8', 'Guest', 'their own', 'House split iso2', 'mic level, XLR', '', 'isolated by House split', '', 0.6],
      ['9', 'Hurdy-gurdy', 'ours', "Active DI thru → The house’s DI out", 'mic level, XLR', '48 V from the house', 'tapped at Active DI', 'into our Active DI', 0],
      ['10', 'Lute', 'ours', 'Lute DI out', 'mic level, XLR', '', 'isolated by Lute DI', '', 0],
      ['11', 'Oud', 'ours', "Passive DI thru → The house’s DI out", 'mic level, XLR', '48 V from the house', 'isolated by Passive DI', 'into our Passive DI', 0],
      ['12', 'Banjo', 'ours', 'Banjo DI out', 'mic level, XLR', '', 'depends on Banjo DI (battery)', '', 0.4],
      ['13', 'Horn', 'ours', 'Horn split', 'mic level, XLR', '', 'depends on Horn split (mains)', 'into our Horn split', 0],
      ['14', 'Tuba', 'ours', 'Preamp out1', 'line level, XLR', '', 'depends on Preamp', 'into our Preamp', 0],
      ['15', 'Bassoon', 'ours', 'Bassoon fx → Y-lead', 'mic level, XLR', '', 'depends on Bassoon fx (battery)', 'into our Y-lead', 0.6],
      ['16', 'Drone', 'our mix: for-house', 'Interface 1 → Passive DI out', 'mic level, XLR', '', 'brought by us', '', undefined],
    ]); // biome-ignore format: a line a row
  });

  it('counts them, and each line of theirs once', () => {
    const said = told(sheet, 'about').Lines ?? '';
    expect(said).toBe('8 of 15 lines re-plugged, 3 untouched, 2 tapped, 5 isolated, 5 depending on us; 1 more brought by us.');
    const [, ...kinds] = said.match(/\d+/g)?.map(Number).slice(1) ?? [];
    expect(kinds.slice(0, 4).reduce((a, b) => a + b)).toBe(15);
  });

  it('asks for what is to be plugged and kept', () => {
    expect(told(sheet, 'about')['We ask']).toBe(
      'Plug 4 to 6, 9, 11 and 13 to 15 into our gear as below; keep 16 for us; give our rig power from one distribution; and tell us before 48 V goes on or off.',
    );
  });

  it('tells what is brought, by whom, what comes to us, and what goes silent without us', () => {
    const needs = told(sheet, 'needs');
    expect(needs['We bring']).toMatch(/^3 × Y-lead \(4, 6 and 15\), Transformer split \(5\), Active DI \(9\)/);
    expect(needs['The house brings']).toBe('House split (7 and 8), 2 × the house’s DI (9 and 11); microphones of its own with leads (1)');
    expect(needs['Lines kept for us']).toBe('16 Drone, mic level');
    expect(needs['Our side of its gear']).toBe('House split: Cello, Guest');
    expect(needs['Into our ears']).toBe('Guest at Interface 8, from the house.');
    expect(needs['Mains sockets']).toMatch(
      /^6, all from one distribution, which feeds the desk too, as agreed: 5 .*Horn split, receiver of Voice\); 1 for our computer$/,
    );
    expect(needs['Without our rig']).toBe(
      'Off or unplugged: 1 to 5 and 7 to 11 play on, up to 0.8 dB louder with our plugs out. 6 and 12 to 16 go silent.',
    );
  });
});

it('tells frequencies from the lowest, whose they are, and where sockets have to be', async () => {
  const sheet = await of(TOUR);
  const needs = told(sheet, 'needs');
  expect(needs.Radio).toBe('863.3 MHz Transmitter; 864.1 MHz House handheld, the house’s');
  expect(needs['Mains sockets']).toBe(
    '4, all from one distribution, the desk’s if that can be: 2 at 1 m stage left, 4.5 m back (Interface, Transmitter); 1 in the middle, 4 m back (Headphone amplifier); 1 for our computer',
  );
  expect(needs.Ground).toBe(
    'Metal joins our ground and the house’s at line 8. One distribution for both, please; should it hum, we isolate on our side.',
  );
  // Nothing splits the clarinet, and Brana has no mix.
  expect(told(sheet, 'about').Lines).toContain('1 not settled yet');
  expect(told(sheet, 'about').We).toContain('It serves three of the four of us; ask us about the other.');
  expect(sheet.draft?.error).toBeGreaterThan(0);
  const cautions = sheet.blocks.find((block) => block.kind === 'cautions');
  expect(cautions?.kind === 'cautions' && cautions.cautions.map(({ subject }) => subject)).toEqual([
    'Phantom power',
    'Never for the audience',
    'Ears',
    'Mains',
    'Radio',
  ]);
  expect(cautions?.kind === 'cautions' && cautions.cautions[1]?.text).toContain('Click');
});

it('leaves all contacts blank, and says where the stage box is as far as the rig does', async () => {
  const form = (await of(TOUR)).blocks.find((block) => block.kind === 'form');
  expect(form?.kind === 'form' && form.fields.filter(({ value }) => value)).toEqual([
    { title: 'Stage box', value: '4 m stage left, 1 m back' },
  ]);
  expect(form?.kind === 'form' && form.fields).toHaveLength(7);
});

it('shows no findings, is no draft where there are none, and is the same each time', async () => {
  for (const name of readdirSync(examples).filter((each) => each.endsWith('.rig'))) {
    const { checked } = await analyse(join(examples, name));
    const sheet = await sheetOf('house', checked);
    expect(sheet.draft).toBeUndefined();
    for (const block of sheet.blocks) if (block.kind === 'table') expect(block.rows.flatMap((row) => row.findings)).toEqual([]);
    expect(JSON.stringify(await sheetOf('house', checked))).toBe(JSON.stringify(sheet));
  }
});

it.each(['rig "Bare"\n', 'house 1\n', 'house 1 "A"\nhouse 1 "A" takes nobody\n', 'gear i is interface-8\noutput i.1 carries\n'])(
  'takes half a rig: %j',
  async (text) => {
    const sheet = houseSheet((await analyseText(text)).checked);
    const lines = text.match(/^house/gm)?.length ?? 0;
    if (lines > 0) expect(table(sheet, 'lines').rows.map((row) => row.unfinished)).toEqual(Array(lines).fill(true));
  },
);
