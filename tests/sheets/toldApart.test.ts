/** What has one label in a rig has a label of its own on every sheet and on the labels of its leads: whose it is, on which side, or as it is written. */
import { describe, expect, it } from 'vitest';
import { fields, labelSet, labelsOf, SHEET_IDS, type Sheet, sheetsOf } from '#sheets';
import { allNotes } from '../../packages/sheets/render/words';
import { fingerprintOf } from '../../packages/sheets/shared/fingerprint';
import { toldApart } from '../../packages/sheets/shared/toldApart';
import { analyse, analyseText, here } from './load';
import { cellsOf } from './tables';

// Invented: two people of one name with a guitar, a microphone, a box, a split, a mix, a pack and a transmitter each.
const RIG = `rig "Two of Each, wash house" stage 8 m by 4 m
performer a1 "Anna" at -2 m, 2 m
performer a2 "Anna" at 2 m, 2 m
source g1 "Lute" is magnetic-pickup by a1
source g2 "Lute" is magnetic-pickup by a2
source v1 "Alto" is dynamic-mic by a1
source v2 "Alto" is dynamic-mic by a2
gear desk "Desk" is interface-8-mic at 0 m, 3 m
gear b1 "Grey" is passive-di for a1
gear b2 "Grey" is passive-di for a2
gear y1 "Fork" is y-lead at -2 m, 2 m
gear y2 "Fork" is y-lead at 2 m, 2 m
gear t1 "Mast" is in-ear-transmitter at 0 m, 3 m on 863.3 MHz
gear t2 "Mast" is in-ear-transmitter at 0 m, 3 m on 864.5 MHz
gear p1 "Tin" is belt-pack for a1 hears t1.left
gear p2 "Tin" is belt-pack for a2 hears t2.left
input desk.1 takes v1 via y1.1
input desk.2 takes v2 via y2.1
input desk.3 takes g1 via b1
input desk.4 takes g2 via b2
house at -4 m, 4 m
house 1 takes v1 via y1.2
house 2 takes v2 via y2.2
mix m1 "Kiln" mono for a1 { v1 0 dB g1 0 dB }
mix m2 "Kiln" mono for a2 { v2 0 dB g2 0 dB }
output desk.1 carries m1 via t1.left
output desk.2 carries m2 via t2.left
`;

/** All that a sheet says in tables, remarks, findings and drawings. */
function said(sheet: Sheet): string[] {
  const texts = sheet.blocks.flatMap((block) => {
    const more = 'remark' in block ? [block.remark ?? ''] : [];
    if (block.kind === 'table')
      return [
        ...more,
        ...fields(block.columns).map(({ title }) => title),
        ...block.rows.flatMap(({ cells, group }) => [group ?? '', ...cells.map((cell) => String(cell ?? ''))]),
      ];
    return block.kind === 'drawing' ? [...more, block.description, ...block.drawing.shapes.flatMap(({ label }) => label ?? [])] : more;
  });
  return [...texts, ...allNotes(sheet).flatMap(({ note }) => [note.what, note.cure])];
}

/** A label that is not followed by what tells it apart. */
const BARE = /\b(?:Anna(?!,| \(| left| right)|(?:Alto|Lute|Grey|Fork|Kiln|Tin|Mast)(?! \())/;

describe('two of each', async () => {
  const { checked } = await analyseText(RIG);
  const sheets = await sheetsOf(checked);

  it.each(SHEET_IDS)('%s tells them apart', (id) => {
    const sheet = sheets.find((each) => each.id === id) as Sheet;
    const texts = said(sheet);
    expect(texts.length).toBeGreaterThan(3);
    expect(texts.filter((text) => BARE.test(text))).toEqual([]);
  });

  it('by whose they are, by side, and else as they are written', () => {
    const patch = sheets.find(({ id }) => id === 'patch-list') as Sheet;
    const outputs = cellsOf(patch, 'outputs').map((cells) => cells.join(' | '));
    expect(outputs[0]).toMatch(/Kiln \(Anna, right\).*Anna \(right\).*Mast \(t1\) left, 863\.3 MHz → Tin \(Anna, right\)/);
    expect(outputs[1]).toMatch(/Kiln \(Anna, left\).*Anna \(left\).*Mast \(t2\) left, 864\.5 MHz → Tin \(Anna, left\)/);
    expect(cellsOf(patch, 'inputs').flat()).toEqual(
      expect.arrayContaining(['Alto (Anna, right)', 'Fork (right)', 'Fork (left)', 'Grey (Anna, left) out']),
    );
  });

  it('on labels, too', () => {
    const names = labelsOf(toldApart(checked)).map(({ name }) => name);
    expect(names.filter((name) => BARE.test(name))).toEqual([]);
    const words = JSON.stringify(labelSet(checked, { stock: 'a4-3x8', style: 'plain' }).pages);
    expect(words).toContain('Alto (Anna, right)');
  });

  it('of a rig that is the same rig', () => {
    for (const { fingerprint } of sheets) expect(fingerprint).toBe(fingerprintOf(checked.rig));
    expect(toldApart(checked).findings).toBe(checked.findings);
  });
});

it('leaves a rig alone in which all have labels of their own', async () => {
  for (const name of ['first', 'street', 'ten']) {
    const { checked } = await analyse(here(`../../examples/${name}.rig`));
    expect(toldApart(checked)).toBe(checked);
  }
});
