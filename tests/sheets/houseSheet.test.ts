/** The page for the house's engineer: what it says of each kind of line, what it asks, and that it stays on one page. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it, vi } from 'vitest';
import { count, repluggedOf } from '#engine';
import { patchList, type Sheet, sheetOf } from '#sheets';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { analyse, analyseText, here, TOUR } from './load';
import { THIRTY_TWO } from './thirtyTwo';

vi.setConfig({ testTimeout: 120_000 });

const examples = join(import.meta.dirname, '../../examples');
const of = async (path: string) => await sheetOf('house', (await analyse(path)).checked);

function table(sheet: Sheet, id: string) {
  const block = sheet.blocks.find((each) => each.id === id);
  if (block?.kind !== 'table') throw new Error(`no table ${id}`);
  return block;
}

/** A two-column table as what stands beside each subject. */
const told = (sheet: Sheet, id: string) => Object.fromEntries(table(sheet, id).rows.map((row) => row.cells as [string, string]));

describe('what stands on the lines', () => {
  const duo = async (at: (place: string) => string) =>
    told(
      await sheetOf(
        'house',
        (
          await analyseText(`rig "Larch, barn"
    performer ina "Ina" ${at('-1 m, 1.5 m')}
    performer jo "Jo" ${at('1 m, 1.5 m')}
    source voice "Voice" is dynamic-mic by ina
    source gurdy "Hurdy-gurdy" is piezo-pickup by jo
    source drone "Drone" is piezo-pickup by jo
    gear iface "Interface" is interface-8-mic ${at('3 m, 4 m')}
    gear di "Gurdy DI" is active-di ${at('1.2 m, 1.8 m')}
    gear split "Split" is shared-split ${at('3 m, 3.5 m')}
    input iface.1 takes voice via split.iso1
    input iface.2 takes gurdy via di
    input iface.3 takes drone via active-di
    house 1 "Voice" takes voice via split.1
    house 2 "Hurdy-gurdy" takes gurdy via di.thru, their-di
    house 3 "Drone" takes drone via their-di
    mix ina mono for ina { voice 0 dB }
    output iface.phones1 carries ina`)
        ).checked,
      ),
      'needs',
    );

  it('is said with its place, whoever brings it: by who plays there, else from the middle of the front edge', async () => {
    const needs = await duo((place) => `at ${place}`);
    // The DI stands half a metre from Jo.
    expect(needs['We bring']).toBe(
      'Split (1; 3 m left, 3.5 m back), Gurdy DI (2; at Jo), Active DI (3; at Jo), with the leads between them and our gear',
    );
    expect(needs['The house brings']).toBe('2 × House DI (2 and 3; at Jo)');
  });

  it('is said without one where the rig has none', async () => {
    const needs = await duo(() => '');
    expect(needs['We bring']).toBe('Split (1), Gurdy DI (2), Active DI (3), with the leads between them and our gear');
    expect(needs['The house brings']).toBe('2 × House DI (2 and 3)');
  });
});

describe('a line of each kind', async () => {
  const sheet = await of(here('../house/each-kind.rig'));

  it('says of each what the house gets, how it comes, and what our rig does to it', () => {
    expect(table(sheet, 'lines').rows.map((row) => row.cells)).toEqual([
      ['1', 'Kick', 'own mic', '', '', '☐', 'yours', 'untouched', undefined],
      ['2', 'Kick, inside', 'Dynamic mic: Kick', '', 'off', '☐', 'yours', 'untouched', undefined],
      ['3', 'Voice', 'Radio mic', '', 'off', '', 'yours', 'on its xlr output, untouched, we take Voice jack', undefined],
      ['4', 'Tenor', 'Dynamic mic', '', 'off; 48 V from us arrives here', '☐', 'yours', 'on Y-lead, tapped', 0.6],
      ['5', 'Alto', 'Dynamic mic', '', 'off', '☐', 'yours', 'on Transformer split direct, isolated there', 0.6],
      ['6', 'Fiddle', 'Clip-on mic', '', '48 V from us', '', 'yours', 'on Y-lead, depends on 48 V from Interface 2', 0.8],
      ['7', 'Cello', 'Clip-on mic', '', '☐ on', '', 'yours, 10 m', 'on House split 1, isolated there', 0.8],
      ['8', 'Guest', 'their own', '', '', '☐', 'yours, 3 m', 'on House split iso2, isolated there', 0.6],
      ['9', 'Hurdy-gurdy', 'Pickup with an onboard preamp', '', '☐ on', '', 'yours', 'on Active DI thru → your DI, tapped', 0],
      ['10', 'Lute', 'Pickup with an onboard preamp', '', '', '', 'yours', 'on Lute DI out, isolated there', 0],
      ['11', 'Oud', 'Pickup with an onboard preamp', '', '☐ on', '', 'yours', 'on Passive DI thru → your DI, isolated there', 0],
      ['12', 'Banjo', 'Magnetic pickup', '', '', '', 'yours', 'on Banjo DI out, depends on Banjo DI (battery)', 0.4],
      ['13', 'Horn', 'Dynamic mic', '', '', '☐', 'yours', 'on Horn split, depends on Horn split (mains)', 0],
      ['14', 'Tuba', 'Dynamic mic', '', '', '☐', 'yours, line level', 'on Preamp out1, depends on Preamp', 0],
      ['15', 'Bassoon', 'Dynamic mic', '', '', '☐', 'yours', 'on Bassoon fx → Y-lead, depends on Bassoon fx (battery)', 0.6],
      ['16', 'Drone', 'our mix: for-house', '', '', '', 'ours', 'on Interface 1 → Passive DI out, brought by us', undefined],
    ]); // biome-ignore format: a line a row
  });

  it('counts them, and each line of theirs once', () => {
    const said = table(sheet, 'lines').remark ?? '';
    expect(said).toMatch(/^8 of 16 lines re-plugged; 3 untouched, 2 tapped, 5 isolated, 5 depending on us, 1 brought by us\./);
    const [, all, ...kinds] = said.match(/\d+/g)?.map(Number) ?? [];
    expect(kinds.slice(0, 5).reduce((a, b) => a + b)).toBe(all);
  });

  it.each([here('../house/each-kind.rig'), here('../checks/switch-to-house.rig'), join(examples, 'ten.rig'), here('kiln.rig')])(
    'has as many lines, and as many of them re-plugged, as the note, the patch list and the stage: %s',
    async (path) => {
      const { checked } = await analyse(path);
      const [of, all] =
        table(await sheetOf('house', checked), 'lines')
          .remark?.match(/\d+/g)
          ?.map(Number) ?? [];
      const told = checked.findings
        .filter(({ code }) => code === 'house/replugged')
        .map(({ figures }) => figures as { of: number; lines: unknown[] });
      for (const { of: wanted, lines } of told) expect([lines.length, wanted]).toEqual([of, all]);
      expect(patchList(checked).houseRule).toContain(of === 0 ? 'No line of the house’s is re-plugged' : repluggedOf(of ?? 0, all ?? 0));
      const stage = table(await sheetOf('stage', checked), 'places')
        .rows.find(({ key }) => key === 'house')
        ?.cells.join();
      if (stage !== undefined) expect(stage).toContain(count(all ?? 0, 'line'));
    },
  );

  it('asks for what is to be plugged and kept', () => {
    const asked = told(sheet, 'asks');
    expect(Object.keys(asked)).toEqual(['Power', 'Mute', 'Plug', '48 V', 'Open']);
    expect(asked.Mute).toMatch(/^2 to 16, before each plug and each time 48 V goes on or off/);
    expect(asked.Plug).toMatch(
      /^Plug 4 to 6, 9, 11 and 13 to 15 into our gear, as in the table; put your leads for 2, 3, .*12 on what we bring; keep 16 for us\.$/,
    );
    expect(asked['48 V']).toMatch(/^On for 7, 9 and 11, off for all others of ours.*\. It comes from us on 4 and 6\./);
    expect(asked.Open).toMatch(/^With our rig off: 2, .* then mute again\. When we say that it is on: 2 to 16 one by one/);
  });

  it('tells what is brought, by whom, what comes to us, and what goes silent without us', () => {
    const needs = told(sheet, 'needs');
    expect(needs['We bring']).toMatch(/^3 × Y-lead \(4, 6 and 15\), Transformer split \(5\), Active DI \(9\)/);
    expect(needs['The house brings']).toBe('House split (7 and 8), 2 × House DI (9 and 11); microphones of its own with leads (1)');
    expect(needs['Leads of the house']).toBe(
      '13 × XLR, length not known (2 to 6 and 8 to 15); 2 × 6.35 mm TS jack, length not known (9 and 11)',
    );
    expect(needs['On our own plug']).toBe('Line 16 comes to your stage box on a plug of ours.');
    expect(needs['Lines kept for us']).toBe('16 Drone, mic level');
    expect(needs['Our side of its gear']).toBe('House split: Cello, Guest');
    expect(needs['Into our ears']).toBe('Guest at Interface 8, from the house.');
    expect(needs['Mains sockets']).toMatch(
      /^6, all from one distribution, which feeds the desk too, as agreed: 6 where it is not said yet \(.*Horn split, receiver of Voice, computer\)$/,
    );
    expect(needs['Without our rig']).toBe(
      'Off or unplugged: 1, 2, 4, 5 and 7 to 11 play on, up to 0.8 dB louder with our plugs out. 6 and 12 to 16 go silent. 3 needs our mains power: silent without it.',
    );
  });
});

it('tells frequencies from the lowest, whose they are, and where sockets have to be', async () => {
  const sheet = await of(TOUR);
  const needs = told(sheet, 'needs');
  expect(needs.Radio).toBe('863.3 MHz Transmitter, in-ear transmitter (Ilse and Tomek); 864.1 MHz House handheld, the house’s');
  expect(needs['Mains sockets']).toBe(
    '4, all from one distribution, the desk’s if that can be: 4 at 1 m left, 4.5 m back (Interface, Transmitter, Headphone amplifier, computer)',
  );
  expect(needs.Ground).toBe(
    'Metal joins our ground and the house’s at line 8 through Interface. One distribution for both, please; should it hum, we isolate on our side.',
  );
  // Nothing splits the clarinet, and Brana has no mix.
  expect(table(sheet, 'lines').remark).toContain('1 not settled yet');
  expect(table(sheet, 'asks').remark).toContain('It serves three of the four of us; ask us about Brana.');
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

it('says on which lead the house’s feed comes to us, in the unit of the rig', async () => {
  expect(told(await of(join(examples, 'choir.rig')), 'needs')['The house brings']).toBe(
    'for us: Lectern, to Interface 8, on a lead of ours (XLR female to 6.35 mm TRS jack, 25 ft)',
  );
});

it('asks for the desk of the house’s that our ears are mixed on: which sockets, for what, and who brings what', async () => {
  const sheet = await of(here('../checks/house-desk.rig'));
  expect(table(sheet, 'asks').remark).toBe(
    'We bring no desk: our ears are mixed on your monitor desk, as told below. It serves all of us, two people.',
  );
  expect(told(sheet, 'asks').Desk).toBe('We need your monitor desk: four inputs, two mixes, two outputs; which, see below.');
  const needs = told(sheet, 'needs');
  expect(needs['The house brings']).toBe('House split (1 and 2; 4 m left, 3 m back); for us: House monitor desk');
  expect(needs['On your desk']).toBe(
    'House monitor desk: inputs 1 Voice (from House split iso1), 2 Kora (from House split iso2), 5 Piano left, 6 Piano right; outputs 1 Ines (mono, to Transmitter left), 2 Kofi (mono, to Transmitter right); on leads of ours: 2 × 6.35 mm TS jack, 5 m; 2 × 6.35 mm TRS jack, 2 m. What goes into each mix: on our mixes sheet.',
  );
  expect(needs.Ground).toMatch(
    /^Metal joins our ground and the house’s at House monitor desk in 5, House monitor desk in 6 through Piano; House monitor desk out 1, House monitor desk out 2 through Transmitter; partly over unbalanced leads\./,
  );
  expect(needs['Our side of its gear']).toBeUndefined();
});

it('asks for many inputs of their desk by the numbers of their own lines', async () => {
  const lines = Array.from({ length: 8 }, (_, at) => at + 1);
  const text = `rig "R"
performer a "Ada"
gear desk "House monitor desk" is interface-8-mic theirs
gear split "House split" is shared-split theirs
source own "Own" is click-channel by a
${lines.map((n) => `source s${n} "Sound ${n}" is dynamic-mic by a\ninput desk.${n} takes s${n} via split.iso${n}\nhouse ${n} takes s${n} via split.${n}`).join('\n')}
input desk.usb1 takes own
mix a "Ada" mono for a { s1 0 dB }
output desk.phones1 carries a
`;
  const needs = told(await sheetOf('house', (await analyseText(text)).checked), 'needs');
  expect(needs['On your desk']).toMatch(
    /^House monitor desk: inputs 1 to 8 as your lines of these numbers, usb1 Own; output phones1 Ada \(mono\)\./,
  );
});

it('says that phantom power comes from their desk where it does', async () => {
  const swapped: Record<string, string> = { 'split.iso2': 'split.2', 'split.2': 'split.iso2' };
  const text = readFileSync(here('../checks/house-desk.rig'), 'utf8').replaceAll(/split\.(iso)?2\b/g, (leg) => swapped[leg] ?? leg);
  const sheet = await sheetOf('house', (await analyseText(text)).checked);
  expect(table(sheet, 'lines').rows.map(({ cells }) => cells[4])).toEqual(['off', '48 V from House monitor desk']);
  expect(told(sheet, 'asks')['48 V']).toMatch(/^Off on all lines of ours\. It comes from House monitor desk on 2\./);
  expect(told(sheet, 'needs')['On your desk']).toContain('2 Kora (from House split out 2, 48 V)');
});

it('leaves all contacts blank, and says where the stage box is as far as the rig does', async () => {
  const form = (await of(TOUR)).blocks.find((block) => block.kind === 'form');
  expect(form?.kind === 'form' && form.fields.filter(({ value }) => value)).toEqual([{ title: 'Stage box', value: '4 m left, 1 m back' }]);
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

describe('one page', async () => {
  const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
  const sheets = await Promise.all(['first', 'choir', 'street', 'ten'].map((name) => of(join(examples, `${name}.rig`))));

  it.each(['A4', 'Letter'] as const)('of %s holds it, in letters of no less than 7.5 pt', async (paper) => {
    for (const sheet of sheets) {
      const data = await sheetsPdf(press, [sheet], { paper });
      const document = await getDocument({ data, useSystemFonts: false, verbosity: 0 }).promise;
      expect(document.numPages, sheet.title).toBe(1);
      const { items } = await (await document.getPage(1)).getTextContent();
      const sizes = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? Math.abs(item.transform[3]) : []));
      expect(Math.min(...sizes), sheet.title).toBeGreaterThanOrEqual(7.499);
    }
  });
});

describe('thirty-two lines', async () => {
  const sheet = await sheetOf('house', (await analyseText(THIRTY_TWO)).checked);

  it.each(['A4', 'Letter'] as const)('are one page of %s, in letters of no less than 7.5 pt, with nothing left out', async (paper) => {
    const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
    const document = await getDocument({ data: await sheetsPdf(press, [sheet], { paper }), useSystemFonts: false, verbosity: 0 }).promise;
    expect(document.numPages).toBe(1);
    const { items } = await (await document.getPage(1)).getTextContent();
    const words = items.flatMap((item) => ('str' in item && item.str.trim() !== '' ? [item] : []));
    expect(Math.min(...words.map(({ transform }) => Math.abs(transform[3])))).toBeGreaterThanOrEqual(7.499);
    const text = words
      .map(({ str }) => str)
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(table(sheet, 'lines').rows).toHaveLength(32);
    for (const { cells } of table(sheet, 'lines').rows) expect(text).toContain(`${cells[0]} ${cells[1]} ${cells[2]}`);
    for (const { cells } of [...table(sheet, 'asks').rows, ...table(sheet, 'needs').rows])
      expect(text).toContain(`${cells[0]} ${cells[1]}`);
    for (const block of sheet.blocks)
      if (block.kind === 'cautions') for (const { subject, text: words } of block.cautions) expect(text).toContain(`${subject} ${words}`);
  });

  it('say whose each lead is, which tails are too short, and what sends, of which kind and for whom', () => {
    expect(table(sheet, 'lines').rows.map(({ cells }) => cells[6])).toEqual([
      ...Array(16).fill('ours, 10 m + 15 m'),
      'yours, 5 m',
      ...Array(3).fill('yours, 10 m'),
      ...Array(2).fill('yours, 15 m'),
      ...Array(8).fill('yours'),
      'ours, 30 m',
      'yours',
    ]);
    const needs = told(sheet, 'needs');
    expect(needs['Tails too short']).toBe('1 to 16: own lead, 10 m, and 15 m more');
    expect(needs['On our own plug']).toBe('Lines 1 to 16 and 31 come to your stage box on a plug of ours.');
    expect(needs.Radio).toBe(
      '863.2 MHz Soprano, radio microphone (Marenka); 863.7 MHz Baritone, radio microphone (Kofi); 864.6 MHz Transmitter, in-ear transmitter (Ottilie)',
    );
  });
});

it('has one row for what comes by a switch, and names all sources behind it', async () => {
  const { rows, remark } = table(await of(here('../checks/switch-to-house.rig')), 'lines');
  expect(rows.map(({ cells }) => [cells[0], cells[2]])).toEqual([
    ['1', 'Pickup with an onboard preamp: Six-string or Baritone, by a switch'],
  ]);
  expect(remark).toMatch(/^\d of 1 line re-plugged/);
});

it('asks nobody to plug or keep a line that would do harm', async () => {
  const sheet = await of(here('kiln.rig'));
  expect(told(sheet, 'asks').Mute).toMatch(/^1 and 3,/);
  expect(told(sheet, 'asks').Plug).not.toContain('2');
  expect(table(sheet, 'lines').rows[1]?.cells[7]).toMatch(/^not to be plugged yet/);
});

it('knows a split with tails by its own plugs', async () => {
  const asked = told(await of(join(examples, 'ten.rig')), 'asks');
  expect(asked.Plug).toBe(
    'Plug 4 to 6 into our gear, as in the table; take our plugs for 7 to 10; put your lead for 13 on what we bring; keep 14 for us.',
  );
});

it('asks only for what there is: nothing to power or to open where no line of ours comes to the house', async () => {
  const sheet = await of(join(examples, 'street.rig'));
  expect(Object.keys(told(sheet, 'asks'))).toEqual(['Power', 'Plug']);
  const cautions = sheet.blocks.find(({ kind }) => kind === 'cautions');
  const hidden = cautions?.kind === 'cautions' && cautions.cautions.find(({ subject }) => subject === 'Never for the audience');
  expect(hidden ? hidden.text : '').toMatch(/hear it in the hall, tell us at once\.$/);
});

it('names a line that needs 48 V and has it from nobody yet, instead of saying that none does', async () => {
  const { checked } = await analyseText(`rig "Owl Weir"  mains shared # Invented.
performer ana "Ana"
source harp   "Harp"   is clip-on-mic  by ana
source voice  "Voice"  is dynamic-mic  by ana
gear iface is interface-8-mic
input iface.1  takes voice  via y-lead
house 1  takes voice
house 2  takes harp  via passive-di
`);
  if (!checked) throw new Error('That is a rig.');
  const sheet = await sheetOf('house', checked);
  expect(told(sheet, 'asks')['48 V']).toBe(
    'Off on all lines of ours. Not settled for 2: it is needed there and comes from nobody yet; we ask you first. Tell us before it goes on or off.',
  );
});

it('says when each line is opened, as the set-up does, with our rig off and with it on', async () => {
  const { checked } = await analyse(join(examples, 'ten.rig'));
  const [house, up] = await Promise.all([sheetOf('house', checked), sheetOf('set-up', checked)]);
  expect(told(house, 'asks').Open).toBe(
    'With our rig off: 4 and 7 to 10 one by one, then mute again. When we say that it is on: 4 to 10, 13 and 14 one by one; no hum.',
  );
  const opened = ['house-off', 'house-check'].map((id) => table(up, id).rows.find(({ cells }) => String(cells[1]).startsWith('opens')));
  expect(opened.map((row) => row?.cells[0])).toEqual(['house 4 and 7 to 10', 'house 4 to 10, 13 and 14']);
});

it('names who has no socket to plug into, and says of a radio microphone where its receiver is', async () => {
  const { checked } = await analyseText(`rig "Two Packs, barge"
    performer ana "Ana" at 0 m, 1 m
    performer ode "Ode" at 2 m, 1 m
    source voice "Voice" is wireless-mic by ana at 3 m, 3 m on 864 MHz
    gear iface "Interface" is interface-8-mic at 3 m, 3 m
    input iface.1 takes voice.jack
    house at -3 m, 0 m
    house 1 takes voice.xlr
    mix all "All" mono for ana, ode { voice -6 dB }
    output iface.phones1 carries all`);
  const sheet = houseSheet(checked, checked.findings);
  expect(table(sheet, 'asks').remark).toContain('It serves one of the two of us; ask us about Ana, Ode.');
  expect(table(sheet, 'lines').rows[0]?.cells[3]).toBe('Ana; receiver 3 m left, 3 m back');
});
