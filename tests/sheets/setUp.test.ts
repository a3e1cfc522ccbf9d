/** Setting up and packing down: what comes before what, and that nothing is left out. */
import { describe, expect, it } from 'vitest';
import type { Line } from '#engine';
import { houseSheet } from '../../packages/sheets/house/sheet';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { packDownSheet } from '../../packages/sheets/pack-down/sheet';
import { positionWords } from '../../packages/sheets/set-up/areas';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { crowd } from './crowd';
import { analyse, analyseText, here, TOUR } from './load';
import { cellsOf, tableOf, unsound } from './tables';

/** `2, 3 and 8 to 10`, counted out. */
function numbersIn(words: string): number[] {
  return [...words.matchAll(/(\d+)(?: to (\d+))?/g)].flatMap(([, first, last = first]) =>
    Array.from({ length: Number(last) - Number(first) + 1 }, (_, index) => Number(first) + index),
  );
}

const example = (name: string) => here(`../../examples/${name}.rig`);

describe('setting up a rig of two', async () => {
  const { checked } = await analyse(here('wares.rig'));
  const sheet = setUpSheet(checked);

  it('goes from gear to power to leads to the house, and only then switches on', () => {
    expect(sheet.blocks.map(({ id }) => id)).toEqual([
      'place',
      'power',
      'mute',
      'leads',
      'house-lines',
      'house-off',
      'on',
      'switches',
      'phantom',
      'gains',
      'radio',
      'line-check',
      'house-check',
      'limiters',
      'mixes',
      'cautions',
    ]);
    for (const block of sheet.blocks) if (block.kind === 'table') expect(block.ticks).toBe('numbers');
  });

  it('lays leads area by area, from where most of them end, those within an area when one is there', () => {
    expect(tableOf(sheet, 'leads').rows.map(({ group, cells: [number] }) => [group, number])).toEqual([
      ['Walk 1, Interface – Oona: two leads, about 4 min', 2],
      ['Walk 1, Interface – Oona: two leads, about 4 min', 7],
      ['Walk 2, at Oona: one lead, about 2 min', 1],
      ['Walk 3, Interface – Pavo: two leads, about 4 min', 4],
      ['Walk 3, Interface – Pavo: two leads, about 4 min', 8],
      ['Walk 4, at Pavo: one lead, about 2 min', 3],
    ]);
  });

  it('has the house’s lines last, and says which plug of theirs goes into something of ours', () => {
    expect(cellsOf(sheet, 'house-lines', 0, 4, 5).slice(1)).toEqual([
      ['3', '5', 'leads 1 and 2 in, then their plug into our Y-lead'],
      ['4', '6', 'leads 3 and 4 in, then their plug into our Transformer split'],
    ]);
  });

  it('switches on what drives the ears last', () => {
    expect(cellsOf(sheet, 'on', 0)).toEqual([['Computer'], ['Interfaces, expanders and the like'], ['Packs and amplifiers']]);
  });

  it('switches a loudspeaker with its amplifier inside on after all that feeds it, and off before', async () => {
    const { checked } = await analyseText(`rig "Own Way, yard"
      performer ola "Ola"
      source voice "Voice" is clip-on-mic by ola
      gear iface "Interface" is interface-8-mic
      input iface.1 takes voice
      house ours
      mix yard "Yard" mono for house { voice -2 dB }
      mix ola mono for ola { voice 0 dB }
      output iface.1 carries yard via powered-loudspeaker
      output iface.2 carries ola via headphone-amp`);
    expect(cellsOf(setUpSheet(checked), 'on').map(([what, which]) => [what, which])).toEqual([
      ['Interfaces, expanders and the like', 'Interface'],
      ['Packs and amplifiers', 'Headphone amplifier'],
      ['Loudspeakers', 'Powered loudspeaker'],
    ]);
    const down = cellsOf(packDownSheet(checked), 'quiet', 0).flat().map(String);
    expect(down.filter((step) => / off$/.test(step))).toEqual([
      'Loudspeakers off',
      'Packs and amplifiers off',
      'Phantom power off',
      'Interfaces, expanders and the like off',
    ]);
  });

  it('asks the house for phantom power behind the transformer', () => {
    expect(cellsOf(sheet, 'house-off')[0]).toEqual(['house 4', 'switches its 48 V on, all still muted', '']);
    expect(cellsOf(sheet, 'phantom')).toEqual([]);
  });

  it('has one run of numbers through all its steps', () => {
    let next = 1;
    for (const block of sheet.blocks) {
      if (block.kind !== 'table') continue;
      expect(block.firstStep, block.id).toBe(next);
      next += block.rows.length;
    }
  });

  it('sets what has a switch: clock, rate, session, buffer, widths', () => {
    expect(cellsOf(sheet, 'switches')).toEqual([
      ['Interface', 'its own clock, 48 kHz', 'the rate of the rig'],
      ['Computer', 'the session of tonight loaded, 48 kHz, the buffer as rehearsed, no sounds of its own', 'plays Drone'],
      ["Oona's amp", 'mono: the same in both ears', 'Oona hears oona'],
      ["Pavo's pack", 'mono: the same in both ears', 'Pavo hears pavo'],
    ]);
  });

  it('has the house listen with our rig off, then on', () => {
    expect(cellsOf(sheet, 'house-off', 0, 1)[1]).toEqual(['house 3 and 4', 'opens one after the other: it comes as without us']);
    expect(cellsOf(sheet, 'house-check', 0)).toEqual([['house 3 and 4']]);
  });

  it('has the meter read what is left below full scale', () => {
    // The gain leaves 6 dB above the loudest peak and is rounded down to a whole dB: between -7 and -6 dBFS.
    for (const [usual, loudest] of cellsOf(sheet, 'line-check', 3, 4).filter(([reading]) => reading !== undefined)) {
      expect(Number(loudest)).toBeGreaterThanOrEqual(-7);
      expect(Number(loudest)).toBeLessThanOrEqual(-6);
      expect(Number(usual)).toBeLessThan(Number(loudest));
    }
    expect(cellsOf(sheet, 'line-check', 0, 1, 2)).toEqual([
      ['Voice', 'Oona', 'Interface 1'],
      ['Harmonium', 'Pavo', 'Interface 2'],
      ['Drone', 'nobody named', 'Interface usb1'],
    ]);
  });

  it('brings up each mix with its loudest first', () => {
    expect(cellsOf(sheet, 'mixes', 0, 3)).toEqual([
      ['oona', 'Voice 0 dB, Harmonium -6 dB'],
      ['pavo', 'Harmonium 0 dB, Voice -3 dB, Drone -10 dB'],
    ]);
  });
});

it('keeps phantom power away from a ribbon microphone, and tells a shared switch once', async () => {
  const sheet = setUpSheet((await analyse(example('ten'))).checked);
  expect(cellsOf(sheet, 'phantom').slice(0, 3)).toEqual([
    ['Expander 6', 'see that it is off, and stays off', 'Trombone'],
    ['house 4 to 10, 13 and 14', 'ask the house whether they are still muted', 'it thumps in the hall'],
    ['Interface 1..4', 'on: one switch for all of these', 'Overhead, Bass DI, Audience left and Audience right'],
  ]);
  expect(cellsOf(sheet, 'radio', 0, 1)).toEqual([
    ['Transmitter', '863.3 MHz'],
    ['Voice', '864.3 MHz'],
  ]);
  // The organ and the voice's receiver are ours, and dead until our mains are on; what was opened is shut before anything thumps.
  expect(cellsOf(sheet, 'house-off', 0, 1)).toEqual([
    ['house 4 to 10', 'switches its 48 V on, all still muted'],
    ['house 4 and 7 to 10', 'opens one after the other: it comes as without us'],
    ['house 5, 6, 13 and 14', 'leaves muted: silent until our rig is on'],
    ['house 4 and 7 to 10', 'mutes them again, and says so: what we switch on next thumps in the hall'],
  ]);
});

it('has the house see to its 48 V before a ribbon microphone is plugged in, and before any of it goes on', async () => {
  const rig = `rig "Ribbon, barn"
    performer ana "Ana"
    source viola "Viola" is ribbon-mic by ana
    source flute "Flute" is clip-on-mic by ana
    gear iface "Interface" is interface-8-mic
    gear split "Split" is shared-split
    input iface.5 takes viola via split.iso1
    input iface.6 takes flute via split.iso2
    house 7 takes viola via split.1
    house 8 takes flute via split.2`;
  const sheet = setUpSheet((await analyseText(rig)).checked);
  expect(cellsOf(sheet, 'house-lines', 5)).toEqual([
    ['ask the house whether they are still muted'],
    [expect.stringMatching(/^see first that their 48 V is off; leads 1 and 2 in, then our lead \d into their socket$/)],
    [expect.stringMatching(/^leads 3 and 4 in, then our lead \d into their socket$/)],
  ]);
  expect(cellsOf(sheet, 'house-off', 0, 1).slice(0, 2)).toEqual([
    ['house 7', 'sees that its 48 V is off there, and stays off: it can destroy the microphone'],
    ['house 8', 'switches its 48 V on, all still muted'],
  ]);
});

describe.each([
  example('first'),
  example('ten'),
  example('choir'),
  example('street'),
  TOUR,
  ...['lighthouse', 'half', 'awkward', 'danger'].map((name) => here(`${name}.rig`)),
])('%s', async (path) => {
  const { checked } = await analyse(path);
  const up = setUpSheet(checked);
  const down = packDownSheet(checked);

  it('lays every numbered lead once, by itself or with a house line', () => {
    const laid = cellsOf(up, 'leads', 0).map(([number]) => Number(number));
    const house = cellsOf(up, 'house-lines', 4).flatMap(([numbers]) => String(numbers).split(', ').filter(Boolean).map(Number));
    const listed = checked.leads.length > 0 ? cellsOf(leadsSheet(checked), 'lead-list', 0).flatMap(([number]) => number ?? []) : [];
    expect([...laid, ...new Set(house)].sort((a, b) => a - b)).toEqual(listed);
  });

  it('plugs in at a line of the house’s each lead that was only to be laid', () => {
    const leads = (cell: unknown) => /\bleads? ([^:]*?)(?: in\b|:)/.exec(String(cell))?.[1] ?? '';
    const laid = numbersIn(leads(up.blocks.some(({ id }) => id === 'mute') ? cellsOf(up, 'mute', 2)[0] : ''));
    const plugged = cellsOf(up, 'house-lines', 5).flatMap((cell) => numbersIn(leads(cell)));
    expect(plugged.sort((a, b) => a - b)).toEqual(laid);
  });

  it('puts each thing where the list of places has it', () => {
    const words = new Map(
      cellsOf(up, 'place', 0, 1, 2).flatMap(([, where, what]) =>
        String(what)
          .split(/, | and /)
          .map((each) => [each, where]),
      ),
    );
    for (const piece of checked.rig.pieces.values()) {
      const at = piece.at && words.get(piece.label) !== undefined ? positionWords(piece.at, checked.rig.settings) : undefined;
      if (at !== undefined) expect([piece.label, words.get(piece.label)]).toEqual([piece.label, at]);
    }
  });

  it('comes to each area once', () => {
    const areas = tableOf(up, 'leads').rows.map(({ group }) => group);
    const changes = areas.filter((walk, index) => walk !== areas[index - 1]);
    expect(new Set(changes).size).toBe(changes.length);
  });

  it('puts back every line of the house’s that was re-plugged', () => {
    const back = cellsOf(down, 'house-lines', 0, 3);
    for (const { run } of checked.impact.replugged) {
      const to = back.find(([number]) => number === run.number)?.[1];
      expect(to).toBeTruthy();
      expect(to).not.toContain('nothing');
    }
  });

  it('is sound, and the same each time', () => {
    expect([...unsound(up), ...unsound(down)]).toEqual([]);
    expect(JSON.stringify([setUpSheet(checked), packDownSheet(checked)])).toBe(JSON.stringify([up, down]));
  });
});

describe('packing down', async () => {
  const sheet = packDownSheet((await analyse(example('ten'))).checked);

  it('is quiet and without phantom power before the first plug is pulled; the mains come last', () => {
    const steps = cellsOf(sheet, 'quiet', 0).map(([step]) => String(step));
    const at = (start: string) => steps.findIndex((step) => step.startsWith(start));
    const order = [
      'Ask the house to mute',
      'Ears out',
      'Packs and amplifiers off',
      'Phantom power off',
      'Ask the house to switch its phantom power off',
      'Wait',
      'Transmitters off',
      'Interfaces',
      'Mains',
    ];
    expect(order.map(at)).toEqual(order.map(at).toSorted((a, b) => a - b));
    expect(order.map(at)).not.toContain(-1);
  });

  it('puts each line of theirs back on what it came from', () => {
    expect(cellsOf(sheet, 'house-lines').slice(0, 4)).toEqual([
      ['4', 'Double bass', 'Bass DI thru', 'Double bass'],
      ['5', 'Organ left', 'Organ DI thru-left', 'Organ left'],
      ['6', 'Organ right', 'Organ DI thru-right', 'Organ right'],
      ['7', 'Violin', 'their socket: our plug (lead 30)', 'their socket: their own plug, as noted'],
    ]);
  });

  it('gives back what is borrowed and hired, and what is the house’s', () => {
    expect(cellsOf(sheet, 'back', 1)).toEqual([['Preamp expander, eight inputs'], ['Shared split, sixteen ways'], ['Radio microphone']]);
    expect(cellsOf(sheet, 'theirs')).toEqual([
      [3, 'House DI', 'Double bass, Organ'],
      [3, '6.35 mm TS jack lead, unbalanced, 2 m', 'lines 4 to 6'],
      [1, 'XLR lead, balanced, 20 m', 'line 4'],
      [2, 'XLR lead, balanced, 10 m', 'lines 5 and 6'],
      [1, 'XLR lead, balanced, 15 m', 'line 13'],
    ]);
    expect(tableOf(sheet, 'batteries').rows).toHaveLength(3);
  });
});

it('counts what is alike in one row, however it is held, and what goes back to others apart', async () => {
  const sheet = packDownSheet((await analyse(example('street'))).checked);
  const packs = (id: string) => cellsOf(sheet, id).filter(([, what]) => what === 'Belt pack');
  const five = "Morwenna's pack, Callum's pack, Gethin's pack, Priya's pack, Odile's pack";
  expect(packs('gear')).toEqual([[5, 'Belt pack', five]]);
  expect(packs('back')).toEqual([[1, 'Belt pack', "Tunde's pack"]]);
  expect(packs('batteries')).toEqual([[6, 'Belt pack', `${five}, Tunde's pack`, '12 AA']]);
});

it('says nothing of an empty rig, and takes a crowd', async () => {
  const { checked: none } = await analyseText('rig');
  expect([setUpSheet(none).blocks, packDownSheet(none).blocks]).toEqual([[], []]);
  const { checked } = await analyseText(crowd(48));
  expect([...unsound(setUpSheet(checked)), ...unsound(packDownSheet(checked))]).toEqual([]);
});

describe('earphones at the end of an extension lead', async () => {
  const { checked } = await analyse(here('../../examples/choir.rig'));

  it('have their limiter and knob at what drives them, and no lead has one', () => {
    const at = cellsOf(setUpSheet(checked), 'limiters', 0, 1);
    expect(at).toContainEqual(['Leela', 'Headphone amps phones2, through Earphone extension lead']);
    expect(at).toContainEqual(['Thom', 'Headphone amps phones1']);
  });
});

describe('what sets itself, and what no knob goes to', async () => {
  const { checked } = await analyseText(`rig "Hoppers, loft"
    performer ana "Ana"
    source voice "Voice" is digital-wireless-mic by ana
    source flute "Flute" is dynamic-mic by ana
    gear iface "Interface" is interface-8-mic
    gear tx "Transmitter" is digital-in-ear-transmitter
    gear pack "Ana's pack" is digital-belt-pack for ana hears tx.left
    input iface.1 takes flute gain 90 dB
    input iface.2 takes voice.xlr
    house 1 "Voice" own mic
    mix ana mono for ana { voice -6 dB }
    output iface.1 carries ana via tx.left`);
  const up = setUpSheet(checked);

  it('has no frequency to be set where a set finds its channel, and says what is paired with what', () => {
    expect(tableOf(up, 'switches').rows.flatMap(({ unfinished, cells }) => (unfinished ? [cells] : []))).toEqual([]);
    expect(cellsOf(up, 'switches')).toContainEqual(['Transmitter', '2.4 GHz, looks for free channels, stereo', 'left Ana']);
    expect(cellsOf(up, 'switches')).toContainEqual(['Voice', '2.4 GHz, looks for free channels', 'paired with its receiver']);
    expect(cellsOf(up, 'switches', 0, 1)).toContainEqual(["Ana's pack", expect.stringMatching(/, paired with Transmitter$/)]);
    expect(cellsOf(up, 'radio', 0, 1)).toEqual([
      ['Transmitter', '2.4 GHz, looks for free channels'],
      ['Voice', '2.4 GHz, looks for free channels'],
    ]);
    const house = cellsOf(houseSheet(checked), 'needs').find(([subject]) => subject === 'Radio')?.[1];
    expect(house).toMatch(/looks for free channels\. Wi-Fi on 2\.4 GHz is in its way: tell us if your desk’s tablet is on it\.$/);
    expect(house).not.toContain('not said');
  });

  it('gives the gain that suits where the one that is written is beyond the knob', () => {
    const suits = checked.levels.of(checked.network.lines.find(({ run }) => run.place === 'input:iface.1') as Line)?.gain?.setDb ?? NaN;
    expect(cellsOf(up, 'gains', 0, 2)[0]).toEqual(['Interface 1', `${Math.floor(suits)} (written: 90)`]);
    expect(Number(cellsOf(up, 'line-check', 0, 4).find(([source]) => source === 'Flute')?.[1])).toBeLessThanOrEqual(-6);
  });
});

it('leaves gains and phantom power on the house’s desk to the house', async () => {
  const { checked } = await analyseText(`# Invented.
rig "Two on their desk" region EU
performer ada "Ada" at -1 m, 2 m
performer ben "Ben" at 1 m, 2 m
source shawm "Shawm" is dynamic-mic by ada
source rackett "Rackett" is clip-on-mic by ben
gear desk "Monitor desk" is interface-8-mic theirs at 6 m, 3 m
gear ours "Our interface" is interface-4 at 0 m, 4 m
input desk.1 takes shawm
input desk.5 takes rackett
mix ada mono for ada { shawm 0 dB  rackett -3 dB }
mix ben mono for ben { rackett 0 dB  shawm -3 dB }
output desk.1 carries ada via headphone-amp
output desk.2 carries ben via headphone-amp
`);
  const up = setUpSheet(checked);
  expect(tableOf(up, 'gains')).toMatchObject({ rows: [], empty: 'What comes in on gear of the house’s has its gain from them.' });
  expect(tableOf(up, 'phantom').rows).toEqual([]);
  const quiet = cellsOf(packDownSheet(checked), 'quiet', 0, 1);
  expect(quiet).toContainEqual(['Ask the house to switch its phantom power off', expect.stringMatching(/^Monitor desk 5/)]);
  expect(quiet.map(([what]) => what)).not.toContain('Phantom power off');
});
