/** What people are told to do, of rigs that are unsafe, or ask something of the house: one row of data for each. */
import { describe, expect, it } from 'vitest';
import type { Checked } from '#engine';
import { SHEET_IDS, type Sheet, type SheetId, sheetOf } from '#sheets';
import { analyse, analyseText, here, TOUR } from './load';
import { cellsOf, tableOf, unsound } from './tables';

type Rig = { readonly checked: Checked };
const made = async ({ checked }: Rig, id: SheetId): Promise<Sheet> => sheetOf(id, checked);
const row = (sheet: Sheet, table: string, name: string) => cellsOf(sheet, table).find(([first]) => first === name);

describe('a rig that is not safe', async () => {
  const rig = await analyse(here('unsafe.rig'));
  const sheet = await made(rig, 'set-up');

  it('has no switch turned on that a ribbon hangs on, and says what to do first', () => {
    expect(cellsOf(sheet, 'phantom')).toEqual([
      ['Box 2', 'see that it is off, and stays off', 'Cornet'],
      [
        'Box 1..4',
        'do not switch on: Cornet is on this switch, and 48 V can destroy it. First put an isolating transformer into its lead',
        'Bells',
      ],
      // The saw is on this one, behind a transformer, which passes none (IEC 61938: over the two conductors in common mode).
      ['Box 5..8', 'on: one switch for all of these', 'Zither'],
    ]);
  });

  it('plugs no loudspeaker output into an input, switches its amplifier on for nobody, and checks no such line', () => {
    expect(cellsOf(sheet, 'forbidden')).toEqual([['Bass amp', 'Box in 8', 'do not plug in']]);
    // What is not to be done is nothing to tick off.
    expect(tableOf(sheet, 'forbidden').ticks).toBeUndefined();
    expect(cellsOf(sheet, 'line-check', 0).flat()).not.toContain('Bass amp');
    expect(cellsOf(sheet, 'on')[0]).toEqual(['Bass amp', '', 'do not switch on: its loudspeaker output would go into what it breaks']);
    expect(cellsOf(sheet, 'on', 1).join()).not.toContain('Bass amp');
    expect(unsound(sheet)).toEqual([]);
  });

  it('offers an input on another switch where one is free', async () => {
    const text = 'rig "R"\nsource c "Bells" is condenser-mic\nsource r "Cornet" is ribbon-mic\ngear box "Box" is interface-8-mic\n';
    const other = await made(await analyseText(`${text}input box.1 takes c\ninput box.2 takes r\n`), 'set-up');
    expect(row(other, 'phantom', 'Box 1..4')?.[1]).toBe(
      'do not switch on: Cornet is on this switch, and 48 V can destroy it. First plug it into an input on another switch (5..7), or put an isolating transformer into its lead',
    );
  });

  it.each(SHEET_IDS)('%s says in its head that it is a draft, or counts the findings', async (id) => {
    const { counts, draft } = await made(rig, id);
    if (counts) expect(counts.danger).toBe(2);
    expect(draft?.danger).toBe(2);
  });
});

it('tells every row behind a loudspeaker output of the danger, and brings up no send of it', async () => {
  const text = `rig "R"
performer ulla "Ulla"
source gurdy "Hurdy-gurdy" is speaker-out by ulla
source drum  "Drum"        is dynamic-mic
gear box "Box" is interface-8-mic
input box.1 takes gurdy
input box.2 takes drum
house 1 takes gurdy via their-di
mix ulla mono for ulla { gurdy 0 dB drum -3 dB }
output box.phones1 carries ulla
`;
  const rig = await analyseText(text);
  const inputs = tableOf(await made(rig, 'patch-list'), 'inputs').rows;
  expect(inputs.map(({ findings }) => findings.map(({ code, see }) => [code, see]))).toEqual([[['levels/speaker-output', true]], []]);
  expect(row(await made(rig, 'set-up'), 'mixes', 'ulla')?.at(-1)).toBe('Drum −3 dB; not yet Hurdy-gurdy: not plugged, see above');
});

it('says of a line with nothing of ours on it, and of one that we bring, whose plug goes where', async () => {
  const rig = await analyse(here('../../examples/ten.rig'));
  const up = await made(rig, 'set-up');
  const asked = (line: string) => row(up, 'house-lines', line)?.at(-1);
  expect(asked('13')).toBe('their lead (34) on Voice xlr');
  expect(asked('7')).toBe('leads 13 and 14 in, then our lead 30 into their socket');
  expect(asked('14')).toBe('our lead 36 into their socket');
  // The microphone is in Neža's hand: what stands by the interface is its receiver.
  expect(row(up, 'place', 'Interface')?.at(-1)).toContain('receiver of Voice');
  expect(row(up, 'place', 'Neža')?.at(-1)).toBe('Neža’s pack and Voice by radio');
  expect(row(await made(rig, 'if-it-fails'), 'supplies', 'the mains')?.[1]).toContain('receiver of Voice');
});

describe('a rig that asks something of the house', async () => {
  const rig = await analyse(here('handed.rig'));
  const [up, house, down, levels] = await Promise.all((['set-up', 'house', 'pack-down', 'levels'] as const).map((id) => made(rig, id)));
  const all = { up, house, down, levels } as Record<string, Sheet>;

  // That a receiver stands on the mains and its microphone runs on cells, and how radio is switched on: common practice, no source.
  it.each([
    ['up', 'place', 'Béla', undefined],
    ['up', 'place', 'Desk', ['Desk', 'middle, 3 m back', 'Desk, Amps and the computer with its USB lead']],
    [
      'up',
      'power',
      'Desk',
      [
        'Desk',
        'middle, 3 m back',
        'strip with five sockets or more, from the venue’s socket',
        'Desk, Amps, receiver of Voice, computer, one extension lead',
      ],
    ],
    ['up', 'power', 'Combo', ['Combo', 'place not known', 'extension lead, one socket, from the strip at Desk', 'Combo']],
    ['up', 'power', 'batteries', ['batteries', '', 'fresh cells', 'Voice']],
    ['up', 'on', 'Computer', ['Computer', 'Tracks', 'nothing playing yet']],
    ['up', 'on', 'Radio microphones and links', ['Radio microphones and links', 'Voice', 'one at a time, frequencies agreed before']],
    ['up', 'gains', 'Desk 2', ['Desk 2', 'Lute and Bouzouki, by a switch: the lower gain', expect.any(Number), '']],
    ['up', 'radio', 'Voice', ['Voice', 'not stated', 'Ida']],
    ['up', 'limiters', 'Ida', ['Ida', 'Amps phones1', 'not stated']],
    ['up', 'limiters', 'Béla', ['Béla', 'Amps phones2', 'not stated']],
    [
      'house',
      'needs',
      'The house brings',
      ['The house brings', 'for us: Room, to Desk 8, on a lead of ours (XLR female to 6.35 mm TRS jack)'],
    ],
    ['house', 'needs', 'Radio', ['Radio', 'Voice, radio microphone (Ida): frequency not said']],
    [
      'house',
      'needs',
      'Without our rig',
      ['Without our rig', 'Off or unplugged: 2 goes silent. 1 needs our mains power: silent without it.'],
    ],
    ['down', 'quiet', 'Computer off', ['Computer off', 'Tracks']],
  ])('%s, %s: %s', (sheet, table, name, cells) => {
    const found = row(all[sheet] as Sheet, table, name);
    if (cells === undefined) expect(found?.join() ?? '').not.toContain('computer');
    else expect(found).toEqual(cells);
  });

  it('gives one knob one gain, the lower of the two that the line levels ask for', () => {
    const gains = cellsOf(all.levels as Sheet, 'inputs', 0, 4).flatMap(([port, gain]) => (port === 'Desk 2' ? [Number(gain)] : []));
    expect(gains).toHaveLength(2);
    expect(row(all.up as Sheet, 'gains', 'Desk 2')?.[2]).toBe(Math.min(...gains));
  });

  it('counts the same sockets of the mains, at the same places, for us and for the house', async () => {
    const inWords = ['Desk, Amps, receiver of Voice, computer', 'Combo'];
    const fed = [`${inWords[0]}, one extension lead`, inWords[1]];
    const leads = await made(rig, 'leads');
    expect(cellsOf(leads, 'mains', 1, 3)).toEqual([
      ['strip with five sockets or more', fed[0]],
      ['extension lead, one socket', fed[1]],
    ]);
    expect(cellsOf(all.up as Sheet, 'power', 3).slice(0, 2)).toEqual([[fed[0]], [fed[1]]]);
    expect(row(all.house as Sheet, 'needs', 'Mains sockets')?.[1]).toBe(
      `5, all from one distribution, the desk’s if that can be: 4 middle, 3 m back (${inWords[0]}); 1 where it is not said yet (${inWords[1]})`,
    );
    const stage = tableOf(await made(rig, 'stage'), 'places').rows.filter(({ key }) => key.startsWith('mains'));
    expect(stage.map(({ cells }) => cells.slice(2, 4))).toEqual([['four sockets', `for ${inWords[0]}`]]);
  });

  it('promises the house nothing that dies with our computer', () => {
    const line = row(all.house as Sheet, 'lines', '2');
    expect(line?.slice(4, 8)).toEqual(['', '', '', 'depends on our computer']);
    expect(tableOf(all.house as Sheet, 'lines').remark).toContain('1 depending on us');
  });

  it('asks for the feed, has the house play it at the line check, and speaks of the one other', () => {
    expect(row(all.house as Sheet, 'asks', 'Plug')?.[1]).toMatch(/send us Room\.$/);
    expect(tableOf(all.house as Sheet, 'asks').remark).toContain('ask us about Nuno.');
    expect(row(all.up as Sheet, 'line-check', 'Room')?.[1]).toBe('the house');
    // It comes on a line, and is nothing to be carried back: only their lead on line 1 is.
    expect(cellsOf(all.down as Sheet, 'theirs', 2)).toEqual([['line 1']]);
  });

  it('cautions about radio where no frequency is written yet', () => {
    const block = (all.house as Sheet).blocks.find(({ kind }) => kind === 'cautions');
    expect(block?.kind === 'cautions' && block.cautions.map(({ subject }) => subject)).toContain('Radio');
  });
});

it('names all that carry mixes, or how many more there are', async () => {
  const box = (n: number) =>
    `gear b${n} "B${n}" is interface-8-mic\nperformer p${n} "P${n}"\nmix m${n} mono for p${n} {}\noutput b${n}.1 carries m${n}\n`;
  const ours = async (many: number) => {
    const text = Array.from({ length: many }, (_, index) => box(index + 1)).join('');
    return tableOf(await made(await analyseText(`rig "R"\n${text}`), 'house'), 'asks').remark;
  };
  expect(await ours(4)).toContain('on B1, B2, B3 and B4.');
  expect(await ours(5)).toContain('on B1, B2, B3 and two more.');
});

it('says once on what a line depends, and writes labels as they stand inside a sentence', async () => {
  const text = `rig "R"
model powered "Active split" is splitter {
  input  in    xlr  mic  impedance 5 kohm  max 10 dBu
  output a, b  xlr  from in active isolated  mic  impedance 75 ohm
  power  mains
}
source lute "Lute" is dynamic-mic
source g "Guitar" is magnetic-pickup
gear box "Box" is interface-8-mic
gear one "Active split" is powered
input box.1 takes lute via one.a
input box.2 takes g via active-di.out
house 1 takes lute via one.b, powered.a
house 2 takes g via their-di
`;
  const rig = await analyseText(text);
  expect(row(await made(rig, 'house'), 'lines', '1')?.[7]).toMatch(/^on .*, depends on Active split \(mains\)$/);
  expect(row(await made(rig, 'set-up'), 'house-lines', '2')?.at(-1)).toMatch(/they bring House DI$/);
});

it('has a stand to tick for what stands, and none for what is clipped on or goes by radio', async () => {
  const text = `rig "R"
source clip "Clarinet" is clip-on-mic
source hand "Voice" is dynamic-mic
source air  "Handheld" is wireless-mic
source lute "Lute" is magnetic-pickup
house 1 takes clip
house 2 takes hand
house 3 takes air
house 4 takes lute via passive-di
house 5 "Snare" own mic
`;
  const sheet = await made(await analyseText(text), 'house');
  expect(cellsOf(sheet, 'lines', 0, 5).map(([line, stand]) => `${line} ${stand}`)).toEqual(['1 ', '2 ☐', '3 ', '4 ', '5 ☐']);
});

describe('what comes by a switch', async () => {
  const rig = await analyseText(`rig "R"
performer ida "Ida"
source lute "Lute" is preamp-pickup by ida
source bouz "Bouzouki" is preamp-pickup by ida
gear ab "A/B" is ab-switch
gear di "DI" is passive-di
gear desk "Desk" is interface-8-mic
input desk.1 takes lute via ab.a, di.thru
house 1 takes lute via ab.a, di
house 2 takes bouz via ab.b, active-di
`);

  it('is named whole, on the input and on the house’s line', async () => {
    const patch = await made(rig, 'patch-list');
    expect(row(patch, 'inputs', 'Desk 1')?.[1]).toBe('Lute or Bouzouki, by a switch');
    expect(row(patch, 'house', '1')?.join()).toContain('Lute or Bouzouki, by a switch');
    expect(row(await made(rig, 'house'), 'lines', '1')?.[2]).toContain('Lute or Bouzouki, by a switch');
  });

  it('is named once each where each has a row of its own', async () => {
    const handed = await analyse(here('handed.rig'));
    expect(cellsOf(await made(handed, 'patch-list'), 'inputs', 0, 1).filter(([port]) => port === 'Desk 2')).toEqual([
      ['Desk 2', 'Lute'],
      ['Desk 2', 'Bouzouki'],
    ]);
  });
});

it('has a meter only where there is a converter', async () => {
  const text = 'rig "R"\nsource g "Guitar" is magnetic-pickup\ngear combo "Combo" is stage-amp\ninput combo.in takes g\n';
  const rig = await analyseText(text);
  expect(cellsOf(await made(rig, 'set-up'), 'line-check', 3, 4)).toEqual([[undefined, undefined]]);
  expect(cellsOf(await made(rig, 'levels'), 'inputs', 6, 7)).toEqual([[undefined, undefined]]);
  // The tour's interface has one.
  expect(
    cellsOf(await made(await analyse(TOUR), 'set-up'), 'line-check', 3)
      .flat()
      .filter((usual) => typeof usual === 'number'),
  ).not.toEqual([]);
});
