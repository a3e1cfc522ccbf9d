/** The sheet "If it fails": what each thing takes with it, worked out by hand for a small rig, and what holds of any rig. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { failuresOf } from '#engine';
import { sheetOf } from '#sheets';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import type { Sheet, TableBlock } from '../../packages/sheets/sheet';
import { analyse, analyseText } from '../checks/open';

const RIG = `rig "Pocket" region EU
performer ana "Ana"
performer brik "Brik"
performer cleo "Cleo"
source voice "Voice" is dynamic-mic by ana
source bass "Bass" is preamp-pickup by brik
source kick "Kick" is dynamic-mic by cleo
source click "Click" is click-channel
gear iface "Interface" is interface-8-mic
gear di "DI" is passive-di
gear di-2 "Other DI" is passive-di spare
gear split "Split" is transformer-split
gear tx "Transmitter" is in-ear-transmitter on 863.3 MHz
gear pack-a "Ana's pack" is belt-pack for ana hears tx.left
gear pack-b "Brik's pack" is belt-pack for brik hears tx.right
gear amp "Amp" is headphone-amp
input iface.1 takes voice via split.iso
input iface.2 takes bass via di
input iface.3 takes kick
input iface.usb1 takes click
house 1 "Voice" takes voice via split.direct
house 2 "Bass" takes bass via di
house 3 "Tracks" takes tracks
mix ana mono for ana { voice 0 dB bass -3 dB click -12 dB }
mix brik mono for brik { bass 0 dB kick -3 dB }
mix cleo mono for cleo { kick 0 dB voice -6 dB }
mix tracks mono for house { bass 0 dB }
output iface.1 carries ana via tx.left
output iface.2 carries brik via tx.right
output iface.3 carries cleo via amp
output iface.4 carries tracks via passive-di
`;

const table = (sheet: Sheet, id: string) => sheet.blocks.find((block): block is TableBlock => block.kind === 'table' && block.id === id);

async function sheetFor(text: string): Promise<Sheet> {
  const { checked } = await analyseText(text);
  if (!checked) throw new Error('no rig');
  return await sheetOf('if-it-fails', checked, checked.findings);
}

describe('If it fails', () => {
  it('has for each thing who hears nothing, what is gone from all ears, which house lines go, and a way round', async () => {
    const { checked } = await analyseText(RIG);
    if (!checked) throw new Error('no rig');
    const told = failuresOf(checked.network)
      .pieces()
      .map(({ of, deaf, sources, house }) => [
        'piece' in of ? of.piece.label : '',
        deaf.map(({ label }) => label),
        sources.map(({ label }) => label),
        house.map(({ number }) => number),
      ]);
    expect(told).toContainEqual(['Interface', ['Ana', 'Brik', 'Cleo'], [], ['3']]);
    expect(told).toContainEqual(['DI', [], ['Bass'], ['2', '3']]);
    expect(told).toContainEqual(['Split', [], ['Voice'], ['1']]);
    expect(told).toContainEqual(['Transmitter', ['Ana', 'Brik'], [], []]);
    expect(told).toContainEqual(["Ana's pack", ['Ana'], [], []]);
    expect(told).toContainEqual(['Amp', ['Cleo'], [], []]);
    // The fresh DI of the tracks takes its house line alone; the spare in its case takes nothing.
    expect(told.filter(([label]) => label === 'Passive DI')).toEqual([['Passive DI', [], [], ['3']]]);
    expect(told.some(([label]) => label === 'Other DI')).toBe(false);
  });

  it('names the spare, a socket for earphones, and the plug that fits without the thing', async () => {
    const rows = table(await sheetFor(RIG), 'pieces')?.rows ?? [];
    const round = (key: string) => rows.find((row) => row.key === key)?.cells[2];
    expect(round('gear:di')).toContain('the spare: Other DI');
    expect(round('gear:pack-a')).toContain('earphones on a lead, into Interface phones1, and the mix sent there');
    expect(round('gear:split')).toContain('plug Voice straight into Interface in 1');
    expect(round('gear:split')).toContain('the house’s own microphone');
  });

  it('asks for a line of the house’s to be muted, its 48 V off and its level down before anything is plugged on it', async () => {
    const rows = table(await sheetFor(RIG), 'pieces')?.rows ?? [];
    const round = (what: string) => rows.find(({ cells }) => cells[0] === what)?.cells[2];
    expect(round('DI')).toMatch(/^first house 2 and 3 muted, their 48 V off, level down: the spare: Other DI; or /);
    expect(round('Split')).toMatch(
      /^first house 1 muted, its 48 V off, level down: plug Voice straight into Interface in 1; or the house’s/,
    );
    expect(round('Passive DI')).toMatch(/^first house 3 muted, its 48 V off, level down: /);
    for (const { cells } of rows) if (!String(cells[1]).includes('house')) expect(cells[2]).not.toContain('muted');
  });

  it('names the lead that is needed where neither that is there has the ends for it, and none where one has', async () => {
    const rows = table(await sheetFor(RIG), 'pieces')?.rows ?? [];
    const round = (what: string) => String(rows.find(({ cells }) => cells[0] === what)?.cells[2]);
    expect(round('Passive DI')).toMatch(/plug Interface out 4 straight into house 3, by a lead 6\.35 mm TRS jack to XLR male$/);
    expect(round('Split')).not.toContain('by a lead');
  });

  it('never plugs what 48 V destroys straight into an input that has them on', async () => {
    const ribbon = `rig "Shed"
performer wim "Wim"
source pipes "Pipes" is ribbon-mic by wim
source board "Board" is condenser-mic by wim
gear iface "Interface" is interface-8
gear split "Split" is transformer-split
input iface.1 takes pipes via split.iso
input iface.2 takes board
house 1 "Pipes" takes pipes via split.direct
mix wim mono for wim { pipes 0 dB board 0 dB }
output iface.phones1 carries wim
`;
    const round = async (text: string) => table(await sheetFor(text), 'pieces')?.rows.find(({ key }) => key === 'gear:split')?.cells[2];
    // One switch for both inputs, and the board needs it.
    expect(await round(ribbon)).toBe(
      'first house 1 muted, its 48 V off, level down: plug Pipes straight into house 1; or the house’s own microphone or box on its line',
    );
    expect(await round(ribbon.replace('condenser-mic', 'dynamic-mic'))).toContain('plug Pipes straight into Interface in 1');
  });

  it('has no 48 V switched on for what is plugged straight in where they would destroy a neighbour on the same switch', async () => {
    const rig = RIG.replace('"Voice" is dynamic-mic', '"Voice" is condenser-mic').replace('"Kick" is dynamic-mic', '"Kick" is ribbon-mic');
    const round = table(await sheetFor(rig), 'pieces')?.rows.find(({ key }) => key === 'gear:split')?.cells[2];
    expect(round).toContain('plug Voice straight into house 1, then 48 V on there; or ');
  });

  it('has 48 V switched on where what needs them is plugged straight in: the house gave them before', async () => {
    const round = async (is: string) =>
      table(await sheetFor(RIG.replace('"Voice" is dynamic-mic', `"Voice" is ${is}`)), 'pieces')?.rows.find(
        ({ key }) => key === 'gear:split',
      )?.cells[2];
    expect(await round('condenser-mic')).toContain('plug Voice straight into Interface in 1, then 48 V on there; or ');
    expect(await round('dynamic-mic')).toContain('plug Voice straight into Interface in 1; or ');
  });

  it('says for how many of those who hear nothing a way round is', async () => {
    const shared = RIG.replace(
      'mix cleo mono for cleo',
      'performer dan "Dan"\ngear dan-p "Dan\'s pack" is wired-pack for dan\ngear y "Y" is y-lead\nmix cleo mono for cleo, dan',
    )
      .replace('gear amp "Amp" is headphone-amp', 'gear amp "Amp" is headphone-amp for cleo')
      .replace('carries cleo via amp', 'carries cleo via y.1, amp\noutput iface.3 carries cleo via y.2, dan-p');
    const rows = table(await sheetFor(shared), 'pieces')?.rows ?? [];
    const round = (what: string) => rows.find(({ cells }) => cells[0] === what)?.cells[2];
    expect(round('Transmitter')).toBe('for one of them: earphones on a lead, into Interface phones1, and the mix sent there');
    expect(round('Ana’s pack')).toBe('earphones on a lead, into Interface phones1, and the mix sent there');
    expect(round('Y')).toMatch(/^for Cleo alone: plug Interface out 3 straight into Amp left.*; or for one of them: earphones on a lead/);
  });

  it('has the desk of the house’s that our ears are mixed on, and what else of theirs we hear by', async () => {
    const { checked } = await analyse(join(import.meta.dirname, '../checks/house-desk.rig'));
    if (!checked) throw new Error('no rig');
    const rows = table(await sheetOf('if-it-fails', checked, checked.findings), 'pieces')?.rows ?? [];
    expect(rows.slice(0, 2).map(({ cells }) => cells.slice(0, 3))).toEqual([
      ['House monitor desk', 'everybody hears nothing', 'ask the house for another'],
      [
        'House split',
        'Voice and Kora in the ears; house 1 and 2',
        'the house’s own microphone or box on its line; or ask the house for another',
      ],
    ]);
  });

  it('has what is gone from a mix for the house: its line where nothing is left in it, else what is missing on it', async () => {
    const lost = async (text: string, id: string, what: string) =>
      table(await sheetFor(text), id)?.rows.find(({ cells }) => cells[0] === what)?.cells;
    const tracks = RIG.replace('for house { bass 0 dB }', 'for house { click 0 dB bass 0 dB }');
    expect((await lost(tracks, 'supplies', 'the computer'))?.[2]).toBe('Click in the ears and on house 3');
    expect((await lost(tracks, 'pieces', 'DI'))?.[1]).toBe('Bass in the ears and on house 3; house 2');
    expect((await lost(tracks, 'leads', 'Click'))?.[1]).toBeUndefined();
    const alone = RIG.replace('for house { bass 0 dB }', 'for house { click 0 dB }').replace(' click -12 dB', '');
    expect((await lost(alone, 'supplies', 'the computer'))?.[2]).toBe('house 3');
    expect((await lost(RIG, 'leads', 'Bass'))?.[1]).toMatch(
      /^\d+ to DI: the ears and house 2 and 3; \d+ to Interface in 2: the ears and house 3/,
    );
  });

  it('has each side of a mix for the house by itself', async () => {
    const wide = RIG.replace('source click', 'source organ "Organ" is stereo-keyboard\nsource click')
      .replace('input iface.usb1', 'input iface.5..6 takes organ\ninput iface.usb1')
      .replace('house 3 "Tracks" takes tracks', 'house 3 "Left" takes tracks.left\nhouse 4 "Right" takes tracks.right')
      .replace('tracks mono for house { bass 0 dB }', 'tracks stereo for house { organ 0 dB kick 0 dB left 100 % }')
      .replace('output iface.4 carries tracks via passive-di', 'output iface.4..5 carries tracks via stereo-di');
    const rows = table(await sheetFor(wide), 'leads')?.rows ?? [];
    const leads = (signal: string) => String(rows.find(({ cells }) => cells[0] === signal)?.cells[1]);
    expect(leads('Organ left')).toMatch(/^\d+ to Interface in 5: its part on house 3$/);
    expect(leads('Organ right')).toMatch(/^\d+ to Interface in 6: house 4$/);
    expect(leads('Kick')).toMatch(/^\d+ to Interface in 3: the ears and its part on house 3$/);
  });

  it('has loudspeakers of our own, and what the audience loses', async () => {
    const own = `rig "Barn" region EU
performer ana "Ana"
source voice "Voice" is dynamic-mic by ana
source drum "Drum" is dynamic-mic by ana
gear iface "Interface" is interface-8-mic
gear one "Left loudspeaker" is powered-loudspeaker
gear two "Right loudspeaker" is powered-loudspeaker
input iface.1 takes voice
input iface.2 takes drum
house ours
mix ana mono for ana { voice 0 dB }
mix pa stereo for house { voice 0 dB drum -3 dB }
output iface.phones1 carries ana
output iface.1 carries pa via one
output iface.2 carries pa via two
`;
    const sheet = await sheetFor(own);
    expect(table(sheet, 'supplies')?.rows[0]?.cells[2]).toBe('Ana hears nothing; the audience hears nothing');
    expect(table(sheet, 'pieces')?.rows.map(({ cells }) => cells.slice(0, 2))).toEqual([
      ['Interface', 'Ana hears nothing; the audience hears nothing'],
      ['Left loudspeaker', 'a part of what the audience hears'],
      ['Right loudspeaker', 'a part of what the audience hears'],
    ]);
    const leads = table(sheet, 'leads')?.rows.map(({ cells }) => String(cells[1])) ?? [];
    expect(leads).toEqual([
      expect.stringMatching(/^\d+ to Interface in 1: the ears and its part in the loudspeakers$/),
      expect.stringMatching(/^\d+ to Interface in 2: its part in the loudspeakers$/),
      expect.stringMatching(/^\d+ to Left loudspeaker: a part of what the audience hears; \d+ to Right loudspeaker: a part of /),
    ]);
    const single = own.replace('output iface.2 carries pa via two\n', '').replace('pa stereo', 'pa mono');
    expect(table(await sheetFor(single), 'pieces')?.rows.map(({ cells }) => cells[1])).toEqual([
      'Ana hears nothing; the audience hears nothing',
      'the audience hears nothing',
    ]);
  });

  it('has what the mains and the computer take with them', async () => {
    const rows = table(await sheetFor(RIG), 'supplies')?.rows ?? [];
    expect(rows.map(({ cells }) => [cells[0], cells[2]])).toEqual([
      ['the mains', 'everybody hears nothing; house 3'],
      ['the computer', 'Click in the ears'],
    ]);
  });

  it('has every lead that is missed, by its number, with what goes with it', async () => {
    const { checked } = await analyseText(RIG);
    if (!checked) throw new Error('no rig');
    const rows = table(await sheetFor(RIG), 'leads')?.rows ?? [];
    const leads = (signal: string) => String(rows.find(({ cells }) => cells[0] === signal)?.cells[1]);
    expect(leads('Voice')).toMatch(/^1 to Split: the ears and house 1; \d+ to Interface in 1: the ears; \d+ to house 1: house 1$/);
    expect(leads('cleo')).toMatch(/^\d+ to Amp left: Cleo hears nothing/);
    const numbers = rows.flatMap(({ cells }) => [...String(cells[1]).matchAll(/(?:^|; )(\d+) to /g)].map(([, number]) => Number(number)));
    const known = failuresOf(checked.network).leads().length;
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(numbers.length).toBeGreaterThan(0);
    expect(numbers.length).toBeLessThanOrEqual(known);
  });

  it('has both sides of what is stereo, in and out: the lead of one takes that side', async () => {
    const stereo = RIG.replace('source click', 'source organ "Organ" is stereo-keyboard\nsource click')
      .replace('input iface.usb1', 'input iface.5..6 takes organ\ninput iface.usb1')
      .replace('mix cleo mono for cleo { kick 0 dB', 'mix cleo stereo for cleo { organ 0 dB kick 0 dB')
      .replace('output iface.3 carries cleo via amp\noutput iface.4', 'output iface.3..4 carries cleo via amp\noutput iface.5');
    const rows = table(await sheetFor(stereo), 'leads')?.rows ?? [];
    const leads = (signal: string) => String(rows.find(({ cells }) => cells[0] === signal)?.cells[1]);
    for (const side of ['left', 'right']) {
      expect(leads(`Organ ${side}`)).toMatch(/^\d+ to Interface in [56]: the ears$/);
      expect(leads(`cleo ${side}`)).toMatch(/^\d+ to Amp (left|right): Cleo hears one side alone$/);
    }
  });

  it('has packs that are alike in one row', async () => {
    const more = ['dan', 'eva', 'fay']
      .map((name) => `performer ${name} "${name.toUpperCase()}"\ngear pack-${name} is belt-pack for ${name} hears tx.left\n`)
      .join('');
    const rows =
      table(await sheetFor(RIG.replace('mix ana mono for ana', `${more}mix ana mono for ana, dan, eva, fay`)), 'pieces')?.rows ?? [];
    const [packs, ...others] = rows.filter(({ cells }) => String(cells[1]) === 'its wearer hears nothing');
    expect(packs?.cells[0]).toEqual('Belt pack of Ana, Brik, DAN, EVA or FAY');
    expect(others).toEqual([]);
  });

  const examples = join(import.meta.dirname, '../../examples');
  const rigs = readdirSync(examples).filter((name) => name.endsWith('.rig'));

  it('of every example is one page, of A4 and of Letter', async () => {
    const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
    for (const name of [...rigs, ...['band', 'cellar', 'chapel', 'quayside'].map((night) => `three-nights/${night}.rig`)]) {
      const { checked } = await analyse(join(examples, name));
      if (!checked) throw new Error('no rig');
      const sheet = await sheetOf('if-it-fails', checked, checked.findings);
      for (const paper of ['A4', 'Letter'] as const) {
        const document = await getDocument({ data: await sheetsPdf(press, [sheet], { paper }), useSystemFonts: false, verbosity: 0 })
          .promise;
        expect(document.numPages, `${name} on ${paper}`).toBe(1);
      }
    }
  }, 120_000);

  /** The other way to find out: the rig as it is without the statement of the thing, and everything that names it. */
  it.each(rigs)('%s: who is deaf without a thing hears nothing either where it is not written', async (name) => {
    const text = readFileSync(join(examples, name), 'utf8');
    const { checked } = await analyse(join(examples, name));
    if (!checked) throw new Error('no rig');
    for (const { of, deaf } of failuresOf(checked.network).pieces()) {
      if (!('piece' in of) || of.piece.kind !== 'gear' || of.piece.model.mixes) continue;
      const without = text
        .split('\n')
        .filter((line) => !new RegExp(`\\b${of.piece.name}\\b`).test(line.replace(/"[^"]*"|#.*/g, '')))
        .join('\n')
        .replaceAll(/use "/g, `use "${'examples/'}`);
      const { checked: left } = await analyseText(without);
      const hear = new Set((left?.hearings ?? []).map(({ performer }) => performer.id));
      for (const { id, label } of deaf) expect(hear.has(id), `${label} without ${of.piece.label}`).toBe(false);
    }
  });
});
