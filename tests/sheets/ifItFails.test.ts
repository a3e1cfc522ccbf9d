/** The sheet "If it fails": what each thing takes with it, worked out by hand for a small rig, and what holds of any rig. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { failuresOf } from '#engine';
import { sheetOf } from '#sheets';
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
    expect(told).toContainEqual(['DI', [], ['Bass'], ['2']]);
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
    const round = (key: string) => rows.find((row) => row.key === key)?.cells[5];
    expect(round('gear:di')).toContain('the spare: Other DI');
    expect(round('gear:pack-a')).toContain('earphones on a lead, into Interface phones1');
    expect(round('gear:split')).toContain('plug Voice straight into Interface in 1');
    expect(round('gear:split')).toContain('the house’s own microphone');
  });

  it('has what the mains and the computer take with them', async () => {
    const rows = table(await sheetFor(RIG), 'supplies')?.rows ?? [];
    expect(rows.map(({ cells }) => cells.slice(0, 1).concat(cells.slice(2, 5)))).toEqual([
      ['the mains', 'everybody', '', '3 Tracks'],
      ['the computer', '', 'Click', ''],
    ]);
  });

  it('has every lead that is missed, by its number', async () => {
    const rows = table(await sheetFor(RIG), 'leads')?.rows ?? [];
    const voice = rows.find(({ cells }) => String(cells[1]).includes('Voice → Split'));
    expect(voice?.cells.slice(2, 5)).toEqual(['', 'Voice', '1 Voice']);
    for (const { cells } of rows) expect(cells[0]).toBeGreaterThan(0);
  });

  const examples = join(import.meta.dirname, '../../examples');
  const rigs = readdirSync(examples).filter((name) => name.endsWith('.rig'));

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
