/**
 * Writes how wide the letters of the type are that drawings are set in, packages/sheets/draw/metrics.ts, from the fonts that are shipped:
 *
 *   node .ci/metrics.mjs
 */
import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

const root = path.join(import.meta.dirname, '..');
const require = createRequire(import.meta.url);
const PDFDocument = require('pdfkit');

/** Latin with its extensions, Greek, Cyrillic, and what drawings use besides. */
const RANGES = [
  [0x20, 0x7e],
  [0xa0, 0x17f],
  [0x386, 0x3ce],
  [0x400, 0x45f],
  [0x2010, 0x2026],
  [0x2190, 0x2193],
];
const SINGLES = [0x2212, 0x25a1, 0x221e];

const document = new PDFDocument();
const widths = (name) => {
  const file = path.join(root, `node_modules/dejavu-fonts-ttf/ttf/${name}.ttf`);
  const { font } = document.font(file)._font;
  const of = (code) =>
    font.hasGlyphForCodePoint(code) ? Math.ceil((font.glyphForCodePoint(code).advanceWidth * 1000) / font.unitsPerEm) : 0;
  const all = [
    ...RANGES.map(([from, to]) => [from, Array.from({ length: to - from + 1 }, (_, at) => of(from + at))]),
    ...SINGLES.map((code) => [code, [of(code)]]),
  ];
  return all.map(([from, row]) => `  [0x${from.toString(16)}, '${row.join(' ')}'],`).join('\n');
};

writeFileSync(
  path.join(root, 'packages/sheets/draw/metrics.ts'),
  `/** How wide letters are, in thousandths of their size: runs of characters from the first on, 0 where there is none. Made by .ci/metrics.mjs from the fonts that are shipped. */
// biome-ignore-all format: figures alone.
export const REGULAR: readonly (readonly [number, string])[] = [
${widths('DejaVuSansCondensed')}
];

export const BOLD: readonly (readonly [number, string])[] = [
${widths('DejaVuSansCondensed-Bold')}
];
`,
);
