/**
 * Two things of one label are two on every sheet. Each rig is looked at twice: with one label for all sources, all gear and so on, and with
 * labels that are apart only in a tail. A row then names each kind of thing equally often.
 */
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { check } from '#engine';
import type { Rig } from '#rig';
import { SHEET_IDS, sheetsOf } from '#sheets';
import { analyse } from '../checks/open';
import { here, TOUR } from './load';

const root = join(import.meta.dirname, '../..');
const rigs = [
  ...['choir.rig', 'first.rig', 'street.rig', 'ten.rig'].map((name) => join(root, 'examples', name)),
  TOUR,
  ...['handed.rig', 'awkward.rig', 'lighthouse.rig', 'wares.rig'].map(here),
];

const TAIL = /‹\d+›/g;
/** What the sheets set behind a label that another has as well; what begins with a line's number is told of each. */
const APART = /(?<=\b(?:Guitar|Box|Ears|Ann)) \((?!\d)[^()]*\)/g;
const KINDS = ['Guitar', 'Box', 'Ears', 'Ann'] as const;

/** What is made fresh in a line, and the house's sockets, have no label of their own. */
function labelled(rig: Rig, tail: (index: number) => string): Rig {
  const all = <T extends { readonly label: string }>(kind: (typeof KINDS)[number], things: ReadonlyMap<string, T>) =>
    new Map([...things].map(([id, thing], index) => [id, { ...thing, label: `${kind}${tail(index)}` }]));
  const sources = all('Guitar', rig.sources);
  const gear = all('Box', rig.pieces);
  const pieces = [...rig.pieces].map(([id, piece]) => {
    if (piece.kind === 'source') return [id, { ...piece, label: sources.get(id)?.label ?? piece.label }] as const;
    return [id, piece.kind === 'gear' ? (gear.get(id) ?? piece) : piece] as const;
  });
  return { ...rig, sources, pieces: new Map(pieces), mixes: all('Ears', rig.mixes), performers: all('Ann', rig.performers) };
}

/** How often each kind of thing is named, `2 × Guitar` twice. */
function named(text: string): string {
  const counts = KINDS.map((kind) =>
    [...text.matchAll(new RegExp(`(?:(\\d+) × )?\\b${kind}\\b`, 'g'))].reduce((sum, [, times = '1']) => sum + Number(times), 0),
  );
  return KINDS.map((kind, index) => `${counts[index]} ${kind}`).join(', ');
}

async function rows(rig: Rig): Promise<string[]> {
  const sheets = await sheetsOf(
    check(rig),
    undefined,
    SHEET_IDS.filter((id) => id !== 'signal-flow'),
  );
  return sheets.flatMap(({ id, blocks }) =>
    blocks.flatMap((block) => {
      if (block.kind !== 'table') return [];
      return block.rows.map(({ cells }) => `${id}, ${block.title}: ${named(JSON.stringify(cells).replace(TAIL, '').replace(APART, ''))}`);
    }),
  );
}

describe('two things of one label are two', () => {
  it.each(rigs.map((path) => [relative(root, path), path]))('%s', async (_, path) => {
    const { checked } = await analyse(path);
    const rig = checked?.rig as Rig;
    const [alike, apart] = [await rows(labelled(rig, () => '')), await rows(labelled(rig, (index) => `‹${index}›`))];
    expect(alike.length).toBeGreaterThan(10);
    expect(alike).toEqual(apart);
  });
});
