/** Plain text for a terminal. */
import fc from 'fast-check';
import stringWidth from 'string-width';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type PatchList, renderSheets, sheetsOf } from '#sheets';
import { terminalWidth } from '../../packages/cli/print';
import { analyse, here, render, sheetOf, TOUR } from './load';

// All sheets of several rigs are laid out.
vi.setConfig({ testTimeout: 60_000 });

const RIGS = [TOUR, here('lighthouse.rig'), here('half.rig'), here('awkward.rig'), here('danger.rig')];
const sheets = await Promise.all(RIGS.map(async (path) => sheetOf(await analyse(path))));

const ALL = [
  ...['first', 'street', 'choir', 'ten', 'three-nights/quayside'].map((name) => here(`../../examples/${name}.rig`)),
  ...['handed', 'unsafe'].map((name) => here(`${name}.rig`)),
];

describe('all sheets as text', () => {
  it.each(ALL)('are no wider than the terminal: %s', async (path) => {
    const all = await sheetsOf((await analyse(path)).checked);
    for (const width of [20, 40, 60, 80, 132]) {
      const wider = renderSheets(all, 'text', { width })
        .split('\n')
        .filter((line) => stringWidth(line) > width);
      expect(wider).toEqual([]);
    }
    expect(renderSheets(all, 'text')).toBe(renderSheets(all, 'text', { width: 80 }));
  });
});

describe('a terminal', () => {
  const { stdout } = process;
  const was = { isTTY: stdout.isTTY, columns: stdout.columns };
  afterEach(() => {
    Object.assign(stdout, was);
  });

  it.each([
    [true, 30, { width: 30 }],
    [true, 200, { width: 200 }],
    [true, 0, {}],
    [false, 200, {}],
  ])('(%s, %i columns) is as wide as it says', (isTTY, columns, width) => {
    Object.assign(stdout, { isTTY, columns });
    expect(terminalWidth()).toEqual(width);
  });
});

describe('text', () => {
  it.each([20, 40, 60, 80, 100, 132, 200])('of width %i stays in it and loses nothing', (width) => {
    for (const list of sheets) {
      const text = render(list, 'text', { width });
      for (const line of text.split('\n')) expect(stringWidth(line)).toBeLessThanOrEqual(width);
      const words = text.replace(/\s+/g, '');
      for (const row of list.inputs) expect(words).toContain(row.source.split(' ')[0]?.slice(0, 6));
      for (const note of list.elsewhere) expect(words).toContain(note.code);
    }
  });

  it('of great width has a line for each row, with the columns under their titles', () => {
    for (const list of sheets) {
      const lines = render(list, 'text', { width: 400 }).split('\n');
      const from = lines.indexOf('Inputs') + 1;
      const head = lines.findIndex((line, index) => index > from && line.startsWith('Port'));
      const source = stringWidth((lines[head] ?? '').slice(0, (lines[head] ?? '').indexOf('Source')));
      for (const row of list.inputs) {
        const line = lines.find((each, index) => index > head && each.startsWith(row.port) && each.includes(row.source));
        expect(line && stringWidth(line.slice(0, line.indexOf(row.source, row.port.length)))).toBe(source);
      }
    }
  });

  it('has no character that a terminal would act on', () => {
    const [list] = sheets as [PatchList];
    const row = { ...(list.inputs[0] as PatchList['inputs'][number]), source: 'a\u001b[31mb\u0007c\u009bd' };
    const text = render({ ...list, title: 'x\u001b]0;y\u0007', inputs: [row] }, 'text', { width: 200 });
    expect(text.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u);
    expect(text).toContain('a [31mb c d');
  });

  it('is 80 columns wide where nothing says how many there are, and parts no figure from its unit', () => {
    for (const list of sheets) {
      const text = render(list, 'text');
      expect(text).toBe(render(list, 'text', { width: 80 }));
      for (const line of text.split('\n')) expect(stringWidth(line)).toBeLessThanOrEqual(80);
      expect(text).not.toMatch(/\d\n\s*(?:m|dB|MHz|V)\b/);
      expect(text).not.toContain('\u00a0');
    }
  });

  it('is the same each time', async () => {
    for (const [index, path] of RIGS.entries())
      expect(render(sheetOf(await analyse(path)), 'text', { width: 90 })).toBe(render(sheets[index] as PatchList, 'text', { width: 90 }));
  });

  it('takes any width', () => {
    fc.assert(
      fc.property(fc.oneof(fc.integer(), fc.double()), (width) => render(sheets[2] as PatchList, 'text', { width }).length > 0),
      { numRuns: 200 },
    );
  });
});
