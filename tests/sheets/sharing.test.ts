/** Of a sheet that comes anew, what says the same is the very thing that was there, so that it is not drawn again. */
import { describe, expect, it } from 'vitest';
import { SHEET_IDS, type Sheet, sheetOf } from '#sheets';
import { sharing } from '#sheets/sharing';
import { updated, updateOf } from '#sheets/update';
import { analyseText } from './load';

const RIG = `rig "Copper Wren"
performer ana "Ana" at 0 m, 1 m
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by ana
gear iface "Interface" is interface-8-mic at 1 m, 3 m
input iface.1 takes voice
input iface.2 takes reed
mix ana mono for ana { voice 0 dB reed -3 dB }
output iface.phones1 carries ana
`;

const analysed = new Map<string, ReturnType<typeof analyseText>>();

/** As they come over the wire: with nothing in common. */
async function sent(id: (typeof SHEET_IDS)[number], text: string): Promise<Sheet> {
  const analysis = analysed.get(text) ?? analyseText(text);
  analysed.set(text, analysis);
  return JSON.parse(JSON.stringify(await sheetOf(id, (await analysis).checked)));
}

const rowsOf = (sheet: Sheet) => sheet.blocks.flatMap((block) => (block.kind === 'table' ? block.rows : []));

describe('a sheet that comes anew', () => {
  it.each(SHEET_IDS)('has every block of the one before where nothing has changed: %s', async (id) => {
    const before = await sent(id, RIG);
    const now = sharing(before, await sent(id, `# a word\n${RIG}`));
    expect(now.blocks.length).toBe(before.blocks.length);
    for (const [index, block] of now.blocks.entries()) expect(block).toBe(before.blocks[index]);
  });

  it('has a new row for what says something else, and the others as they were', async () => {
    const before = await sent('patch-list', RIG);
    const fresh = await sent('patch-list', RIG.replace('"Reed"', '"Reeds"'));
    const now = sharing(before, fresh);
    expect(now).toEqual(fresh);
    const known = new Set(rowsOf(before));
    const changed = rowsOf(now).filter((row) => !known.has(row));
    expect(changed.length).toBeGreaterThan(0);
    for (const row of changed) expect(JSON.stringify(row)).toContain('Reeds');
    expect(rowsOf(now).length - changed.length).toBeGreaterThan(0);
  });

  it('is taken as it comes where another sheet was before', async () => {
    const fresh = await sent('leads', RIG);
    expect(sharing<Sheet>(await sent('patch-list', RIG), fresh)).toBe(fresh);
  });
});

/** A line more in front and behind, one less, one that says something else, another order; and what marks every row. */
const EDITS: Readonly<Record<string, (text: string) => string>> = {
  'a line more': (text) =>
    text.replace('input iface.2', 'source cello "Cello" is clip-on-mic by ana\ninput iface.5 takes cello\ninput iface.2'),
  'a line less': (text) => text.replace('input iface.1 takes voice\n', ''),
  'another label': (text) => text.replace('"Voice"', '"Lead voice"'),
  'another order': (text) => text.replace('iface.1 takes voice', 'iface.3 takes voice'),
  'an error more': (text) => text.replace('input iface.2 takes reed', 'input iface.1 takes reed'),
  'nothing left': () => 'rig "Copper Wren"\n',
};

describe.each(SHEET_IDS)('what is sent of the %s instead of the whole', (id) => {
  it.each(Object.keys(EDITS))('makes it anew: %s', async (edit) => {
    const [old, now] = await Promise.all([RIG, EDITS[edit]?.(RIG) ?? ''].map((text) => sent(id, text)));
    if (!old || !now) throw new Error('No sheets.');
    const update = updateOf(old, sharing(old, now));
    expect(updated(old, JSON.parse(JSON.stringify(update)))).toEqual(now);
    const back = updateOf(now, sharing(now, old));
    expect(updated(now, JSON.parse(JSON.stringify(back)))).toEqual(old);
  });

  it('says no row twice', async () => {
    const old = await sent(id, RIG);
    const now = sharing(old, await sent(id, `# a word\n${RIG}`));
    expect(updateOf(old, now).blocks).toEqual(old.blocks.map((block) => block.id));
  });
});
