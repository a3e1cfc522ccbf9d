/** The stage: everything where the rig says, inside the drawing, with no words on others; leads as they are reckoned. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { Press } from '../../packages/pdf/press';
import { sheetsPdf } from '../../packages/pdf/sheets';
import type { Drawing } from '../../packages/sheets/drawing';
import { stageSheet } from '../../packages/sheets/stage/sheet';
import { generateRig } from '../generate';
import { cases } from '../thorough';
import { boundsOf, overlap, troubles } from './drawings';
import { analyse, analyseText, here } from './load';

const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
const examples = join(import.meta.dirname, '../../examples');
const sheetOf = async (text: string) => stageSheet((await analyseText(text)).checked);

function drawingOf({ blocks }: ReturnType<typeof stageSheet>): Drawing {
  const block = blocks.find((each) => each.kind === 'drawing');
  if (block?.kind !== 'drawing') throw new Error('nothing is drawn');
  return block.drawing;
}

function rowsOf({ blocks }: ReturnType<typeof stageSheet>) {
  const block = blocks.find((each) => each.kind === 'table');
  return block?.kind === 'table' ? block.rows : [];
}

const texts = ({ shapes }: Drawing) => shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : []));

/** Words that a lead runs through, and paper laid over leads to make room for words. */
function cutBy({ shapes }: Drawing): string[] {
  const leads = shapes.filter((shape) => shape.kind === 'path' && /^(one|\d+) leads?: /.test(shape.label ?? '')).map(boundsOf);
  return shapes.flatMap((shape) => {
    if (shape.kind === 'box' && shape.fill === 'paper' && shape.stroke === undefined) return ['a white box'];
    if (shape.kind !== 'words' || /^\d+$/.test(shape.text)) return [];
    const words = boundsOf(shape);
    return leads.some((lead) => overlap(words, { ...lead, right: lead.right + 0.02, bottom: lead.bottom + 0.02 })) ? [shape.text] : [];
  });
}

/** Crosses of the grid under words, and tape under a thing that stands there. */
function hiddenIn({ shapes }: Drawing): string[] {
  const crosses = shapes.filter((shape) => shape.kind === 'path' && shape.stroke === 'line').map(boundsOf);
  const tape = shapes.filter((shape) => shape.kind === 'path' && shape.strokeWidth === 0.45 && shape.stroke === 'ink').map(boundsOf);
  return shapes.flatMap((shape) => {
    const bounds = boundsOf(shape);
    const under = (all: readonly (typeof bounds)[]) => all.some((each) => overlap(bounds, each));
    if (shape.kind === 'words') return under(crosses) ? [`a cross under ${shape.text}`] : [];
    return shape.fill === 'paper' && shape.label && under(tape) ? [`tape under ${shape.label}`] : [];
  });
}

describe('every example', () => {
  const rigs = [
    ...readdirSync(examples)
      .filter((name) => name.endsWith('.rig'))
      .map((name) => join(examples, name)),
    ...['lighthouse.rig', 'awkward.rig', 'half.rig', 'danger.rig'].map(here),
    here('../house/each-kind.rig'),
  ];
  it.each(rigs)('%s is drawn inside its frame, with no words on others', async (path) => {
    const { checked } = await analyse(path);
    const sheet = stageSheet(checked);
    for (const block of sheet.blocks) {
      if (block.kind !== 'drawing') continue;
      expect(troubles(block.drawing)).toEqual([]);
      expect(cutBy(block.drawing)).toEqual([]);
      expect(hiddenIn(block.drawing)).toEqual([]);
    }
    expect(JSON.stringify(stageSheet(checked))).toBe(JSON.stringify(sheet));
  });

  it.each([60, 240, 500])('a generated rig of %d lines', async (lines) => {
    const sheet = await sheetOf(generateRig(lines));
    expect(troubles(drawingOf(sheet))).toEqual([]);
  });
});

describe('a rig of three people', async () => {
  const RIG = `rig "Two Mills"
  stage 8 m by 5 m
performer ada  "Ada"  at 2 m, 1 m
performer bo   "Bo"   at -2 m, 1 m
performer cy   "Cy"
source voice  "Voice"  is dynamic-mic  by ada
source horn   "Horn"   is dynamic-mic  by bo
source hall   "Hall"   is audience-mic  at -3.5 m, 0.2 m
gear iface  "Interface"  is interface-8-mic  at 2 m, 4.5 m
gear pack   "Ada's pack"  is wired-pack  for ada
gear lost   "Spare amplifier"  is headphone-amp
input iface.1  takes voice  via y-lead
input iface.2  takes horn
input iface.3  takes hall
house at 4 m, 0.5 m
house 1  takes voice
mix ada  mono  for ada  { horn 0 dB }
output iface.1  carries ada  via pack
`;
  const sheet = await sheetOf(RIG);
  const drawing = drawingOf(sheet);

  it('tells where each stands, from the middle, the front and the nearer side', () => {
    expect(rowsOf(sheet).map((row) => row.cells)).toEqual([
      [1, 'Ada', 'performer', "Ada's pack, Voice, Y-lead", '2 m to the left', 1, '2 m from the left'],
      [2, 'Bo', 'performer', 'Horn', '2 m to the right', 1, '2 m from the right'],
      [undefined, 'Cy', 'performer', undefined, 'place not said', undefined, undefined],
      [4, 'Interface', 'Interface, eight microphone inputs', undefined, '2 m to the left', 4.5, '2 m from the left'],
      [undefined, 'Spare amplifier', 'Headphone amplifier', undefined, 'place not said', undefined, undefined],
      [6, 'Hall', 'Audience microphone', undefined, '3.5 m to the right', 0.2, '0.5 m from the right'],
      [7, 'House’s stage box', 'one line', undefined, '4 m to the left', 0.5, '0 m from the left'],
      [8, 'Mains', 'one socket', 'for Interface', '2 m to the left', 4.5, '2 m from the left'],
    ]);
    expect(rowsOf(sheet).map((row) => row.unfinished)).toEqual([false, false, true, false, true, false, false, false]);
  });

  it('is drawn to scale, with the performers’ left on the right and the audience below', () => {
    const middle = (place: string) => {
      const found = drawing.shapes.find((shape) => shape.place === place && shape.kind === 'dot');
      if (found?.kind !== 'dot') throw new Error(`no marker for ${place}`);
      return found;
    };
    const [ada, bo] = [middle('performer:ada'), middle('performer:bo')];
    const mmPerM = (ada.x - bo.x) / 4;
    expect(ada.y).toBeCloseTo(bo.y);
    const ratio = Number(/1 : (\d+)/.exec(texts(drawing).join('\n'))?.[1]);
    expect(mmPerM).toBeCloseTo(1000 / ratio, 1);
    const stage = drawing.shapes.find((shape) => shape.kind === 'box' && shape.fill === undefined);
    if (stage?.kind !== 'box') throw new Error('no stage');
    expect(stage.width / mmPerM).toBeCloseTo(8, 1);
    expect(stage.height / mmPerM).toBeCloseTo(5, 1);
    // One metre from the front edge, which is the lower one.
    expect((stage.y + stage.height - ada.y) / mmPerM).toBeCloseTo(1, 1);
    const audience = drawing.shapes.find((shape) => shape.kind === 'words' && shape.text === 'Audience');
    expect(audience?.kind === 'words' && audience.y).toBeGreaterThan(stage.y + stage.height);
  });

  it('says who plays what, on which of the house’s lines, and names the interface, the house’s box and the mains', () => {
    expect(texts(drawing)).toEqual(
      expect.arrayContaining(['Ada', 'Voice', 'house 1', 'Bo', 'Horn', 'Interface', 'House’s stage box', 'Mains', 'one socket']),
    );
    expect(texts(drawing)).toContain('microphone, on a stand if wanted');
  });

  it('lays each lead at right angles, as far as it reaches and no shorter than across and back', async () => {
    const { checked } = await analyseText(RIG);
    const mmPerM = 1000 / Number(/1 : (\d+)/.exec(texts(drawing).join('\n'))?.[1]);
    let drawn = 0;
    for (const shape of drawing.shapes) {
      if (shape.kind !== 'path' || !shape.label?.includes('lead')) continue;
      const [[x1, y1], [x2, y2]] = shape.points as [[number, number], [number, number]];
      expect(x1 === x2 || y1 === y2).toBe(true);
      drawn += Number(/^(\d+)/.exec(shape.label)?.[1] ?? 1) * (Math.abs(x1 - x2) + Math.abs(y1 - y2));
    }
    const laid = checked.leads.filter(({ lead, fromAt, toAt }) => lead && fromAt && toAt && (fromAt.x !== toAt.x || fromAt.y !== toAt.y));
    const least = laid.reduce(
      (sum, { fromAt, toAt }) => sum + Math.abs((fromAt?.x ?? 0) - (toAt?.x ?? 0)) + Math.abs((fromAt?.y ?? 0) - (toAt?.y ?? 0)),
      0,
    );
    const most = laid.reduce((sum, { lengthM, ownM }) => sum + (lengthM ?? ownM ?? 0), 0);
    expect(laid.length).toBeGreaterThan(3);
    expect(drawn / mmPerM).toBeGreaterThan(least - 0.1);
    expect(drawn / mmPerM).toBeLessThan(most);
  });

  it('names what has no place, and cautions about leads underfoot', () => {
    expect(texts(drawing)).toContain('Place not said: Cy, Spare amplifier');
    const caution = sheet.blocks.find((block) => block.kind === 'cautions');
    expect(caution?.kind === 'cautions' && caution.cautions[0]?.text).toMatch(/tape them flat.*ramp|no lead crosses/);
  });
});

it('marks where a lead crosses somebody’s way to the nearer side, and nowhere else', async () => {
  const crossing = (x: number) =>
    sheetOf(`rig "Ways"
  stage 8 m by 5 m
performer ada at 0 m, 0.5 m
performer bo at ${x} m, 2.5 m
source voice is dynamic-mic by ada
gear iface is interface-8-mic at 0 m, 4.8 m
input iface.1 takes voice
`);
  const bars = async (x: number) => texts(drawingOf(await crossing(x))).some((text) => text.startsWith('tape or a ramp'));
  // Bo, left of the lead, leaves by the left; right of the middle, by the right: neither steps over it.
  expect(await bars(2)).toBe(false);
  expect(await bars(-2)).toBe(false);
  const over = await sheetOf(`rig "Ways"
  stage 8 m by 5 m
performer ada at 2 m, 0.5 m
performer bo at 1 m, 2.5 m
source voice is dynamic-mic by ada
gear iface is interface-8-mic at 2 m, 4.8 m
input iface.1 takes voice
`);
  expect(texts(drawingOf(over)).some((text) => text.startsWith('tape or a ramp'))).toBe(true);
});

it('keeps twelve people on a small stage apart, each with a number and all names there', async () => {
  const people = Array.from(
    { length: 12 },
    (_, index) => `performer p${index} "Player ${index} of the twelve" at ${(index % 4) - 1.5} m, ${0.5 + Math.floor(index / 4)} m`,
  );
  const drawing = drawingOf(await sheetOf(`rig "Small"\n  stage 4 m by 3 m\n${people.join('\n')}\n`));
  expect(troubles(drawing)).toEqual([]);
  const shown = texts(drawing).join('\n');
  for (let index = 0; index < 12; index++) {
    expect(texts(drawing)).toContain(String(index + 1));
    expect(shown).toContain(`Player ${index} of the twelve`);
  }
});

it.each(['first', 'choir', 'street', 'ten'])(
  'leads nothing through anybody in %s, and all of it is on one page',
  async (name) => {
    const { checked } = await analyse(join(examples, `${name}.rig`));
    const sheet = stageSheet(checked);
    const drawing = drawingOf(sheet);
    const dots = drawing.shapes.flatMap((shape) =>
      shape.kind === 'dot' && shape.place?.startsWith('performer:') && shape.radius > 3 ? [shape] : [],
    );
    const mmPerM = 1000 / Number(/1 : (\d+)/.exec(texts(drawing).join('\n'))?.[1]);
    const ends = (x: number, y: number, points: readonly (readonly [number, number])[]) =>
      points.some(([px, py]) => Math.hypot(px - x, py - y) < 0.4 * mmPerM);
    const through = dots.flatMap(({ x, y, label }) =>
      drawing.shapes.flatMap((shape) => {
        if (shape.kind !== 'path' || !/^(one|\d+) leads?: /.test(shape.label ?? '') || ends(x, y, shape.points)) return [];
        const { left, right, top, bottom } = boundsOf(shape);
        const away = Math.hypot(Math.max(0, left - x, x - right), Math.max(0, top - y, y - bottom));
        return away < 0.3 * mmPerM ? [`${label}: ${shape.label}`] : [];
      }),
    );
    expect(dots.length).toBeGreaterThan(1);
    expect(through).toEqual([]);
    for (const paper of ['A4', 'Letter'] as const) {
      const file = await sheetsPdf(press, [sheet], { paper });
      expect((await getDocument({ data: file, verbosity: 0 }).promise).numPages).toBe(1);
    }
  },
  60_000,
);

it('draws nothing and says so where there is nothing', async () => {
  expect((await sheetOf('rig "Bare"\n')).blocks).toEqual([]);
});

it('stays whole wherever things stand', async () => {
  const metres = fc.oneof(
    fc.integer({ min: -50, max: 50 }).map((tenths) => tenths / 10),
    fc.constantFrom(0, 1000, -1000, 0.001),
  );
  const spot = fc.tuple(metres, metres);
  const label = fc.constantFrom(
    'Ada',
    'A label that has forty characters, about',
    '<script>alert(1)</script>',
    '=1+1',
    '🎺🎺🎺',
    'שלום עולם',
    '',
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(spot, label), { maxLength: 25 }),
      spot,
      spot,
      fc.option(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 30 }))),
      async (people, iface, house, stage) => {
        const lines = people.flatMap(([[x, y], name], index) => [
          `performer p${index} ${JSON.stringify(name)} at ${x} m, ${y} m`,
          `source s${index} is dynamic-mic by p${index}`,
          ...(index < 8 ? [`input iface.${index + 1} takes s${index} via y-lead`, `house ${index + 1} takes s${index}`] : []),
        ]);
        const text = `rig "Random"\n${stage ? `  stage ${stage[0]} m by ${stage[1]} m\n` : ''}gear iface is interface-8-mic at ${iface[0]} m, ${iface[1]} m\nhouse at ${house[0]} m, ${house[1]} m\n${lines.join('\n')}\n`;
        const sheet = await sheetOf(text);
        expect(troubles(drawingOf(sheet))).toEqual([]);
        expect(rowsOf(sheet)).toHaveLength(people.length + 2 + (people.length > 0 ? 1 : 0)); // The interface and its mains; the house where it has lines.
      },
    ),
    { numRuns: cases(30, 10) },
  );
});
