/** The sheets of mixes and levels of every rig there is to look at: plain data, the same each time, drawn inside their frames. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { expect, it } from 'vitest';
import { RigLoader } from '#language';
import { levelsSheet } from '../../packages/sheets/levels/sheet';
import { mixesSheet } from '../../packages/sheets/mixes/sheet';
import { fields } from '../../packages/sheets/sheet';
import { drawingsOf } from './blocks';
import { troubles } from './drawings';

const root = join(import.meta.dirname, '../..');
const rigs = ['examples', 'tests/checks', 'tests/sheets'].flatMap((folder) =>
  readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.rig'))
    .map((entry) => join(entry.parentPath, entry.name)),
);

it.each(rigs.map((path) => [path.slice(root.length + 1), path]))('%s', async (_, path) => {
  const loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(join(path, '..')));
  const { checked } = loader.services.rig.Analyser.of(await loader.load(URI.file(path)));
  if (!checked) return;
  for (const build of [mixesSheet, levelsSheet]) {
    const sheet = build(checked);
    expect(JSON.stringify(build(checked))).toBe(JSON.stringify(sheet));
    expect(new Set(sheet.blocks.map(({ id }) => id)).size).toBe(sheet.blocks.length);
    for (const block of sheet.blocks) {
      if (block.kind !== 'table') {
        expect(JSON.parse(JSON.stringify(block))).toEqual(block);
        continue;
      }
      expect(new Set(block.rows.map(({ key }) => key)).size).toBe(block.rows.length);
      for (const { cells } of block.rows) {
        expect(cells).toHaveLength(fields(block.columns).length);
        for (const cell of cells)
          expect(typeof cell === 'number' ? Number.isFinite(cell) : cell === undefined || cell === null || cell.length > 0).toBe(true);
      }
    }
    for (const { drawing } of drawingsOf(sheet)) {
      expect(troubles(drawing)).toEqual([]);
      expect(drawing.width).toBeLessThanOrEqual(180);
    }
    // Every finding about its subject is told once, and none that is not.
    const subject = sheet.id === 'levels' ? /^levels\// : /^(mixes|latency)\//;
    const told = sheet.blocks.flatMap((block) =>
      block.kind === 'table' ? block.rows.flatMap(({ findings }) => findings) : block.kind === 'notes' ? block.notes : [],
    );
    expect(told.map(({ code, place }) => `${code} ${place}`).sort()).toEqual(
      checked.findings.flatMap(({ code, place }) => (subject.test(code) ? [`${code} ${place}`] : [])).sort(),
    );
  }
});
