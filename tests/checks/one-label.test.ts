/**
 * Labels are for reading: what is found, and where a sheet shows it, must not change when everything is called the same. Every
 * rig that has mistakes in it is looked at a second time with one label for all its sources, gear, mixes and performers.
 */
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Checked, check, type Finding } from '#engine';
import type { Rig } from '#rig';
import { patchList, type Sheet, sheetOf } from '#sheets';
import { analyse, analyseText, rigsIn } from './open';

const root = join(import.meta.dirname, '../..');
const rigs = [...rigsIn(join(root, 'examples/mistakes')), ...rigsIn(join(root, 'tests/checks'))];

function oneLabel(rig: Rig): Rig {
  const all = <T extends { readonly label: string }>(things: ReadonlyMap<string, T>) =>
    new Map([...things].map(([id, thing]) => [id, { ...thing, label: 'Guitar' }]));
  return { ...rig, sources: all(rig.sources), pieces: all(rig.pieces), mixes: all(rig.mixes), performers: all(rig.performers) };
}

/** Where it is, with the other places that it shows and what would cure it; labels apart, which a cure may write down. */
const where = ({ code, place, related, fixes }: Finding) =>
  [`${code} at ${place}`, ...related.map((other) => other.place), JSON.stringify(fixes).replace(/"label":"[^"]*"/g, '')].join(' ');

/** For each row of the patch list and of the list of leads, what is found at it. */
function rowsOf(checked: Checked): string[][] {
  const { inputs, outputs, house, leads, elsewhere } = patchList(checked);
  const listed = (sheetOf('leads', checked) as Sheet).blocks.flatMap((block) =>
    block.kind === 'table' && block.id === 'lead-list' ? block.rows : [],
  );
  const told = (notes: readonly { readonly code: string; readonly place: string }[]) =>
    notes.map(({ code, place }) => `${code} at ${place}`);
  return [...[inputs, outputs, house, leads, listed].flatMap((rows) => rows.map(({ findings }) => told(findings))), told(elsewhere)];
}

describe('with one label for everything', () => {
  it.each(rigs.map((path) => [relative(root, path), path]))('%s: the same is found, at the same rows', async (_, path) => {
    const { checked } = await analyse(path);
    if (!checked) return;
    const apart = check(checked.rig);
    const alike = check(oneLabel(checked.rig));
    expect(alike.findings.map(where)).toEqual(apart.findings.map(where));
    expect(rowsOf(alike)).toEqual(rowsOf(apart));
  });
});

describe('what a finding is about', () => {
  /** Figures that name one thing. */
  const NAMING = ['source', 'mix', 'gear', 'performer', 'pack', 'piece', 'device', 'split'];

  it.each(rigs.map((path) => [relative(root, path), path]))('%s: everything that a finding names, by its id', async (_, path) => {
    const { checked } = await analyse(path);
    for (const { code, figures, about } of checked?.findings ?? []) {
      const { sources, mixes, pieces, performers } = (checked as Checked).rig;
      const labels = about.flatMap((id) => [sources, mixes, pieces, performers].flatMap((all) => all.get(id)?.label ?? []));
      for (const [name, value] of Object.entries(figures)) {
        if (!NAMING.includes(name) || typeof value !== 'string') continue;
        // A channel or an output of it is named with it.
        expect(
          labels.some((label) => value.includes(label)),
          `${code} names the ${name} ${value}, and is about ${about.join(', ')}`,
        ).toBe(true);
      }
    }
  });
});

describe('two guitars', () => {
  /** Each with an error of its own. */
  const RIG = `rig "Two Of A Kind"
performer ane  "Ane"  at 0 m, 1 m
performer bo   "Bo"   at 2 m, 1 m
source amp    "Guitar"  is guitar-amp   by ane
source clip   "Guitar"  is clip-on-mic  by bo
gear iface  "Interface"  is interface-8-mic  at 1 m, 3 m
input iface.1  takes amp.speaker
input iface.2  takes clip
house 1  takes clip
mix ane  "Ears"  for ane  { amp 0 dB }
mix bo   "Ears"  for bo   { clip 0 dB }
output iface.phones1  carries ane
`;

  it('none of their errors vanishes, and each is at its row', async () => {
    const { checked, located } = await analyseText(RIG);
    const found = located.map(({ finding, range }) => `${range.start.line + 1} ${finding.code}`);
    expect(found).toContain('7 levels/speaker-output');
    expect(found).toContain('9 splits/missing');
    expect(found).toContain('11 mixes/unheard');
    const { inputs, house } = patchList(checked as Checked);
    expect(inputs.find(({ written }) => written === 'iface.1')?.findings.map(({ code }) => code)).toContain('levels/speaker-output');
    expect(house[0]?.findings.map(({ code }) => code)).toContain('splits/missing');
  });

  it('what cannot be read of the one says nothing about the other', async () => {
    const { located } = await analyseText(
      RIG.replace('mix ane  "Ears"  for ane  {', 'mix ane  "Ears"  for for ane  {').replace('output iface.phones1  carries ane\n', ''),
    );
    expect(located.map(({ finding }) => finding.code)).toContain('mixes/unheard');
  });
});
