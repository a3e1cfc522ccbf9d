/** Markdown, read back cell by cell as the GitHub Flavored Markdown specification says (section 4.10, tables; 2.4, backslash escapes). */
import { describe, expect, it } from 'vitest';
import type { PatchList } from '#sheets';
import { analyse, here, render, sheetOf, TOUR } from './load';

const LETTER = /[!-/:-@[-`{-~]/;

/** A row of a table as it is read: pipes behind a backslash are part of the cell, and a backslash before punctuation goes. */
function cellsOf(line: string): string[] {
  const cells: string[] = [];
  let cell = '';
  for (let at = 1; at < line.length; at++) {
    const character = line[at] as string;
    if (character === '\\' && LETTER.test(line[at + 1] ?? '')) {
      cell += line[++at];
    } else if (character === '|') {
      cells.push(cell.trim());
      cell = '';
    } else {
      // Nothing that could be markup stands by itself.
      expect('`*_<>[]#~&@', `${character} in ${line}`).not.toContain(character);
      cell += character;
    }
  }
  expect(cell.trim()).toBe('');
  return cells;
}

function tableUnder(markdown: string, title: string): string[][] {
  const lines = markdown.split('\n');
  const from = lines.indexOf(`## ${title}`);
  expect(from).toBeGreaterThanOrEqual(0);
  const start = lines.findIndex((line, index) => index > from && line.startsWith('|'));
  const end = lines.findIndex((line, index) => index > start && !line.startsWith('|'));
  return lines.slice(start, end).map(cellsOf);
}

describe.each([
  ['tour.rig', TOUR],
  ['lighthouse.rig', here('lighthouse.rig')],
  ['awkward.rig', here('awkward.rig')],
])('the tables of %s', async (_, path) => {
  const list = sheetOf(await analyse(path));
  const markdown = render(list, 'markdown');

  it('have the model in their cells, and as many cells in every row', () => {
    const [titles = [], rule = [], ...rows] = tableUnder(markdown, 'Inputs');
    const column = (title: string) => rows.map((row) => row[titles.indexOf(title)]);
    expect(column('Port')).toEqual(list.inputs.map((row) => row.port));
    expect(column('Source')).toEqual(list.inputs.map((row) => row.source));
    expect(column('By')).toEqual(list.inputs.map((row) => row.by));
    expect(column('Gain (dB)')).toEqual(list.inputs.map((row) => String(row.gainDb ?? '').replace('-', '\u2212')));
    expect(new Set([titles, rule, ...rows].map((row) => row.length)).size).toBe(1);
    expect(rule.every((cell) => /^-{3}:?$/.test(cell))).toBe(true);
    expect(column('Leads')).toEqual(list.inputs.map((row) => row.leads));
  });

  it('are the same each time', async () => {
    expect(render(sheetOf(await analyse(path)), 'markdown')).toBe(markdown);
  });
});

it('a line break in a cell is a space', async () => {
  const list = sheetOf(await analyse(TOUR));
  const row: PatchList['inputs'][number] = { ...(list.inputs[0] as PatchList['inputs'][number]), source: 'one\ntwo\r\n| three\u2028four' };
  expect(tableUnder(render({ ...list, inputs: [row] }, 'markdown'), 'Inputs')[2]?.[1]).toBe('one two | three four');
});

it('no label becomes a link', async () => {
  const list = sheetOf(await analyse(TOUR));
  const markdown = render({ ...list, title: 'www.example.invalid http://example.invalid me@example.invalid [a](b) <c@d.e>' }, 'markdown');
  expect(markdown.split('\n')[0]).toBe('# www\\.example.invalid http\\://example.invalid me\\@example.invalid \\[a\\](b) \\<c\\@d.e\\>');
});
