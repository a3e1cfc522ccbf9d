/** The patch list as data: what stands in its rows, and where findings are told. */
import { describe, expect, it } from 'vitest';
import type { PatchList, Row } from '#sheets';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { patchSheet } from '../../packages/sheets/patch-list/sheet';
import { analyse, analyseText, here, sheetOf, TOUR } from './load';
import { cellsOf, tableOf } from './tables';

/** What the list of leads has packed: how many, of which kind, how long. */
const packedBy = ({ checked }: Awaited<ReturnType<typeof analyse>>) => {
  const sheet = leadsSheet(checked);
  return sheet.blocks.length === 0 ? [] : ['leads', 'adapters'].flatMap((table) => cellsOf(sheet, table));
};

const at = <R extends { readonly key: string }>(rows: readonly R[], key: string): R => {
  const row = rows.find((each) => each.key === key);
  if (!row) throw new Error(`no row ${key} among ${rows.map((each) => each.key).join(', ')}`);
  return row;
};
const codes = (row: Row) => row.findings.map((note) => note.code);
const rowsOf = (list: PatchList): Row[] => [...list.inputs, ...list.outputs, ...list.house, ...list.leads];

describe('the tour', async () => {
  const rig = await analyse(TOUR);
  const list = sheetOf(rig);

  it('has a row for each input, in the order of the ports', () => {
    expect(list.inputs.map((row) => [row.written, row.port, row.source, row.by, row.taken])).toEqual([
      ['iface.1', 'Interface 1', 'Lead vocal', 'Ilse', 'Y-lead'],
      ['iface.2', 'Interface 2', 'Overhead', 'Oye', 'direct'],
      ['iface.3', 'Interface 3', 'Clarinet', 'Tomek', 'direct'],
      ['iface.4', 'Interface 4', 'Accordion', 'Ilse', 'direct'],
      ['iface.5', 'Interface 5', 'Kick', 'Oye', 'direct'],
      ['iface.6', 'Interface 6', 'Double bass', 'Brana', 'Bass DI out'],
      ['iface.usb1', 'Interface usb1', 'Click', '', 'direct'],
      ['iface.usb2', 'Interface usb2', 'Tracks', '', 'direct'],
    ]);
  });

  it('reckons level, gain and headroom of the voice as by hand', () => {
    // 1.2 mV/Pa at 100 dB SPL, 94 dB SPL being 1 Pa; 150 ohm into two desks of 2 kohm by the Y-lead.
    const unloaded = 20 * Math.log10(1.2e-3 / 0.7746) + 100 - 93.98;
    const level = unloaded - 20 * Math.log10(1 + 150 / 1000);
    const row = at(list.inputs, 'iface.1');
    expect(row.levelDbu).toBe(Math.round(level));
    // The input clips at 2 dBu at no gain; peaks are 20 dB up; a margin of 6 dB stays. Rounded down to a whole dB.
    expect(row.gainDb).toBe(Math.floor(2 - 6 - (level + 20)));
    expect(row.headroomDb).toBe(Math.floor(2 - (level + 20) - (row.gainDb ?? Number.NaN)));
  });

  it('tells phantom power port by port', () => {
    expect(list.inputs.map((row) => row.phantom)).toEqual([
      'on (shared switch)',
      'on',
      'needed: none here',
      'needed: none here',
      '',
      '',
      '',
      '',
    ]);
  });

  it('chooses leads by the ends and by the way along the floor', () => {
    // Ilse at -1, 1.5 and the interface at 1, 4.5: (2 + 3) m x 1.2 + 2 m is 8 m, and the next in stock is 10 m.
    expect(at(list.inputs, 'iface.1')).toMatchObject({ lead: 'XLR lead, balanced', length: '10 m' });
    expect(at(list.inputs, 'iface.3')).toMatchObject({ lead: 'XLR female to 6.35 mm TRS jack, balanced', length: '10 m' });
    // Inside the computer there is no lead.
    expect(at(list.inputs, 'iface.usb1')).toMatchObject({ lead: '', length: '' });
  });

  it('follows each mix to the ears, and tells who has none', () => {
    expect(list.outputs.map((row) => [row.port, row.mix, row.width, row.listeners, row.way])).toEqual([
      ['Interface 1', 'ilse', 'mono', 'Ilse', "Transmitter left, 863.3 MHz → Ilse's pack"],
      ['Interface 2', 'tomek', 'mono', 'Tomek', "Transmitter right, 863.3 MHz → Tomek's pack"],
      ['Interface 3', 'oye', 'left', 'Oye', 'Headphone amplifier left'],
      ['Interface 4', 'oye', 'right', 'Oye', 'Headphone amplifier right'],
      ['Interface 5', 'for-house', 'mono', 'the house', 'Passive DI → house 15'],
      ['no output yet', 'no mix yet', '', 'Brana', ''],
    ]);
  });

  it('tells the house what it gets, from where, and who brings what', () => {
    expect(list.house.map((row) => [row.number, row.label, row.gets, row.from])).toEqual([
      ['1', 'Kick', 'own mic', ''],
      ['5', 'Bass', 'ours: Double bass', 'Bass DI thru → House DI out'],
      ['8', 'Lead vocal', 'ours: Lead vocal', 'Y-lead'],
      ['9', 'Clarinet', 'ours: Clarinet', 'direct'],
      ['15', 'Tracks', 'our mix: for-house', 'Interface 5 → Passive DI out'],
    ]);
    expect(at(list.house, '1')).toMatchObject({ weBring: '', theyBring: 'mic and lead' });
    expect(at(list.house, '5')).toMatchObject({
      weBring: 'Piezo pickup, Bass DI',
      theyBring: 'House DI',
      phantom: '48 V from the house',
    });
  });

  it('tells the house what our rig does to each line, and which are re-plugged', () => {
    expect(list.house.map((row) => [row.number, row.touch, row.replugged])).toEqual([
      ['1', 'untouched', ''],
      ['5', 'isolated by Bass DI', 'into our Bass DI'],
      ['8', 'tapped at Y-lead', 'into our Y-lead'],
      // Nothing splits it: what becomes of it is not known.
      ['9', '', ''],
      ['15', 'brought by us', ''],
    ]);
    // 150 ohm into one desk of 2 kohm, and into two.
    expect(at(list.house, '8').lossDb).toBe(Math.round(10 * 20 * Math.log10((1 + 150 / 1000) / (1 + 150 / 2000))) / 10);
    expect(list.houseRule).toBe(
      'Two of the house’s five lines are re-plugged for us. Our rig hangs by copper on one line, and loads it whether it is switched on or off.',
    );
  });

  it("lists every lead once, and packs all but the house's", () => {
    const named = list.leads.map((row) => `${row.from} > ${row.to}`);
    expect(new Set(named).size).toBe(named.length);
    expect(named).toContain('Lead vocal > Y-lead');
    expect(named).toContain('Y-lead 2 > house 8');
    const theirs = list.leads.filter((row) => row.kind.includes('the house’s'));
    expect(theirs.map((row) => `${row.from} > ${row.to}`)).toEqual([
      'Bass DI thru > House DI',
      'House DI out > house 5',
      'Y-lead 2 > house 8',
      'Clarinet > house 9',
    ]);
    const packed = packedBy(rig).reduce((sum, [count]) => sum + Number(count), 0);
    expect(packed).toBe(list.leads.length - theirs.length);
    expect(list.leads.filter((row) => row.kind.includes('adapter')).map((row) => row.to)).toEqual([
      'Interface in 3',
      'Interface in 4',
      'Interface in 5',
      'Interface in 6',
    ]);
  });

  it('tells each finding at the row where it bites, and once', async () => {
    expect(codes(at(list.inputs, 'iface.1'))).toContain('phantom/reaches-house');
    expect(codes(at(list.inputs, 'iface.5'))).toEqual(expect.arrayContaining(['levels/mic-on-line']));
    expect(codes(at(list.inputs, 'iface.6'))).toEqual(expect.arrayContaining(['capacity/too-few-inputs', 'levels/low-end']));
    expect(codes(at(list.house, '9'))).toContain('splits/missing');
    expect(codes(at(list.outputs, 'performer:brana'))).toEqual(['mixes/no-mix']);
    const all = [...rowsOf(list).flatMap((row) => row.findings.filter(({ see }) => !see)), ...list.elsewhere];
    expect(all).toHaveLength((await analyse(TOUR)).located.length);
    expect(Object.values(list.counts).reduce((a, b) => a + b)).toBe(all.length);
  });

  it('points there from every other line that an error is about', () => {
    const see = (row: Row) => row.findings.filter((note) => note.see).map(({ code, what }) => `${code}: ${what}`);
    for (const key of ['iface.1', 'iface.2', 'iface.3', 'iface.4', 'iface.5'])
      expect(see(at(list.inputs, key)), key).toContain('capacity/too-few-inputs: See Interface 6: Double bass.');
    expect(see(at(list.inputs, 'iface.3'))).toContain('splits/missing: See house 9.');
    expect(see(at(list.inputs, 'iface.6'))).toEqual([]);
  });

  it('cautions about what the rig has in it', () => {
    expect(list.cautions.map((caution) => caution.subject)).toEqual(['Ears', 'Phantom power', 'Radio', 'Mains', 'Leads']);
  });

  it('knows which statements a row is about', () => {
    expect(at(list.outputs, 'iface.1').about).toEqual(expect.arrayContaining(['mix:ilse', 'performer:ilse', 'gear:tx', 'gear:pack-i']));
    expect(at(list.outputs, 'iface.1').about).not.toContain('gear:pack-t');
    expect(at(list.inputs, 'iface.6').about).toEqual(expect.arrayContaining(['source:bass', 'performer:brana', 'gear:bass-di']));
    for (const row of rowsOf(list)) expect(row.about[0]).toBe(row.place);
  });
});

describe('a rig with one of each', async () => {
  const rig = await analyse(here('lighthouse.rig'));
  const list = sheetOf(rig);

  it('lists the ports of each piece of gear as declared, whatever the order of the lines', () => {
    const numbers = list.inputs.map((row) => row.written);
    expect(numbers).toEqual([
      'iface.1',
      'iface.2',
      'iface.2',
      'iface.5',
      'iface.6',
      'iface.7',
      'iface.optical',
      'iface.usb1',
      'pre.1',
      'pre.2',
    ]);
    expect(list.house.map((row) => row.number)).toEqual(['3', '4', '12', '20']);
  });

  it('names the output, the leg and the channel that are taken', () => {
    const taken = (key: string) => at(list.inputs, key).taken;
    expect(taken('iface.1')).toBe('its jack output');
    expect(taken('iface.2')).toBe('Tuning switch → Fiddle DI out');
    expect(taken('pre.1')).toBe('Stage split iso1');
    expect(at(list.inputs, 'iface.5')).toMatchObject({ source: 'Electronic kit left', taken: 'Stereo DI left' });
    expect(at(list.inputs, 'iface.6')).toMatchObject({ source: 'Electronic kit right', taken: 'Stereo DI right' });
    expect(at(list.inputs, 'iface.optical')).toMatchObject({
      source: 'Expander optical',
      lead: 'optical lead',
      gainDb: undefined,
      levelDbu: undefined,
    });
  });

  it('keeps the gain that the rig states, and reckons the headroom at it', () => {
    // 1.2 mV/Pa at 108 dB SPL, peaks 20 dB up; 150 ohm into the house's 2 kohm and ours, by a parallel leg and a transformer of
    // 1:1. The expander clips at 6 dBu at no gain.
    const peak = 20 * Math.log10(1.2e-3 / 0.7746) + 108 + 20 - 93.98 - 20 * Math.log10(1 + 150 / 1000);
    expect(at(list.inputs, 'pre.2')).toMatchObject({ gainDb: 24, headroomDb: Math.floor(6 - 24 - peak) });
  });

  it('tells tails, leads joined, and whose a lead is', () => {
    expect(at(list.inputs, 'pre.1').length).toBe('own lead, 3 m');
    // (45 + 6) m x 1.2 + 2 m is 63.2 m; the longest lead is 20 m.
    expect(at(list.inputs, 'iface.7').length).toBe('4 × 20 m');
    // One of the four has the two plugs; three plain ones make it longer, beside two that are wanted as they are.
    for (const [kind, count] of [
      ['XLR female to 6.35 mm TRS jack, balanced', 1],
      ['XLR lead, balanced', 5],
    ] as const) {
      expect(packedBy(rig)).toContainEqual([count, kind, '20 m']);
    }
    expect(list.leads.filter((row) => row.kind === 'balanced, the house’s').map((row) => row.to)).toEqual([
      'house 3',
      'house 4',
      'house 12',
    ]);
  });

  it('tells who powers a microphone that both take, and who brings the split', () => {
    expect(at(list.house, '12')).toMatchObject({ phantom: '48 V from the house', weBring: 'Clip-on microphone', theyBring: 'Stage split' });
    expect(at(list.inputs, 'pre.1').phantom).toBe('from the house');
    // A DI with electronics needs it too; its neighbour on the switch gets it.
    expect(at(list.inputs, 'iface.2').phantom).toBe('on');
    expect(at(list.inputs, 'iface.1').phantom).toBe('on (shared switch)');
  });

  it('follows a wired pack to the earphones, and phones outputs straight to them', () => {
    expect(list.outputs.map((row) => [row.written, row.width, row.way])).toEqual([
      ['iface.1', 'mono', "Transmitter left, 864.6 MHz → Maren's pack"],
      ['iface.3', 'left', 'Wired pack left → Earphones'],
      ['iface.4', 'right', 'Wired pack right → Earphones'],
      ['iface.5', 'mono', "Transmitter right, 864.6 MHz → Sunniva's pack"],
      ['iface.phones1', 'stereo', 'Closed headphones'],
    ]);
  });

  it('tells what is wrong with a lead at the lead', () => {
    const unbalanced = list.leads.find((row) => row.from === 'Voice jack');
    expect(unbalanced && codes(unbalanced)).toEqual(['connectors/long-unbalanced']);
  });
});

describe('half a rig', async () => {
  const rig = await analyse(here('half.rig'));
  const list = sheetOf(rig);

  it('shows what is understood and says what is missing', () => {
    expect(list.inputs.map((row) => [row.port, row.source, row.unfinished])).toEqual([
      ['Box 1', 'source not known', true],
      ['Box 2', 'Zither', false],
      ['Box 3', 'source not known', true],
      ['Box 9', 'Zither', true],
      ['unknown gear 1', 'Zither', true],
      ['not plugged in', 'Piano', true],
      ['not plugged in', 'Mystery', true],
    ]);
    expect(list.outputs.map((row) => [row.port, row.mix, row.listeners])).toEqual([
      ['Box 1', 'mix not known', ''],
      ['Box 2', 'mix not known', ''],
      ['no output yet', 'anouk', 'Anouk'],
      ['no output yet', 'spare', 'nobody yet'],
      ['no output yet', 'no mix yet', 'Bram'],
    ]);
    expect(list.house.map((row) => [row.number, row.gets])).toEqual([
      ['7', 'not said'],
      ['8', 'ours: Rattle'],
    ]);
    expect(list.title).toBe('Untitled rig');
  });

  it('tells findings about the text apart, and the rest at their rows', () => {
    expect(list.elsewhere.map((note) => note.code)).toContain('names/unknown');
    expect(codes(at(list.inputs, 'iface.9'))).toContain('capacity/no-such-port');
    expect(codes(at(list.outputs, 'mix:spare'))).toContain('mixes/for-nobody');
    // While an output line breaks off, nobody can say what leaves by none.
    expect(codes(at(list.outputs, 'mix:anouk'))).toEqual([]);
  });

  it('does not know a length without places, and says so', () => {
    expect(at(list.inputs, 'iface.2').length).toBe('length not known');
    expect(packedBy(rig).map(([, , length]) => length)).toEqual(['length not known']);
  });
});

describe('a lead that must not be made', async () => {
  const rig = await analyse(here('danger.rig'));
  const list = sheetOf(rig);

  it('is neither set up nor packed', () => {
    const row = at(list.inputs, 'iface.1');
    expect(row.lead).toBe('do not plug in');
    expect([row.gainDb, row.headroomDb]).toEqual([undefined, undefined]);
    expect(row.findings[0]).toMatchObject({ code: 'levels/speaker-output', severity: 'danger' });
    expect(list.leads.find((each) => each.to === 'Interface in 1')).toMatchObject({ kind: 'do not plug in', length: '' });
    expect(packedBy(rig)).toEqual([]);
    expect(at(list.outputs, 'iface.phones').way).toBe('earphones');
    expect(list.cautions.map((caution) => caution.subject)).toContain('Amplifiers');
  });
});

it('has what is wrong with a lead at one row once: in full, and no pointer beside it', async () => {
  const { checked } = await analyseText(`rig "Wedge"
    performer hedda "Hedda"
    source voice "Voice" is dynamic-mic by hedda
    gear iface "Interface" is interface-8-mic
    gear wedge "Loudspeaker" is powered-loudspeaker for hedda
    input iface.1 takes voice
    mix hedda mono for hedda { voice 0 dB }
    output iface.phones1 carries hedda via wedge.in`);
  const outputs = tableOf(patchSheet(checked), 'outputs');
  const told = outputs.rows.flatMap(({ findings = [] }) => findings).filter(({ code }) => code === 'connectors/stereo-into-balanced');
  expect(told.map(({ see }) => see ?? false)).toEqual([false]);
});

describe('every sheet', () => {
  it.each(['lighthouse.rig', 'half.rig', 'awkward.rig', 'danger.rig'])(
    'of %s is plain data with unique keys, the same each time',
    async (name) => {
      const list = sheetOf(await analyse(here(name)));
      expect(JSON.parse(JSON.stringify(list))).toEqual(list);
      expect(JSON.stringify(sheetOf(await analyse(here(name))))).toBe(JSON.stringify(list));
      for (const rows of [list.inputs, list.outputs, list.house, list.leads]) {
        expect(new Set(rows.map((row) => row.key)).size).toBe(rows.length);
      }
    },
  );

  it('of nothing is empty', async () => {
    const list = sheetOf(await analyseText('rig "Nothing"'));
    expect(rowsOf(list)).toEqual([]);
    expect(list.cautions).toEqual([]);
  });
});
