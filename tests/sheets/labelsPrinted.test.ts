/** Labels read back from the PDF: how many, of which sizes, in which order, with which words. */
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it, vi } from 'vitest';
import { labelsPdf } from '../../packages/pdf/labels';
import { Press } from '../../packages/pdf/press';
import { type Label, labelsOf } from '../../packages/sheets/labels/labels';
import { type LabelStyle, labelPages } from '../../packages/sheets/labels/pages';
import { LABEL_STOCKS, labelAt, perPage } from '../../packages/sheets/labels/stocks';
import { analyse, analyseText, here } from './load';

const press = new Press(join(import.meta.dirname, '../../node_modules/dejavu-fonts-ttf/ttf'));
vi.setConfig({ testTimeout: 120_000 });
const MM = 72 / 25.4;

// Tar & Feather Quartet and the Long Pier Seven are invented: names that are long and alike, leads in pieces.
const RIGS: Readonly<Record<string, string>> = {
  'long names': `rig "Tar and Feather Quartet, net loft" stage 30 m by 10 m
performer una "Una of the lower harbour" at -12 m, 2 m
performer ivo "Ivo" at 9 m, 2 m
source one "Electronic percussion, first pad, upper shelf" is dynamic-mic by una
source two "Electronic percussion, first pedal, upper shelf" is dynamic-mic by una
source fl  "Flute" is clip-on-mic by ivo
gear iface "Interface behind the curtain" is interface-8-mic at 12 m, 9 m owned
input iface.1 takes one
input iface.2 takes two
input iface.5 takes fl
mix una mono for una { one 0 dB }
output iface.phones1 carries una
`,
  'the house brings most': `rig "Long Pier Seven, fish hall" stage 10 m by 5 m
performer a "Ada" at -1 m, 1 m
source v "Voice" is dynamic-mic by a
source b "Bass" is magnetic-pickup by a
gear iface "Interface" is interface-8-mic at 1 m, 4 m owned
input iface.1 takes v via y-lead
input iface.3 takes b via passive-di
house at -4 m, 5 m
house 1 "Voice" takes v
house 2 "Bass" takes b
house 3 "Drums" own mic
mix a mono for a { v 0 dB }
output iface.phones1 carries a
`,
};

const loaded: [string, Label[]][] = [];
for (const name of ['first', 'street', 'choir', 'ten'])
  loaded.push([name, labelsOf((await analyse(here(`../../examples/${name}.rig`))).checked)]);
for (const [name, text] of Object.entries(RIGS)) loaded.push([name, labelsOf((await analyseText(text)).checked)]);

interface Word {
  readonly text: string;
  readonly size: number;
  /** In mm from the left and from above. */
  readonly x: number;
  readonly y: number;
}

async function printed(bytes: Uint8Array): Promise<Word[][]> {
  const document = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  return Promise.all(
    Array.from({ length: document.numPages }, async (_, index) => {
      const page = await document.getPage(index + 1);
      const { items } = await page.getTextContent();
      const height = page.view[3] ?? 0;
      return items.flatMap((item) =>
        'str' in item && item.str.trim() !== ''
          ? [
              {
                text: item.str,
                size: Math.round(Math.hypot(item.transform[2] ?? 0, item.transform[3] ?? 0) * 20) / 20,
                x: (item.transform[4] ?? 0) / MM,
                y: (height - (item.transform[5] ?? 0)) / MM,
              },
            ]
          : [],
      );
    }),
  );
}

const MARK = /^\d+ [AB]\d*$/;
const LENGTH = /^[\d.]+ (?:m|ft)/;

describe.each(loaded)('%s', (_name, labels) => {
  it.each(
    Object.values(LABEL_STOCKS).flatMap((stock) => (['plain', 'flag'] as LabelStyle[]).map((style) => ({ id: stock.id, stock, style }))),
  )('on $id, $style', async ({ id, stock, style }) => {
    const band = 'Tar & Feather';
    const pages = await printed(await labelsPdf(press, 'R', labelPages(labels, { stock: id, style, band })));
    const all = pages.flatMap((words) =>
      words.map((word) => {
        const index = Array.from({ length: perPage(stock) }, (_, at) => labelAt(stock, at)).findIndex(
          ({ x, y, width, height }) => word.x >= x - 0.01 && word.x < x + width && word.y > y && word.y < y + height,
        );
        const box = labelAt(stock, index);
        return { ...word, fromTop: Math.round((word.y - box.y) * 10) / 10, right: word.x > box.x + box.width / 2 };
      }),
    );
    // Of a flag the face on the left; the other is the same.
    const faces = style === 'flag' ? all.filter(({ right }) => !right) : all;
    if (style === 'flag') expect(all.filter(({ right }) => right).map(({ text }) => text)).toEqual(faces.map(({ text }) => text));
    const marks = faces.filter(({ text }) => MARK.test(text));
    expect(marks.map(({ text }) => text)).toEqual(labels.map(({ mark }) => mark));
    // One size for each part on the whole sheet, and one place.
    expect(new Set(marks.map(({ size }) => size)).size).toBe(1);
    expect(new Set(marks.map(({ fromTop }) => fromTop)).size).toBe(1);
    expect(new Set(faces.map(({ size }) => size)).size).toBeLessThanOrEqual(3);
    const lengths = faces.filter(({ text }) => LENGTH.test(text) && !/jack$/.test(text.replace(/^[^,]*$/, '')));
    expect(new Set(lengths.map(({ size }) => size)).size).toBeLessThanOrEqual(1);
    // Number and end, where it goes, how long: from above.
    const alone = !faces.some(({ text }) => text.startsWith('→'));
    let at = -1;
    const each = labels.map(() => [] as typeof faces);
    for (const word of faces) {
      if (MARK.test(word.text)) at++;
      each[at]?.push(word);
    }
    for (const [index, words] of each.entries()) {
      const label = labels[index] as Label;
      expect(words.map(({ y }) => y)).toEqual(words.map(({ y }) => y).toSorted((a, b) => a - b));
      const texts = words.map(({ text }) => text.replaceAll('\u00a0', ' '));
      const length = texts.findIndex((text) => label.length !== '' && text.startsWith(label.length));
      const arrow = texts.findIndex((text) => text.startsWith('→'));
      if (label.length !== '') expect(length).toBe(alone ? 1 : texts.findLastIndex((text) => text.startsWith(label.length)));
      if (!alone) {
        expect(arrow).toBeGreaterThan(1);
        if (label.length !== '') expect(length).toBeGreaterThan(arrow);
        expect(texts.at(-1)).toBe(band);
      }
    }
    // No two read alike but for the ends of one lead.
    const read = each.map((words) => words.map(({ text }) => text).join(' '));
    expect(new Set(read).size).toBe(labels.length);
    if (alone) return;
    const where = new Map<string, Set<string>>();
    for (const [index, words] of each.entries()) {
      const label = labels[index] as Label;
      const at = words.findIndex(({ text }) => LENGTH.test(text) || text === label.plug || text.startsWith('joint'));
      const told = words
        .slice(1, at < 0 ? -1 : at)
        .map(({ text }) => text)
        .join(' ');
      where.set(told, (where.get(told) ?? new Set()).add(label.name));
    }
    for (const names of where.values()) expect([...names]).toHaveLength(1);
  });
});
