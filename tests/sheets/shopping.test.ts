/** Gear by how it is held, and sums that come out as by hand. */
import { describe, expect, it } from 'vitest';
import { renderSheet } from '#sheets';
import { shoppingSheet } from '../../packages/sheets/shopping/sheet';
import { crowd } from './crowd';
import { analyse, analyseText, here } from './load';
import { cellsOf, tableOf, unsound } from './tables';

describe('a rig with one of each', async () => {
  const { checked } = await analyse(here('wares.rig'));
  const sheet = shoppingSheet(checked);

  it('counts what is to be bought and hired, with prices in their own currency', () => {
    expect(cellsOf(sheet, 'money')).toEqual([
      ['Headphone amplifier', "Oona's amp", 'buy', 1, '29.90 EUR', '29.90 EUR'],
      ['Wired body pack', "Pavo's pack", 'buy', 1, '45 USD', '45 USD'],
      ['Condenser microphone', 'Old horn', 'buy', 1, '89.90 EUR', '89.90 EUR'],
      ['Pad, 20 dB', 'Pad, Second pad', 'hire', 2, '5.00 EUR', '10.00 EUR'],
    ]);
  });

  it('sums each currency by itself, against the budget in its own', () => {
    // 29.90 + 89.90 = 119.80; with two pads at 5, 129.80: 29.80 over 100.
    expect(cellsOf(sheet, 'budget')).toEqual([
      ['to buy', 2, '119.80 EUR'],
      ['to hire', 2, '10.00 EUR'],
      ['in all', 4, '129.80 EUR'],
      ['budget', undefined, '100.00 EUR'],
      ['over the budget by', undefined, '29.80 EUR'],
      ['in all', 1, '45 USD'],
    ]);
    expect(tableOf(sheet, 'budget').remark).toBe(
      'The sums leave out two pairs of earphones and six leads to have: no price is stated. The budget is in EUR; what is in USD stands beside it, for nothing is converted.',
    );
  });

  it('has each thing in one table: own, borrowed, spare, not said; and nothing that is inside a computer', () => {
    expect(cellsOf(sheet, 'owned')).toEqual([
      [1, 'Interface, eight microphone inputs', 'Interface'],
      [1, 'Dynamic microphone', 'Voice'],
    ]);
    expect(cellsOf(sheet, 'borrowed')).toEqual([[1, 'Condenser microphone', 'Harmonium', 'ask']]);
    expect(cellsOf(sheet, 'spare')).toEqual([[1, 'Dynamic microphone', 'Spare mic']]);
    expect(cellsOf(sheet, 'open')).toEqual([
      [1, 'Y-lead', 'Voice'],
      [1, 'Transformer split', 'Harmonium'],
    ]);
    expect(JSON.stringify(sheet)).not.toContain('Computer channel');
  });

  it('has what is borrowed and stays in the case among what is borrowed', async () => {
    const { checked: spare } = await analyseText(
      'rig\ngear a "A" is y-lead borrowed\ngear b "B" is y-lead borrowed spare\ngear c "C" is y-lead spare',
    );
    expect(cellsOf(shoppingSheet(spare), 'borrowed')).toEqual([
      [1, 'Y-lead', 'A', 'ask'],
      [1, 'Y-lead, to spare', 'B', 'ask'],
    ]);
    expect(cellsOf(shoppingSheet(spare), 'spare')).toEqual([[1, 'Y-lead', 'C']]);
  });

  it('tells earphones, and what fits plug and socket together', () => {
    expect(cellsOf(sheet, 'earphones')).toEqual([
      ['Oona', 'Closed headphones', "Oona's amp (6.35 mm TRS jack)", 'fits'],
      ['Pavo', 'not stated', "Pavo's pack (3.5 mm TRS jack)", ''],
    ]);
    expect(tableOf(sheet, 'earphones').remark).toContain('Earphones for Pavo: not stated.');
  });

  it('tells what runs on batteries and how long', () => {
    expect(cellsOf(sheet, 'batteries')).toEqual([[1, 'Wired body pack', "Pavo's pack", 15, '2 AA', '4 AA']]);
    expect(tableOf(sheet, 'batteries').remark).toContain('The set is 40 min');
  });
});

it('asks for an adapter where plug and socket are of two sizes', async () => {
  const { checked } = await analyseText(
    'rig\nperformer a "Ada" ears headphones\nsource s is dynamic-mic by a\ngear i is interface-8-mic\ngear p "Pack" is wired-pack for a\ninput i.1 takes s\nmix m mono for a { s 0 dB }\noutput i.1 carries m via p',
  );
  expect(cellsOf(shoppingSheet(checked), 'earphones', 3)).toEqual([['adapter: 6.35 mm TRS jack to 3.5 mm TRS jack']]);
});

it('asks for an extension where earphones do not reach their socket', async () => {
  const { checked } = await analyse(here('../../examples/mistakes/connectors/earphones-too-short.rig'));
  expect(cellsOf(shoppingSheet(checked), 'earphones', 3)).toEqual([['fits, extension lead of 10 m']]);
});

it('says where a price is missing, and leaves it out of the sum', async () => {
  const { checked } = await analyseText(
    'rig\nbudget 50 EUR\nmodel box "Box" { input in xlr mic }\ngear a is box buy 20 EUR\ngear b is box buy 5 EUR',
  );
  expect(cellsOf(shoppingSheet(checked), 'budget').at(-1)).toEqual(['left of the budget', undefined, '25 EUR']);
});

it('lists leads without a length by kind and count', async () => {
  const { checked } = await analyseText(
    'rig\nsource a is dynamic-mic\nsource c is dynamic-mic\ngear b is interface-8-mic\ninput b.1 takes a\ninput b.2 takes c',
  );
  const { remark } = tableOf(shoppingSheet(checked), 'leads');
  expect(cellsOf(shoppingSheet(checked), 'leads')).toEqual([[2, 'XLR lead, balanced', '', 'length not known']]);
  expect(remark).toContain('The length of two leads is not known: write "at …"');
});

describe('leads that there are', () => {
  const RIG = (leads: string) => `rig
${leads}
performer ada "Ada" at 0 m, 1 m
source a is dynamic-mic by ada
source c is dynamic-mic by ada
source d is dynamic-mic by ada
source k is preamp-pickup by ada
gear b is interface-8-mic at 3 m, 1 m
input b.1 takes a
input b.2 takes c
input b.3 takes d
input b.4 takes k
`;
  const leadsOf = async (leads: string) => {
    const { checked, located } = await analyseText(RIG(leads));
    return { table: tableOf(shoppingSheet(checked), 'leads'), cells: cellsOf(shoppingSheet(checked), 'leads'), located };
  };

  it('are taken from those that are needed, a longer one for a shorter', async () => {
    const { cells, table, located } = await leadsOf('leads 1 xlr 10 m, 1 xlr 6 m, 1 xlr 2 m, 4 ts 3 m');
    expect(located.map(({ finding }) => finding.code).filter((code) => /^(text|models|units)/.test(code))).toEqual([]);
    expect(table.columns.map(({ title }) => title)).toEqual(['Count', 'There are', 'To get', 'Lead', 'Length']);
    // The one of 2 m is too short.
    expect(cells.find(([, , , kind]) => kind === 'XLR lead, balanced')?.slice(0, 3)).toEqual([3, 2, 1]);
    expect(table.remark).toContain('a longer one does for a shorter');
  });

  it('with plugs of two kinds go by what plugs into what', async () => {
    const text = (leads: string) => `rig ${leads}
source a is dynamic-mic at 0 m, 1 m
model strip is interface { input 1 trs { mic impedance 2 kohm } }
gear b is strip at 1 m, 1 m
input b.1 takes a
`;
    const had = async (leads: string) =>
      cellsOf(shoppingSheet((await analyseText(text(leads))).checked), 'leads').map(([, count]) => count);
    expect(await had('leads 1 xlr trs 10 m')).toEqual([1]);
    // Its XLR plug is the one for an input.
    expect(await had('leads 1 trs xlr 10 m')).toEqual([0]);
  });

  it('are not asked for where nothing is said, and the remark says how to', async () => {
    const { table } = await leadsOf('');
    expect(table.columns.map(({ title }) => title)).toEqual(['Count', 'Lead', 'Length']);
    expect(table.remark).toContain('leads 6 xlr 5 m, 2 trs 3 m');
  });

  it.each([
    ['leads 2 xlrr 5 m', 'models/no-such-connector'],
    ['leads 0 xlr 5 m', 'units/impossible'],
    ['leads 2 xlr 5', 'text/missing-unit'],
    ['leads 2 xlr 5 dB', 'units/wrong'],
    ['leads xlr 5 m', 'text/unexpected'],
  ])('%s is told', async (leads, code) => {
    expect((await leadsOf(leads)).located.map(({ finding }) => finding.code)).toContain(code);
  });
});

describe('earphones', () => {
  const RIG = (model: string, budget = 'budget 100 EUR') => `${model}
rig ${budget}
performer ada "Ada" ears buds
performer bo "Bo" ears buds
performer cy "Cy"
source s is dynamic-mic at 0 m, 1 m
gear i is interface-8-mic at 2 m, 1 m
input i.1 takes s
mix m mono for ada, bo, cy { s 0 dB }
output i.phones1 carries m
`;

  it('count with the money where they have a price: as the finding over budget says', async () => {
    const { checked } = await analyseText(RIG('model buds is earphones { buy 60 EUR }'));
    expect(cellsOf(shoppingSheet(checked), 'money')).toEqual([['buds', 'Ada, Bo', 'buy', 2, '60 EUR', '120 EUR']]);
    expect(cellsOf(shoppingSheet(checked), 'budget').at(-1)).toEqual(['over the budget by', undefined, '20 EUR']);
    const over = checked.findings.find(({ code }) => code === 'rig/over-budget');
    expect(over?.figures).toMatchObject({ sum: 120, over: 20 });
    expect(tableOf(shoppingSheet(checked), 'budget').remark).toContain('The sums leave out one pair of earphones');
  });

  it('and leads are named where the sums leave them out; not where they are there', async () => {
    const { checked } = await analyseText(RIG('model buds is earphones { owned }'));
    const { remark } = tableOf(shoppingSheet(checked), 'budget');
    expect(remark).toContain('one pair of earphones');
    expect(remark).toContain('one lead to have');
    const none = await analyseText(RIG('model buds is earphones { owned }', 'budget 100 EUR leads 1 xlr 10 m'));
    expect(tableOf(shoppingSheet(none.checked), 'budget').remark).not.toContain('lead');
  });
});

it.each(['first', 'ten', 'choir', 'street'])('is sound for examples/%s.rig, with every thing of the rig once', async (name) => {
  const { checked } = await analyse(here(`../../examples/${name}.rig`));
  const sheet = shoppingSheet(checked);
  expect(unsound(sheet)).toEqual([]);
  const counts = ['owned', 'borrowed', 'theirs', 'spare', 'open', 'money'].flatMap((id) =>
    sheet.blocks.some((block) => block.id === id) ? cellsOf(sheet, id, id === 'money' ? 3 : 0) : [],
  );
  const things = [...checked.rig.pieces.values()].filter(
    ({ kind, model }) => kind !== 'house' && !model.lineage.includes('computer-channel') && model.id !== 'earphone-extension',
  );
  expect(counts.reduce((sum, [count]) => sum + Number(count), 0)).toBe(things.length);
});

it.each(['half', 'awkward'])('is sound for %s.rig', async (name) => {
  expect(unsound(shoppingSheet((await analyse(here(`${name}.rig`))).checked))).toEqual([]);
});

it('is empty for an empty rig, and sound for a crowd', async () => {
  expect(shoppingSheet((await analyseText('rig')).checked).blocks).toEqual([]);
  const sheet = shoppingSheet((await analyseText(crowd(48))).checked);
  expect(unsound(sheet)).toEqual([]);
  expect(cellsOf(sheet, 'open', 0)).toContainEqual([48]);
});

it('sums stand under one another by their points, in text as on paper', async () => {
  const { checked } = await analyseText(
    'rig "R" budget 500 EUR\nmodel box "Box" { input in xlr mic }\ngear a is box buy 119.80 EUR\ngear b is box buy 5 EUR\ngear c is box hire 7 SEK',
  );
  const sheet = shoppingSheet(checked);
  // What a right-aligned column sets flush: of one currency each sum has as much behind its point.
  for (const id of ['money', 'budget']) {
    const ends = cellsOf(sheet, id).flatMap((cells) =>
      cells.map(String).flatMap((cell) => /\d+(.*) EUR$/.exec(cell)?.[0].replace(/^\d+/, '') ?? []),
    );
    expect(ends.length).toBeGreaterThan(1);
    expect(ends.every((end) => /^\.\d\d EUR$/.test(end))).toBe(true);
  }
  const lines = renderSheet(sheet, 'text', { width: 120 })
    .split('\n')
    .filter((line) => / EUR$/.test(line));
  const [title = ''] = lines;
  expect(title).toBeDefined();
  const points = (of: RegExp) => new Set(lines.filter((line) => of.test(line)).map((line) => line.lastIndexOf('.')));
  expect(points(/to buy|in all|budget/).size).toBe(1);
  expect(cellsOf(sheet, 'money').flat()).toContain('7 SEK');
});
