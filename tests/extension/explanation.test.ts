/** The page behind each code. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, inject, it } from 'vitest';
import { PROBLEMS } from '#engine';
import { explanation, withMistake } from '#language/explanation';
import { root } from '../build';
import { cured } from '../checks/marks';
import { analyseText } from '../checks/open';

const pages: Record<string, string> = inject('buildFailure') ? {} : JSON.parse(readFileSync(path.join(root, 'dist/mistakes.json'), 'utf8'));

it('is there for every code, and for nothing else', () => {
  expect(inject('buildFailure')).toBe('');
  expect(Object.keys(pages).sort()).toEqual(Object.keys(PROBLEMS).sort());
});

describe.each(Object.entries(pages))('%s', (code, example) => {
  const page = explanation(code, example);
  const blocks = [...page.matchAll(/^```rig\n(.*?)\n```$/gms)].map(([, text = '']) => text);

  it('explains in words, then shows the mistake, then the cure', () => {
    expect(page.startsWith(`# ${code}\n\n`)).toBe(true);
    expect(page.slice(code.length + 4, page.indexOf('## The mistake')).trim().length).toBeGreaterThan(60);
    expect(blocks).toHaveLength(/^ *# cure[:+]/m.test(example) ? 2 : 1);
    expect(page).not.toMatch(/# cure[:+]/);
    expect(page).not.toMatch(/\^ +[a-z-]+\/[a-z-]+/);
  });

  it('shows as mended what the cures make of the example', () => {
    const code = (text: string) => text.split('\n').filter((line) => line.trim() !== '' && !line.trimStart().startsWith('#'));
    if (blocks[1] !== undefined) expect(code(blocks[1])).toEqual(code(cured(example)));
  });
});

it('the mistake to try out is found, and is the only one', async () => {
  const { located } = await analyseText(withMistake(pages['splits/missing'] ?? ''));
  expect(located.map(({ finding }) => finding.code)).toEqual(['splits/missing']);
});
