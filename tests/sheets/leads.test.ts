/** The list of leads: every lead once, with both ends, and totals that are the sum of the rows. */
import { describe, expect, it } from 'vitest';
import { leadListOf } from '../../packages/sheets/leads/list';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { crowd } from './crowd';
import { analyse, analyseText, here, TOUR } from './load';
import { cellsOf, tableOf, unsound } from './tables';

const sheetWords = (sheet: ReturnType<typeof leadsSheet>) =>
  cellsOf(sheet, 'leads', 1)
    .concat(cellsOf(sheet, 'adapters', 1))
    .join('\n');

const example = (name: string) => here(`../../examples/${name}.rig`);
const RIGS = [
  example('first'),
  example('ten'),
  example('choir'),
  example('street'),
  TOUR,
  ...['lighthouse', 'half', 'awkward', 'wares'].map((name) => here(`${name}.rig`)),
];

describe.each(RIGS)('%s', async (path) => {
  const { checked } = await analyse(path);
  const sheet = leadsSheet(checked);

  it('has every joint with a lead once, with a number, in the order of the numbers', () => {
    const real = checked.leads.filter(({ lead }) => lead).map(({ joint }) => joint);
    // Extensions that earphones need are joints of no line.
    const listed = leadListOf(checked).filter(({ joint }) => !joint.to.piece.id.startsWith('ears of '));
    const joints = listed.filter(({ number }) => number !== undefined).map(({ joint }) => joint);
    expect(joints).toHaveLength(new Set(joints).size);
    expect(new Set(joints)).toEqual(new Set(real));
    const numbers = cellsOf(sheet, 'lead-list', 0).flatMap(([number]) => number ?? []);
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
  });

  it('packs as many leads as the rows ask for', () => {
    const rows = tableOf(sheet, 'lead-list').rows.filter(({ cells }) => cells[0] !== undefined && cells[8] === 'ours');
    // `2 × 30 m` is two leads; all other lengths are one.
    const wanted = rows.reduce((sum, { cells }) => sum + Number(/(\d+) × /.exec(String(cells[9]))?.[1] ?? 1), 0);
    const packed = [...cellsOf(sheet, 'leads', 0), ...cellsOf(sheet, 'adapters', 0)].reduce((sum, [count]) => sum + Number(count), 0);
    expect(packed).toBe(wanted);
  });

  it('is sound, and the same each time', () => {
    expect(unsound(sheet)).toEqual([]);
    expect(JSON.stringify(leadsSheet(checked))).toBe(JSON.stringify(sheet));
  });
});

it('tells both ends, what runs on it, and how the length came about', async () => {
  const { checked } = await analyse(here('wares.rig'));
  // Oona at -2, 1 and the interface at 0, 3: 4 m x 1.2 + 2 m is 6.8 m, and 10 m is the next that can be had.
  expect(cellsOf(leadsSheet(checked), 'lead-list').slice(0, 3)).toEqual([
    [1, 'Voice → Y-lead', 'Voice', 'Voice', 'XLR female', 'Y-lead', 'XLR male', 'balanced', 'ours', '2 m', '2 m with slack'],
    [
      2,
      'Voice: Y-lead 1 → Interface in 1',
      'Voice',
      'Y-lead 1',
      'XLR female',
      'Interface in 1',
      'XLR male',
      'balanced',
      'ours',
      '10 m',
      '6.8 m with slack',
    ],
    [
      3,
      'Harmonium → Transformer split',
      'Harmonium',
      'Harmonium',
      'XLR female',
      'Transformer split',
      'XLR male',
      'balanced',
      'ours',
      '2 m',
      '2 m with slack',
    ],
  ]);
});

it.each([
  ['a line re-plugged into our Y-lead', 'input b.1 takes a via y-lead\nhouse 1 takes a', 'the house’s'],
  ['a line that we leave alone', 'house 1 takes a', 'the house’s'],
  ['a mix that we bring', 'input b.1 takes a\nmix m mono for house { a 0 dB }\noutput b.1 carries m via passive-di\nhouse 1 takes m', 'ours'],
])('says whose lead goes into the stage box, and packs it only where it is ours: %s', async (_, lines, whose) => {
  const { checked } = await analyseText(`rig\nhouse at 9 m, 1 m\nsource a is dynamic-mic at 0 m, 1 m\ngear b is interface-8-mic at 0 m, 1 m\n${lines}`);
  const sheet = leadsSheet(checked);
  const into = cellsOf(sheet, 'lead-list').filter((cells) => cells[5] === 'house 1');
  expect(into.map((cells) => cells[8])).toEqual([whose]);
  // 9 m x 1.2 + 2 m is 12.8 m.
  expect(cellsOf(sheet, 'leads', 2).concat(cellsOf(sheet, 'adapters', 2)).flat().includes('15 m')).toBe(whose === 'ours');
}); // biome-ignore format: a case a line

it('marks a lead of the gear’s own that reaches with less slack than a bought one would have', async () => {
  const { checked } = await analyseText(
    'rig\nhouse at 4.5 m, 4 m\nsource a "Fife" is dynamic-mic at -3.5 m, 4.8 m\ngear b "Box" is interface-8-mic at -3.5 m, 5 m\ngear s "Split" is shared-split at -3.5 m, 4.8 m\ninput b.1 takes a via s.iso1\nhouse 1 takes a via s.1',
  );
  // 8.8 m x 1.2 + 2 m is 12.6 m, and 8.8 m and 1 m up are less than ten; 0.2 m x 1.2 + 2 m is less than three.
  expect(cellsOf(leadsSheet(checked), 'lead-list', 9, 10)).toEqual([
    ['2 m', '2 m with slack'],
    ['own lead, 3 m', '2.3 m with slack'],
    ['own lead, 10 m', '12.6 m with slack: own is tight'],
  ]);
  expect(tableOf(leadsSheet(checked), 'lead-list').remark).toContain('lay it first');
});

it('says which end has no place', async () => {
  const { checked } = await analyseText(
    'rig\nsource a "Fife" is dynamic-mic at 1 m, 1 m\ngear b "Box" is interface-8-mic\ninput b.1 takes a',
  );
  expect(cellsOf(leadsSheet(checked), 'lead-list', 9, 10)).toEqual([['length not known', 'no place for Box']]);
  expect(tableOf(leadsSheet(checked), 'leads').remark).toBe('1 lead in all, of no known length.');
});

const ONE_PACK = [
  'rig',
  'performer a at 9 m, 9 m',
  'performer b "Bea" at 3 m, 1 m',
  'source s is dynamic-mic by a',
  'gear i "Box" is interface-8-mic at 3 m, 4 m',
  'input i.1 takes s',
].join('\n');

it.each([
  // 3 m x 1.2 + 2 m is 5.6 m.
  ['a pack at its listener', 'mix m mono for b { s 0 dB }\noutput i.1 carries m via wired-pack', ['Wired body pack left 6 m, 5.6 m with slack']],
  ['an amplifier at its listener', 'mix m mono for b { s 0 dB }\noutput i.1 carries m via headphone-amp', ['Headphone amplifier left 6 m, 5.6 m with slack']],
  ['earphones and the pack they are plugged into', 'mix m mono for b { s 0 dB }\noutput i.phones1 carries m via passive-pack, earphones',
    ['Passive body pack 6 m, 5.6 m with slack', 'Earphones own lead, 1.2 m, 2 m with slack']],
  ['what splits the line where it starts', 'mix m mono for b { s 0 dB }\noutput i.1 carries m via y-lead, wired-pack',
    ['Y-lead 2 m, 2 m with slack', 'Wired body pack left 6 m, 5.6 m with slack']],
  ['nowhere for two listeners', 'mix m mono for a, b { s 0 dB }\noutput i.1 carries m via wired-pack', ['Wired body pack left length not known, no place for Wired body pack']],
  ['nowhere for nobody', 'mix m mono { s 0 dB }\noutput i.1 carries m via wired-pack', ['Wired body pack left length not known, no place for Wired body pack']],
])('puts what ends at the ears and has no name: %s', async (_, way, wanted) => {
  const { checked } = await analyseText(`${ONE_PACK}\n${way}`);
  const rows = cellsOf(leadsSheet(checked), 'lead-list').slice(1);
  expect(rows.map((cells) => `${cells[5]} ${cells[9]}, ${cells[10]}`)).toEqual(wanted);
  expect(checked.findings.filter(({ code }) => code.startsWith('connectors/'))).toEqual([]);
}); // biome-ignore format: a case a line

it.each([
  ['a DI for loudspeaker level', 'gear d is speaker-di'],
  ['a box that says nothing of its thru', 'model box { input in speaker-jack speaker impedance 47 kohm  output thru ts from in parallel  output out xlr from in transformer 10:1 mic }\ngear d is box'],
])('takes a loudspeaker lead behind %s, as before it', async (_, gear) => {
  const { checked } = await analyseText(
    `rig\nsource s is speaker-out\n${gear}\ngear c "Cabinet" is loudspeaker\ngear i is interface-8-mic\ninput c.in takes s via d.thru\ninput i.1 takes s via d.out`,
  );
  const rows = cellsOf(leadsSheet(checked), 'lead-list').filter((cells) => cells[5] === 'Cabinet' || cells[3] === 's');
  expect(rows.map((cells) => cells[7])).toEqual(['speaker', 'speaker']);
  expect(sheetWords(leadsSheet(checked))).not.toMatch(/jack.*unbalanced/);
}); // biome-ignore format: a case a line

it('joins several where none is long enough, one of them with the two plugs', async () => {
  const { checked } = await analyseText(
    'rig\nsource a is dynamic-mic at 0 m, 0 m\ngear b "Box" is interface-8 at 0 m, 60 m\ninput b.3 takes a',
  );
  const sheet = leadsSheet(checked);
  // 60 m x 1.2 + 2 m is 74 m: three of 30 m.
  expect(cellsOf(sheet, 'lead-list', 9)).toEqual([['3 × 30 m']]);
  expect(cellsOf(sheet, 'adapters')).toEqual([[1, 'XLR female to 6.35 mm TRS jack, balanced', '30 m']]);
  expect(cellsOf(sheet, 'leads')).toEqual([[2, 'XLR lead, balanced', '30 m']]);
});

it('does not number what nothing joins or nobody may plug', async () => {
  const { checked } = await analyse(here('danger.rig'));
  const sheet = leadsSheet(checked);
  const rows = tableOf(sheet, 'lead-list').rows.filter(({ cells }) => cells[7] === 'do not plug in');
  expect(rows.length).toBeGreaterThan(0);
  for (const { cells, unfinished } of rows) expect([cells[0], cells[8], unfinished]).toEqual([undefined, '', true]);
});

it('shows a finding about a lead at the lead, and no other', async () => {
  const { checked } = await analyseText(
    'rig\nsource a "Fiddle" is magnetic-pickup at 0 m, 0 m\ngear b "Box" is interface-8-mic at 0 m, 9 m\ninput b.1 takes a',
  );
  const { rows } = tableOf(leadsSheet(checked), 'lead-list');
  expect(rows.flatMap(({ findings }) => findings.map(({ code }) => code))).toEqual(['connectors/long-unbalanced']);
  expect(checked.findings.length).toBeGreaterThan(1);
});

it('warns of leads underfoot, and is empty for an empty rig', async () => {
  const first = leadsSheet((await analyse(example('first'))).checked);
  expect(first.blocks.at(-1)).toMatchObject({ kind: 'cautions', cautions: [{ subject: 'Leads' }] });
  expect(leadsSheet((await analyseText('rig')).checked).blocks).toEqual([]);
});

it('takes forty letters and forty-eight lines', async () => {
  const { checked } = await analyseText(crowd(48));
  const sheet = leadsSheet(checked);
  expect(unsound(sheet)).toEqual([]);
  // From the source to its split, from there to us and to the house.
  expect(tableOf(sheet, 'lead-list').rows).toHaveLength(3 * 48);
});
