/** Every rig with marks in it finds what is marked and nothing else; every kind of mistake has a page of its own. */
import { existsSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { PROBLEMS } from '#engine';
import { differences, readMarks } from './marks';
import { analyse, foundIn, rigsIn } from './open';
import { READS_WELL } from './reads-well';

const root = join(import.meta.dirname, '../..');
const pages = join(root, 'examples/mistakes');
const name = (path: string) => relative(root, path);
const marked = [...rigsIn(pages), ...rigsIn(join(root, 'tests/checks'))];

describe('marks', () => {
  it.each(marked.map((path) => [name(path), path]))('%s: what is marked is found, and nothing else', async (_, path) => {
    const found = foundIn(await analyse(path));
    expect(differences(readFileSync(path, 'utf8'), found)).toBe('');
    for (const { code, message } of found) expect(message, code).toMatch(READS_WELL);
  });
});

describe('cures', () => {
  const curable = marked.filter((path) => path.startsWith(pages) && readMarks(readFileSync(path, 'utf8')).length > 0);

  it.each(curable.map((path) => [name(path), path]))('%s is clean once cured', async (_, path) => {
    const analysis = await analyse(path, true);
    expect(differences(analysis.document.textDocument.getText(), foundIn(analysis))).toBe('');
  });
});

describe('pages and codes', () => {
  const codes = Object.keys(PROBLEMS).sort();

  it.each(codes)('%s has a page that shows it and how to cure it', (code) => {
    const page = join(pages, `${code}.rig`);
    expect(existsSync(page), `there is no ${name(page)}`).toBe(true);
    const text = readFileSync(page, 'utf8');
    expect(
      readMarks(text).map((mark) => mark.code),
      `${name(page)} does not mark it`,
    ).toContain(code);
    expect(text, 'the page explains itself first').toMatch(/^# (.+\n# ){2}/);
  });

  it('has no page without a code', () => {
    const named = rigsIn(pages).map((path) =>
      relative(pages, path)
        .replace(/\.rig$/, '')
        .replaceAll('\\', '/'),
    );
    expect(named.filter((page) => page.split('/').length === 2 && !codes.includes(page))).toEqual([]);
  });
});

describe('examples', () => {
  const examples = rigsIn(join(root, 'examples')).filter((path) => !path.startsWith(pages));

  it.each(examples.map((path) => [name(path), path]))('%s is clean', async (_, path) => {
    expect(differences(readFileSync(path, 'utf8'), foundIn(await analyse(path)))).toBe('');
  });

  it('says of each that it is invented', () => {
    for (const path of examples) expect(readFileSync(path, 'utf8').split('\n').slice(0, 4).join(' '), name(path)).toMatch(/invented/i);
  });
});
