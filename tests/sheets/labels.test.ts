/** Labels: two for each lead, each inside its label, none over another. */
import { describe, expect, it } from 'vitest';
import type { Checked } from '#engine';
import { fitted, widthOf } from '../../packages/sheets/draw/words';
import type { Words } from '../../packages/sheets/drawing';
import { type Label, labelsOf } from '../../packages/sheets/labels/labels';
import { type LabelStyle, labelPages } from '../../packages/sheets/labels/pages';
import { LABEL_STOCKS, type LabelStockId, labelAt, perPage, type Rectangle } from '../../packages/sheets/labels/stocks';
import { leadListOf, numbered } from '../../packages/sheets/leads/list';
import { leadsSheet } from '../../packages/sheets/leads/sheet';
import { labelsHtml } from '../../packages/sheets/render/labels';
import { crowd } from './crowd';
import { analyse, analyseText, here } from './load';
import { tableOf } from './tables';

const STOCKS = Object.keys(LABEL_STOCKS) as LabelStockId[];
const STYLES: LabelStyle[] = ['plain', 'flag'];
const wordsOf = (page: { readonly drawing: { readonly shapes: readonly { readonly kind: string }[] } }) =>
  page.drawing.shapes.filter((shape): shape is Words => shape.kind === 'words');
/** Letters reach less than their size above the base line, and a quarter of it below; the number and its letter stand on it. */
const around = ({ x, y, text, size, bold }: Words): Rectangle => ({
  x,
  y: y - 0.8 * size,
  width: widthOf(text, size, bold),
  height: (/^\d+ [AB]\d*$/.test(text) ? 0.8 : 1.05) * size,
});
const EPSILON = 1e-6;
const within = (inner: Rectangle, outer: Rectangle) =>
  inner.x >= outer.x - EPSILON &&
  inner.y >= outer.y - EPSILON &&
  inner.x + inner.width <= outer.x + outer.width + EPSILON &&
  inner.y + inner.height <= outer.y + outer.height + EPSILON;
const over = (a: Rectangle, b: Rectangle) =>
  a.x + a.width > b.x + EPSILON && b.x + b.width > a.x + EPSILON && a.y + a.height > b.y + EPSILON && b.y + b.height > a.y + EPSILON;

const rigs: [string, Label[]][] = [
  ['ten', labelsOf((await analyse(here('../../examples/ten.rig'))).checked)],
  ['awkward', labelsOf((await analyse(here('awkward.rig'))).checked)],
  ['a crowd', labelsOf((await analyseText(crowd(48))).checked)],
];

it('has two for each lead of ours, the same but for the end', async () => {
  const { checked } = await analyse(here('wares.rig'));
  const labels = labelsOf(checked);
  const leads = numbered(leadListOf(checked));
  expect(labels).toHaveLength(2 * leads.filter(({ theirs }) => !theirs).length);
  expect(labels.slice(2, 4)).toMatchObject([
    {
      mark: '2 A',
      name: 'Voice: Y-lead 1 → Interface in 1',
      halves: ['Voice: Y-lead 1', '→\u00a0Interface in 1'],
      plug: 'XLR female',
      length: '10 m',
    },
    {
      mark: '2 B',
      name: 'Voice: Y-lead 1 → Interface in 1',
      halves: ['Voice: Y-lead 1', '→\u00a0Interface in 1'],
      plug: 'XLR male',
      length: '10 m',
    },
  ]);
  expect(new Set(labels.map(({ key }) => key)).size).toBe(labels.length);
  expect(new Set(labels.map(({ mark }) => mark)).size).toBe(labels.length);
});

it('leaves the house’s leads alone, and labels them where it is asked to', async () => {
  const { checked } = await analyse(here('wares.rig'));
  const leads = numbered(leadListOf(checked));
  const theirs = leads.filter(({ theirs }) => theirs).map(({ number }) => number);
  expect(theirs.length).toBeGreaterThan(0);
  const numbers = (labels: readonly Label[]) => [...new Set(labels.map(({ mark }) => Number.parseInt(mark, 10)))];
  expect(numbers(labelsOf(checked))).toEqual(leads.map(({ number }) => number).filter((number) => !theirs.includes(number)));
  expect(numbers(labelsOf(checked, { all: true }))).toEqual(leads.map(({ number }) => number));
});

describe('joints', async () => {
  // 40 m across the stage, a split whose own lead is too short, ears that are far from their socket.
  const { checked } = await analyseText(`rig "Far apart" stage 60 m by 20 m
performer ada "Ada" at -20 m, 1 m
source voice "Voice" is dynamic-mic by ada
source flute "Flute" is dynamic-mic by ada
gear split "Split" is shared-split at -18 m, 2 m
gear iface "Interface" is interface-8-mic at 20 m, 12 m owned
input iface.1 takes voice
input iface.2 takes flute via split.iso1
mix ada mono for ada { voice 0 dB  flute 0 dB }
output iface.phones1 carries ada
`);
  const labels = labelsOf(checked);
  const of = (number: number) =>
    labels.filter(({ mark }) => mark.startsWith(`${number} `)).map(({ mark, length, plug }) => [mark, length, plug]);
  const leads = numbered(leadListOf(checked));

  it('of several leads have a label on either side', () => {
    expect(leads[0]?.row.length).toBe('3 × 30 m');
    expect(of(1)).toEqual([
      ['1 A', '30 m', 'XLR female'],
      ['1 A1', '30 m', 'joint to 1 B1'],
      ['1 B1', '30 m', 'joint to 1 A1'],
      ['1 A2', '30 m', 'joint to 1 B2'],
      ['1 B2', '30 m', 'joint to 1 A2'],
      ['1 B', '30 m', 'XLR male'],
    ]);
  });

  it('of the gear’s own lead and what makes it longer have one, too', () => {
    const own = leads.find(({ reckoned }) => reckoned.ownM !== undefined && reckoned.lengthM !== undefined);
    expect(own?.row.length).toBe('own lead, 3 m, and 2 × 30 m more');
    expect(of(own?.number ?? 0)).toEqual([
      ['3 A', '3 m', 'XLR female'],
      ['3 A1', '3 m', 'joint to 3 B1'],
      ['3 B1', '30 m', 'joint to 3 A1'],
      ['3 A2', '30 m', 'joint to 3 B2'],
      ['3 B2', '30 m', 'joint to 3 A2'],
      ['3 B', '30 m', 'XLR male'],
    ]);
  });

  it('of an extension and the earphones it is for have the plug of the earphones labelled', () => {
    const extension = leads.find(({ lengthens }) => lengthens);
    const marks = of(extension?.number ?? 0);
    const at = `${extension?.number} B`;
    expect(marks.at(-2)?.[0]).toBe(at);
    expect(marks.at(-2)?.[2]).toBe('3.5 mm TRS jack socket');
    expect(marks.at(-1)?.[2]).toBe(`joint to ${at}`);
  });

  it('have marks of their own, each of which is met by the one it names', () => {
    expect(new Set(labels.map(({ mark }) => mark)).size).toBe(labels.length);
    for (const { plug } of labels.filter(({ joint }) => joint)) expect(labels.map(({ mark }) => `joint to ${mark}`)).toContain(plug);
  });

  it('are told of in the list of leads', async () => {
    const remark = async (of: Checked) => tableOf(leadsSheet(of), 'lead-list').remark ?? '';
    expect(await remark(checked)).toContain('A1 goes together with B1.');
    expect(await remark((await analyse(here('wares.rig'))).checked)).not.toContain('A1 goes');
  });
});

describe.each(STOCKS)('%s', (id) => {
  const stock = LABEL_STOCKS[id];
  const room = perPage(stock);
  const places = Array.from({ length: room }, (_, index) => labelAt(stock, index));

  it('has its labels on its page, none over another', () => {
    for (const [index, label] of places.entries()) {
      expect(within(label, { x: 0, y: 0, ...stock.page })).toBe(true);
      for (const other of places.slice(index + 1)) expect(over(label, other)).toBe(false);
    }
  });

  it.each(rigs.flatMap(([name, labels]) => STYLES.map((style) => ({ name, labels, style }))))(
    'keeps the words of $name, $style, inside their labels and apart',
    ({ labels, style }) => {
      const start = 2;
      const pages = labelPages(labels, { stock: id, style, start });
      const first = Math.min(start, room) - 1;
      expect(pages).toHaveLength(Math.ceil((labels.length + (room > 1 ? first : 0)) / room));
      const marks: string[] = [];
      for (const page of pages) {
        const words = wordsOf(page);
        const inLabels = new Map<number, { text: string; box: Rectangle }[]>();
        for (const each of words) {
          const box = around(each);
          const home = places.findIndex((label) => within(box, label));
          expect(home, `${each.text} in a label`).toBeGreaterThanOrEqual(0);
          expect(box.width).toBeLessThanOrEqual(each.width + EPSILON);
          inLabels.set(home, [...(inLabels.get(home) ?? []), { text: each.text, box }]);
        }
        // Labels are apart, so words in two of them are.
        for (const inside of inLabels.values()) {
          const hidden = inside.flatMap((one, index) =>
            inside.slice(index + 1).flatMap((two) => (over(one.box, two.box) ? [one.text, two.text] : [])),
          );
          expect(hidden).toEqual([]);
        }
        marks.push(...words.flatMap(({ text, label }) => (label !== undefined ? [text] : [])));
      }
      const once = style === 'flag' ? marks.filter((_, index) => index % 2 === 0) : marks;
      expect(once).toEqual(labels.map(({ mark }) => mark));
      if (style === 'flag') expect(marks.filter((_, index) => index % 2 === 1)).toEqual(once);
    },
  );
});

describe('a sheet that is partly used', () => {
  const [, labels] = rigs[0] as [string, Label[]];
  const place = (start: number | undefined) =>
    wordsOf(labelPages(labels, { stock: 'a4-3x8', start })[0] as ReturnType<typeof labelPages>[number])[0];

  it('starts where it is told, row by row', () => {
    // The fifth label: second row, second column.
    const { x = 0, y = 0 } = place(5) ?? {};
    expect([Math.floor(x / 70), Math.floor(y / 37)]).toEqual([1, 1]);
  });

  it.each([undefined, 0, -3, 25, Number.NaN, 1e9])('starts at its first label for %s', (start) => {
    expect(place(start)).toEqual(place(1));
  });
});

it('has no page where there is no lead', () => {
  expect(labelPages([], { stock: 'roll' })).toEqual([]);
});

it('sets names smaller where they would be cut, and as small as can be read where they are cut all the same', () => {
  const label = (name: string, number: number): Label => ({
    key: `${number}`,
    mark: `${number} A`,
    end: 'A',
    joint: false,
    name: `${name} → Box`,
    halves: [name, '→\u00a0Box'],
    length: '5 m',
    plug: 'XLR female',
    place: 'rig',
  });
  const size = (...names: string[]) => {
    const labels = names.map(label);
    const [page] = labelPages(labels, { stock: 'roll', style: 'plain' });
    return wordsOf(page as NonNullable<typeof page>).find(({ text }) => text.startsWith('→'))?.size ?? 0;
  };
  const long = 'Second upper pad of the kit on the cart beside the curtain';
  const endless = `${long}, ${long}, ${long}, ${long}`;
  expect(size('Kick')).toBeGreaterThan(size(long));
  expect(size(endless)).toBeLessThan(size('Kick'));
  // One among many makes the others no smaller.
  expect(size(...Array.from({ length: 30 }, () => 'Kick'), endless)).toBe(size('Kick'));
});

describe('shortened words', () => {
  const long = (middle: string, end: 'A' | 'B', number: number): Label => ({
    key: `${number} ${end}`,
    mark: `${number} ${end}`,
    end,
    joint: false,
    name: `Electronic percussion, ${middle}, upper shelf of the cart → Interface 5`,
    halves: [`Electronic percussion, ${middle}, upper shelf of the cart`, '→\u00a0Interface 5'],
    length: '10 m',
    plug: 'XLR female',
    place: 'rig',
  });
  const middles = ['first pad', 'first pedal', 'second pad', 'second pedal'];
  const labels = middles.flatMap((middle, index) => [long(middle, 'A', index), long(middle, 'B', index)]);

  it.each(STOCKS.flatMap((stock) => STYLES.map((style) => ({ stock, style }))))(
    'keep what tells two apart: $stock, $style',
    ({ stock, style }) => {
      const words = labelPages(labels, { stock, style }).flatMap(wordsOf);
      const names = words.filter(({ label, text }) => label === undefined && !text.startsWith('→') && !/^10 m|^XLR/.test(text));
      // A small flag has the number and the length.
      if (names.length === 0) return expect(LABEL_STOCKS[stock].label.width).toBeLessThan(52);
      const read = new Map<string, Set<string>>();
      let mark = '';
      for (const { text, label } of words) {
        if (label !== undefined) mark = text;
        else if (names.some((name) => name.text === text))
          read.set(mark.slice(0, -2), (read.get(mark.slice(0, -2)) ?? new Set()).add(text));
      }
      expect(new Set([...read.values()].map((texts) => [...texts].join(' '))).size).toBe(middles.length);
    },
  );
});

it('cuts a name in the middle, so that both of its ends can be read', () => {
  const cut = fitted('A very long name of a lead → Interface 5', 3, 45);
  expect(cut).toMatch(/^A very.*….*face 5$/);
  expect(widthOf(cut, 3)).toBeLessThanOrEqual(45);
  expect(fitted('Kick', 3, 40)).toBe('Kick');
});

it('prints as pages of their size, with nothing of the rig unescaped', async () => {
  const labels = labelsOf((await analyse(here('awkward.rig'))).checked);
  const pages = labelPages(labels, { stock: 'letter-3x10' });
  const html = labelsHtml('<b>', 'letter-3x10', pages);
  expect(html).toContain('@page { size: 215.9mm 279.4mm; margin: 0; }');
  expect(html.match(/<section/g)).toHaveLength(pages.length);
  expect(html).not.toMatch(/<script|<img|<b>/);
  expect(labelsHtml('<b>', 'letter-3x10', labelPages(labels, { stock: 'letter-3x10' }))).toBe(html);
});
