/** Of a sheet that comes anew, what says the same is the very thing that was there, so that it is not drawn again. */
import { describe, expect, it } from 'vitest';
import { SHEET_IDS, type Sheet, sheetOf } from '#sheets';
import { sharing } from '../../packages/preview/sharing';
import { analyseText } from '../sheets/load';

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

/** As they come over the wire: with nothing in common. */
async function sent(id: (typeof SHEET_IDS)[number], text: string): Promise<Sheet> {
  return JSON.parse(JSON.stringify(await sheetOf(id, (await analyseText(text)).checked)));
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
