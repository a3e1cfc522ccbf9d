/** A place is the same on every sheet: what the stage's table says of a performer, setting up and the house sheet say too. */
import { describe, expect, it } from 'vitest';
import { type Sheet, sheetOf } from '#sheets';
import { analyse, analyseText, here } from './load';
import { cellsOf } from './tables';

/** `1.25 m right, 2 m back` from what the stage's table has across and back. */
function wordsOf(across: unknown, back: unknown): string {
  const [, far, unit, side] = /^([\d.]+) (m|ft) to the (left|right)$/.exec(String(across)) ?? [];
  return `${far === undefined ? 'middle' : `${far} ${unit} ${side}`}, ${back}`;
}

const RIGS: readonly (readonly [string, () => ReturnType<typeof analyse>])[] = [
  ...['first', 'street', 'choir', 'ten'].map((name) => [name, () => analyse(here(`../../examples/${name}.rig`))] as const),
  [
    'a place to the centimetre',
    () =>
      analyseText(`rig "Ropewalk" stage 8 m by 4 m
performer ada "Ada" at -1.25 m, 2.05 m
source voice "Voice" is dynamic-mic by ada
gear box "Box" is interface-8-mic at 0 m, 3 m
input box.1 takes voice via y-lead
house 1 takes voice
mix ada mono for ada { voice 0 dB }
output box.phones1 carries ada
`),
  ],
];

describe.each(RIGS)('%s', (_name, load) => {
  it('has each performer in one place', async () => {
    const { checked } = await load();
    const [stage, up, house] = (await Promise.all((['stage', 'set-up', 'house'] as const).map((id) => sheetOf(id, checked)))) as [
      Sheet,
      Sheet,
      Sheet,
    ];
    const titles = stage.blocks.flatMap((block) =>
      block.kind === 'table' && block.id === 'places' ? block.columns.map(({ title }) => title) : [],
    );
    expect(titles).toContain('Across');
    const column = (title: string) => titles.indexOf(title);
    const places = new Map(
      cellsOf(stage, 'places').map((cells) => [
        String(cells[column('Who or what')]),
        wordsOf(cells[column('Across')], cells[column('Back')]),
      ]),
    );
    const people = [...checked.rig.performers.values()].filter(({ at }) => at);
    expect(people.length).toBeGreaterThan(0);
    const told = new Map(cellsOf(up, 'place').map(([at, where]) => [String(at), String(where)]));
    for (const { label } of people) {
      if (!told.has(label)) continue;
      expect(told.get(label)?.replace(/ (?:m|ft) back$/, '')).toBe(places.get(label));
    }
    // Of a crowded house sheet the stage sheet has the places; what stands elsewhere than its player is told where it stands.
    const away = [...checked.rig.sources.values()].filter(({ id }) => checked.rig.pieces.get(id)?.at);
    for (const { by } of away) places.delete(checked.rig.performers.get(by ?? '')?.label ?? '');
    for (const [, , , who] of cellsOf(house, 'lines')) {
      const [, label = '', where] = /^(.+?), (.+) (?:m|ft) back$/.exec(String(who ?? '')) ?? [];
      if (where !== undefined && places.has(label)) expect(where).toBe(places.get(label));
    }
  });
});
