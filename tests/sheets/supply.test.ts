/** What the sheet says of phantom power agrees with what the checks find, on every rig there is to look at. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { expect, it } from 'vitest';
import { RigLoader } from '#language';

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
  const supply = checked.supplies;
  const missing = checked.network.lines
    .filter((line) => line.run.kind === 'input' && supply.of(line) === 'missing')
    .map((line) => line.run.id);
  const found = checked.findings
    .filter(({ code }) => code === 'phantom/missing' || code === 'phantom/blocked')
    .map(({ place }) => place.split('/')[0]);
  for (const run of found) if (run?.startsWith('input')) expect(missing).toContain(run);
  // Who supplies is switched on, by copper; what is left of the 48 volts is known just there.
  for (const { supplier, suppliers, volts } of supply.needy) {
    expect(volts === undefined).toBe(suppliers.length === 0);
    if (supplier) expect(suppliers[0]).toBe(supplier);
    for (const { end, block } of suppliers) expect([supply.live.has(end.key), block]).toEqual([true, undefined]);
    if (volts !== undefined) expect(volts).toBeLessThanOrEqual(48);
  }
  // What is told once may be missing on several lines (a stereo pair, two desks), or only follow from two boxes where one is meant,
  // and where inputs are short it is told there.
  const cause = checked.findings.some(({ code }) => code === 'splits/second-piece' || code === 'capacity/too-few-inputs');
  if (missing.length > 0 && !cause) expect(found.length).toBeGreaterThan(0);
});
