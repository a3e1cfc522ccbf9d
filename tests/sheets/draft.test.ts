/** A rig with grave mistakes prints as a draft on every page, carries none of them out, and loses nothing. */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it, vi } from 'vitest';
import { PROBLEMS, type Problem } from '#engine';
import { foundBy } from '#language';
import { renderSheet, SHEET_FORMATS, SHEET_IDS, sheetOf, sheetsOf } from '#sheets';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import { fingerprintOf, hash } from '../../packages/sheets/shared/fingerprint';
import { analyse, analyseText, here } from './load';
import { cellsOf, tableOf, unsound } from './tables';

vi.setConfig({ testTimeout: 120_000 });

describe('a rig with a danger and errors', async () => {
  const rig = await analyse(here('kiln.rig'));
  const found = foundBy(rig);
  const grave = { danger: 1, error: 4 };
  const ids = SHEET_IDS.filter((id) => id !== 'signal-flow');
  const sheets = await sheetsOf(rig.checked, found, ids);
  const up = await sheetOf('set-up', rig.checked, found);

  it('has as many findings as it says', () => {
    const of = (severity: string) => found.filter((each) => each.severity === severity).length;
    expect({ danger: of('danger'), error: of('error') }).toEqual(grave);
  });

  it.each(ids)('%s is a draft in every form', (id) => {
    const sheet = sheets.find((each) => each.id === id);
    expect(sheet?.draft).toEqual(grave);
    for (const format of SHEET_FORMATS) expect(sheet && renderSheet(sheet, format), format).toContain('DRAFT: 1 danger and 4 errors');
  });

  it('has the band on each page of the PDF, and the mark of its content', async () => {
    const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
    const data = await sheetsPdf(press, [up, ...sheets.filter(({ id }) => id === 'house')], { paper: 'A4' });
    const document = await getDocument({ data, useSystemFonts: false, verbosity: 0 }).promise;
    expect(document.numPages).toBeGreaterThan(2);
    for (let number = 1; number <= document.numPages; number++) {
      const { items } = await (await document.getPage(number)).getTextContent();
      const text = items.map((item) => ('str' in item ? item.str : '')).join('');
      expect(text).toContain('DRAFT: 1 danger and 4 errors');
      expect(text).toContain(`rig ${fingerprintOf(rig.checked.rig)}`);
    }
  });

  it('carries out nothing that would do harm, and says what is left out', () => {
    const held = cellsOf(up, 'held', 1).flat().join();
    expect(held).toContain('(Cornet → Box in 2)');
    expect(held).toContain('house 2');
    for (const id of ['leads', 'gains', 'line-check']) {
      const cells = cellsOf(up, id).flat().join();
      expect(cells, id).not.toContain('Cornet');
      expect(cells, id).toContain('Saw');
    }
    // The click would be heard in the hall.
    expect(cellsOf(up, 'mixes', 0).flat()).not.toContain('fh');
    expect(cellsOf(up, 'house-lines', 0).flat()).toEqual(['1 and 3', '1', '3']);
    expect(unsound(up)).toEqual([]);
  });

  it('loses nobody and no line', () => {
    expect(cellsOf(up, 'mixes', 1).flat()).toEqual(['Oda', 'Pim', 'Ravi', 'Sol']);
    const told = [...cellsOf(up, 'line-check', 0), ...cellsOf(up, 'held', 1)].flat().join();
    for (const { label } of rig.checked.rig.sources.values()) expect(told).toContain(label);
  });

  it('invents no switch where two plugs want one socket, and no gain for it', () => {
    expect(cellsOf(up, 'gains').at(-1)).toEqual(['Box 6', 'Bass and Saw, not settled which', undefined, '']);
  });

  it('marks the rows at which it is wrong', () => {
    const { columns, rows } = tableOf(up, 'line-check');
    expect(columns.at(-1)?.title).toBe('To mend');
    expect(rows.filter(({ cells }) => cells.at(-1)).map(({ cells }) => [cells[0], cells.at(-1)])).toEqual([
      ['Saw', 'ERROR: two plugs, one socket'],
      ['Bass', 'ERROR: a pickup into a line input'],
    ]);
  });
});

describe('a mark', async () => {
  // Twice Ferry is invented: a microphone and the ears on one frequency, side by side with all that is right.
  const { checked } = await analyseText(`rig "Twice Ferry, slip" region EU
performer una "Una" at 0 m, 1 m
source voice "Voice" is wireless-mic by una at 1 m, 3 m on 863.5 MHz
source harp "Harp" is clip-on-mic by una
gear iface "Interface" is interface-8-mic at 1 m, 3 m
gear tx "Transmitter" is in-ear-transmitter at 1 m, 3 m on 863.5 MHz
gear pack "Una’s pack" is belt-pack for una hears tx.left
input iface.1 takes voice.xlr
input iface.2 takes harp gain 90 dB
house 1 takes voice.jack
mix una mono for una { voice 0 dB harp 0 dB }
output iface.1 carries una via tx.left
`);
  const sheets = await sheetsOf(checked, checked.findings, ['leads', 'house', 'stage', 'shopping', 'set-up', 'if-it-fails', 'pack-down']);

  it('stands where what is wrong is told, with why, and nowhere else', () => {
    const marked = sheets.flatMap(({ id, blocks }) =>
      blocks.flatMap((block) =>
        block.kind === 'table' && block.columns.at(-1)?.title === 'To mend'
          ? block.rows.flatMap(({ cells }) => (cells.at(-1) ? [[id, block.id, cells[0], cells.at(-1)].join(', ')] : []))
          : [],
      ),
    );
    expect(marked).toEqual([
      'house, needs, Radio, ERROR: same frequency',
      'set-up, on, Radio microphones and links, ERROR: same frequency',
      'set-up, on, Transmitters, ERROR: same frequency',
      'set-up, switches, Transmitter, ERROR: same frequency',
      'set-up, switches, Voice, ERROR: same frequency',
      'set-up, switches, Una’s pack, ERROR: same frequency',
      'set-up, gains, Interface 2, ERROR: the knob does not go there',
      'set-up, radio, Transmitter, ERROR: same frequency',
      'set-up, radio, Voice, ERROR: same frequency',
      'set-up, line-check, Harp, ERROR: the knob does not go there',
    ]);
  });

  it('has words for all that is gravely wrong with a rig', () => {
    const ofTheText = /^(text|names|units|models|use|allow|scan)\//;
    const grave = Object.entries<Problem<never>>(PROBLEMS).filter(([, { severity }]) => severity === 'danger' || severity === 'error');
    expect(grave.filter(([code, { brief, short }]) => !ofTheText.test(code) && !brief && !short).map(([code]) => code)).toEqual([]);
  });
});

it('is no draft where nothing is gravely wrong', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const sheet = await sheetOf('house', checked);
  expect(sheet.draft).toBeUndefined();
  expect(renderSheet(sheet, 'html')).not.toContain('DRAFT');
});

describe('what must not be carried out', async () => {
  // Slow Ferry is invented: 48 V on a ribbon, a loudspeaker output into an input, the click to the hall.
  const { checked } = await analyseText(`rig "Slow Ferry, customs shed" stage 9 m by 5 m
performer tilda "Tilda" at -2 m, 1.5 m
performer oskar "Oskar" at 2 m, 2 m
source bells "Glockenspiel" is condenser-mic by tilda
source horn "Cornet" is ribbon-mic by oskar
source voice "Voice" is dynamic-mic by tilda
source harm "Harmonium" is clip-on-mic by tilda
source click "Click" is click-channel
gear desk "Interface" is interface-8-mic at 3 m, 4 m owned
gear split "Split" is transformer-split at 3 m, 4 m
input desk.1 takes bells
input desk.2 takes horn
input desk.4 takes voice via split.iso
input desk.5 takes harm
input desk.usb1 takes click
house at -4 m, 4 m
house 1 "Voice" takes voice via split.direct
house 2 "Harmonium" takes harm
house 3 "Click" takes click
mix both mono for tilda, oskar { voice 0 dB horn -2 dB click -6 dB harm -8 dB }
output desk.phones1 carries both
`);
  const [up, down] = await Promise.all([sheetOf('set-up', checked), sheetOf('pack-down', checked)]);

  it('is on no walk: walks are one run, and each is as long as what is left of it', () => {
    const groups = tableOf(up, 'leads').rows.map(({ group = '' }) => group);
    const walks = [...new Set(groups)];
    expect(cellsOf(up, 'held', 1).join()).toContain('Cornet → Interface in 2');
    expect(walks.map((walk) => /^Walk (\d+), /.exec(walk)?.[1])).toEqual(walks.map((_, index) => `${index + 1}`));
    const words = ['', 'one lead', 'two leads', 'three leads', 'four leads'];
    for (const walk of walks) expect(walk).toContain(`: ${words[groups.filter((group) => group === walk).length]}, about `);
  });

  it('is opened by no house, and brought up in no mix', () => {
    for (const table of ['house-off', 'house-check']) {
      expect(cellsOf(up, table, 0).flat().length).toBeGreaterThan(0);
      expect(cellsOf(up, table, 0).flat().join()).not.toMatch(/3/);
    }
    expect(cellsOf(up, 'mixes')[0]?.[3]).toBe('Voice 0 dB, Click −6 dB, Harmonium −8 dB; not yet Cornet: not plugged, see above');
  });

  it('is taken off nothing when it is packed down; a plug that nothing stands before comes off the source', () => {
    const off = new Map(cellsOf(down, 'house-lines').map(([line, , what]) => [line, what]));
    expect(off.get('3')).toBe('nothing: it was not to be plugged');
    expect(off.get('2')).toBe('Harmonium');
    expect([...off.values()]).not.toContain('direct');
  });

  it('leaves a plug of the house’s where it is until its line is muted', () => {
    expect(tableOf(up, 'leads').remark).toContain('stays in until its line is muted');
  });
});

describe('what stands behind a plug that must not be plugged in', async () => {
  // Brass Kettle is invented: a loudspeaker output goes into a DI, which the house and we take, and which wants 48 V; a lead that a line needs that is sound is laid.
  const { checked } = await analyseText(`rig "Brass Kettle, drill hall"
performer runa "Runa" at -2 m, 2 m
source amp   "Bass amp" is speaker-out      by runa
source bells "Bells"    is condenser-mic    by runa
source horn  "Cornet"   is ribbon-mic       by runa
source cym   "Cymbal"   is condenser-mic    by runa
gear box   "Box"      is interface-8-mic    at 0 m, 3 m
gear di    "Bass DI"  is active-di          at -2 m, 2 m
gear split "Split"    is transformer-split  at 0 m, 3 m
gear y     "Y"        is y-lead             at 0 m, 3 m
input box.1 takes cym
input box.2 takes horn   via y.1
input box.5 takes amp    via di.thru
input box.6 takes bells  via split.iso
house at 4 m, 1 m
house 1 "Bass"   takes amp    via di.out
house 2 "Bells"  takes bells  via split.direct
house 3 "Cornet" takes horn   via y.2
mix runa mono for runa { bells 0 dB amp -3 dB }
output box.phones1 carries runa
`);
  const [up, down, house] = await Promise.all([sheetOf('set-up', checked), sheetOf('pack-down', checked), sheetOf('house', checked)]);

  it('is a danger, told at one line, and 48 V on a ribbon at another', () => {
    const dangers = checked.findings
      .filter(({ severity }) => severity === 'danger')
      .map(({ code, place }) => `${code} ${place.split('/')[0]}`);
    expect(dangers.toSorted()).toEqual(['levels/speaker-output input:box.5', 'phantom/harmful input:box.2']);
  });

  it('is laid, checked and plugged by nobody', () => {
    for (const id of ['leads', 'gains', 'line-check', 'house-lines']) expect(cellsOf(up, id).flat().join(), id).not.toContain('Bass');
    const held = cellsOf(up, 'held', 1).flat().join();
    for (const each of ['Bass DI thru → Box in 5', 'house 1', 'Bass amp']) expect(held).toContain(each);
  });

  it('is not switched off either: it never was on', () => {
    const quiet = cellsOf(down, 'quiet');
    expect(quiet).toContainEqual(['See that it is still off: it must never go on', 'Bass amp']);
    // Beside the name of an interface, which does go on, it says what is meant.
    expect(quiet).toContainEqual(['See that phantom power is still off: it must never go on', 'Box 1..4']);
    for (const [what, which] of quiet) if (/ off$/.test(String(what))) expect(which).not.toContain('Bass amp');
  });

  it('takes with it no lead that another line needs', () => {
    expect(cellsOf(up, 'leads', 1).flat()).toContain('Cornet → Y');
    expect(cellsOf(up, 'leads', 1).flat().join()).not.toContain('Y 1 → Box in 2');
  });

  it('is on no line that the house is asked for: the same lines on every sheet', () => {
    const asked = Object.fromEntries(cellsOf(house, 'asks') as [string, string][]);
    expect(asked.Mute).toMatch(/^2 and 3, /);
    expect(asked['48 V']).toMatch(/^On for 2, /);
    expect(asked.Open).toContain('2 and 3 one by one; no hum');
    expect(cellsOf(up, 'house-lines', 0).flat()).toEqual(['2 and 3', '2', '3']);
    expect(cellsOf(up, 'house-check', 0).flat()).toEqual(['house 2 and 3']);
    expect(cellsOf(up, 'house-off').find(([, what]) => String(what).startsWith('switches its 48 V on'))?.[0]).toBe('house 2');
    expect(cellsOf(down, 'quiet', 0).flat()).toContain('Ask the house to mute lines 2 and 3, and wait until it says so');
    expect(cellsOf(down, 'quiet').find(([what]) => what === 'Ask the house to switch its phantom power off')?.[1]).toBe('house 2');
    expect(cellsOf(down, 'house-lines', 0, 2)).toContainEqual(['1', 'nothing: it was not to be plugged']);
  });
});

// That a house mutes a line while a plug goes in, and while 48 V is switched: common practice, no source.
describe('the house is asked to mute', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const lines = '4 to 10, 13 and 14';
  const [up, down] = [await sheetOf('set-up', checked), await sheetOf('pack-down', checked)];

  it('before any plug that it would hear, ours among them; until then those leads are laid', () => {
    const ids = up.blocks.map(({ id }) => id);
    expect(ids.indexOf('mute')).toBe(ids.indexOf('leads') - 1);
    const [[which, ask, meanwhile] = []] = cellsOf(up, 'mute');
    expect(which).toBe(`house ${lines}`);
    expect(ask).toMatch(/^ask the house to mute them/);
    // By hand: what the bass, the organ and the four behind the split go through. What we bring is heard when it is in their socket.
    // The voice's jack is another output than the house has, and is not heard on its line.
    expect(meanwhile).toBe('leads 2, 3, 8 to 11 and 13 to 20: laid, not plugged; in at the latest with their line');
  });
  it('and asked again before its own lines are plugged', () => {
    expect(cellsOf(up, 'house-lines')[0]?.slice(0, 1)).toEqual([lines]);
    expect(cellsOf(up, 'house-lines')[0]?.at(-1)).toBe('ask the house whether they are still muted');
  });
  it('there first, where no plug of ours is heard before', async () => {
    const text =
      'rig\nsource a "A" is dynamic-mic\nsource v "V" is dynamic-mic\ngear i "I" is interface-8-mic\ninput i.1 takes v\nhouse 1 takes a\n';
    const other = await sheetOf('set-up', (await analyseText(text)).checked);
    expect(other.blocks.map(({ id }) => id)).not.toContain('mute');
    expect(cellsOf(other, 'house-lines')[0]?.at(-1)).toMatch(/^ask the house to mute them/);
  });
  it('before the first 48 V, after what must stay off', () => {
    const where = cellsOf(up, 'phantom', 0, 1).map(([at, what]) => `${at} ${what}`);
    const mute = where.findIndex((each) => each.startsWith(`house ${lines} ask the house whether they are still muted`));
    expect(mute).toBe(where.findIndex((each) => / on\b/.test(each)) - 1);
  });
  it('first of all when packing down', () => {
    expect(String(cellsOf(down, 'quiet')[0]?.[0])).toBe(`Ask the house to mute lines ${lines}, and wait until it says so`);
  });
  it('nowhere where there is none', async () => {
    const alone = await analyseText('rig\nsource v "V" is condenser-mic\ngear i "I" is interface-8-mic\ninput i.1 takes v\n');
    for (const id of ['set-up', 'pack-down'] as const)
      expect(JSON.stringify(await sheetOf(id, alone.checked)).toLowerCase()).not.toContain('mute');
  });
});

describe('the mark of a rig’s content', () => {
  // Values that the authors of FNV publish for FNV-1a, 64 bits; from memory.
  it.each([
    ['', 'cbf29ce484222325'],
    ['a', 'af63dc4c8601ec8c'],
    ['foobar', '85944171f73967e8'],
  ])('is reckoned as published: %j', (text, wanted) => {
    expect(
      hash(text)
        .map((half) => half.toString(16).padStart(8, '0'))
        .join(''),
    ).toBe(wanted);
  });

  const of = async (text: string) => fingerprintOf((await analyseText(text)).checked.rig);
  const text = 'rig "A"\nsource v "V" is dynamic-mic\ngear i "I" is interface-8-mic\ninput i.1 takes v gain 20 dB\n';
  it('is of eight signs that are not misread', async () => expect(await of(text)).toMatch(/^[0-9A-HJKMNP-TV-Z]{4} [0-9A-HJKMNP-TV-Z]{4}$/));
  it('stays when a comment comes', async () => expect(await of(`# two words\n${text}\n`)).toBe(await of(text)));
  it('stays where a model says the same in another order', async () => {
    const model = (items: string) => `${text}model box is interface { ${items} }\ngear spare is box\n`;
    expect(await of(model('latency 1 ms  owned  mixes 2 mono'))).toBe(await of(model('owned  mixes 2 mono  latency 1 ms')));
  });
  it.each([
    ['gain 20 dB', 'gain 21 dB'],
    ['"V"', '"W"'],
    ['i.1', 'i.2'],
  ])('changes with %s', async (from, to) => expect(await of(text.replace(from, to))).not.toBe(await of(text)));
});

describe('a rig with warnings', async () => {
  const duo = (behind: string) =>
    analyseText(`rig "Larch, barn"
    performer ina "Ina" at 0 m, 1 m
    source voice "Voice" is dynamic-mic by ina
    source harp "Harp" is piezo-pickup by ina
    gear iface "Interface" is interface-8-mic at 1 m, 2 m
    input iface.1 takes voice ${behind}
    gear di "DI" is active-di at 0 m, 1 m
    input iface.2 takes harp via di
    house 1 "Voice" takes voice
    house 2 "Harp" takes harp via di.thru, their-di
    mix ina mono for ina { voice 0 dB harp 0 dB }
    output iface.phones1 carries ina`);
  const heads = async (rig: Awaited<ReturnType<typeof duo>>) => {
    const sheets = await sheetsOf(rig.checked, foundBy(rig));
    return SHEET_FORMATS.filter((format) => format !== 'csv').flatMap((format) =>
      sheets.map(
        (sheet) =>
          [
            `${sheet.id}, ${format}`,
            /(\d+) warnings?(?: still open|,| and|\.|<)/.exec(renderSheet(sheet, format).replace(/\s+/g, ' '))?.[1],
          ] as const,
      ),
    );
  };

  it('says so in the head of every sheet', async () => {
    const rig = await duo('via y-lead');
    const warnings = foundBy(rig).filter(({ severity }) => severity === 'warning').length;
    expect(warnings).toBe(2);
    expect(foundBy(rig).some(({ severity }) => severity === 'danger' || severity === 'error')).toBe(false);
    const all = await heads(rig);
    expect(all).toHaveLength(3 * SHEET_IDS.length);
    for (const [where, told] of all) expect(told, where).toBe(String(warnings));
  });

  it('says so of those alone that are not allowed to stand', async () => {
    const rig = await duo('via y-lead # allow phantom/reaches-house: tried with this house');
    const [before, now] = [await duo('via y-lead'), rig].map((each) =>
      foundBy(each).filter(({ severity, allowed }) => severity === 'warning' && allowed === undefined),
    );
    expect(now?.length).toBe((before?.length ?? 0) - 1);
    for (const [where, told] of await heads(rig)) expect(told, where).toBe(now?.length ? String(now.length) : undefined);
  });

  it('says nothing of it where there are none', async () => {
    const rig = await analyse(here('../../examples/first.rig'));
    expect(foundBy(rig).every(({ severity }) => severity === 'note')).toBe(true);
    for (const [where, told] of await heads(rig)) expect(told, where).toBeUndefined();
  });
});

describe('the evening, where the rig says', async () => {
  const evening = ['Friday 4 December 2026', 'Old sawmill', 'Maja: 555 0123', 'Živa: 555 0199'];
  const [date, venue, ...contacts] = evening;
  const text = `rig "A" date "${date}" venue "${venue}" ${contacts.map((each) => `contact "${each}"`).join(' ')}
source v "V" is dynamic-mic\ngear i "I" is interface-8-mic\ninput i.1 takes v\nhouse 1 takes v\n`;
  const { checked, located } = await analyseText(text);

  it('is read without complaint', () =>
    expect(located.map(({ finding }) => finding.code).filter((code) => /^(text|names|rig)/.test(code))).toEqual([]));

  it.each(SHEET_FORMATS)('stands on every sheet as %s', async (format) => {
    for (const sheet of await sheetsOf(checked)) {
      const written = renderSheet(sheet, format).replace(/\s+/g, ' ');
      for (const each of evening) expect(written.replaceAll('\\', ''), sheet.id).toContain(each);
    }
  });

  it('stands at the foot of every page', async () => {
    const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
    const data = await sheetsPdf(press, [await sheetOf('set-up', checked)], { paper: 'Letter' });
    const document = await getDocument({ data, useSystemFonts: false, verbosity: 0 }).promise;
    for (let number = 1; number <= document.numPages; number++) {
      const { items } = await (await document.getPage(number)).getTextContent();
      const foot = items.flatMap((item) => ('str' in item && item.transform[5] < 40 ? item.str : [])).join('');
      for (const each of [date, venue]) expect(foot).toContain(each);
    }
  });

  it('is not cut there, long as it may be', async () => {
    const long = [
      '2031-05-17',
      'The old sawmill at the upper ford, hall two',
      'Živa Underlinden, +000 555 0134, ziva@example.org',
      'Night engineer, Gašper, +000 555 0177',
    ] as const;
    const [day, hall, ...people] = long;
    const text = `rig "Sedma Postaja, sawmill" date "${day}" venue "${hall}" ${people.map((each) => `contact "${each}"`).join(' ')}
source v "V" is dynamic-mic\ngear i "I" is interface-8-mic\ninput i.1 takes v\n`;
    const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
    const sheets = [await sheetOf('set-up', (await analyseText(text)).checked)];
    for (const paper of ['A4', 'Letter'] as const) {
      const document = await getDocument({ data: await sheetsPdf(press, sheets, { paper }), useSystemFonts: false, verbosity: 0 }).promise;
      const { items } = await (await document.getPage(1)).getTextContent();
      const foot = items.flatMap((item) => ('str' in item && item.transform[5] < 40 ? item : []));
      const words = foot
        .map(({ str }) => str)
        .join(' ')
        .replace(/\s+/g, ' ');
      for (const each of long) expect(words, paper).toContain(each);
      // Home printers leave 6 mm white (common practice, no source): the line that the letters stand on is above it.
      expect(Math.min(...foot.map(({ transform }) => transform[5])), paper).toBeGreaterThan((6 / 25.4) * 72);
    }
  });

  it('fills in whom the house asks', async () => {
    const form = (await sheetOf('house', checked)).blocks.find(({ kind }) => kind === 'form');
    expect(form?.kind === 'form' && form.fields.flatMap(({ value }) => value ?? [])).toEqual(contacts);
  });
});
