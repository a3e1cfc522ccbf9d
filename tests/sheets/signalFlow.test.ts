/** The signal flow: every lead of the rig once, from the right row to the right row, and pictures that can be read. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { HEAD_HALF, headLength } from '../../packages/sheets/draw/arrow';
import type { Box, Path, Words } from '../../packages/sheets/drawing';
import { renderSheet } from '../../packages/sheets/render';
import type { DrawingBlock, Sheet } from '../../packages/sheets/sheet';
import { type Edge, graphOf } from '../../packages/sheets/signal-flow/graph';
import { type LayOut, layOutHere, TooLarge } from '../../packages/sheets/signal-flow/layout';
import { Parts } from '../../packages/sheets/signal-flow/parts';
import { signalFlowSheet } from '../../packages/sheets/signal-flow/sheet';
import { big } from './big';
import { boundsOf, overlap, troubles } from './drawings';
import { analyse, analyseText, here } from './load';

const examples = join(import.meta.dirname, '../../examples');
const rigsIn = (folder: string) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.rig'))
    .map((name) => join(folder, name));
const FILES = [...rigsIn(examples), ...rigsIn(here('../checks')), ...rigsIn(here('.'))];
const BIG = big(48, 12);

async function flow(checked: Awaited<ReturnType<typeof analyse>>['checked']): Promise<Sheet> {
  return signalFlowSheet(checked, checked.findings);
}

function drawings({ blocks }: Sheet): DrawingBlock[] {
  return blocks.flatMap((block) => (block.kind === 'drawing' ? [block] : []));
}

const shapes = <K extends 'box' | 'path' | 'words'>(sheet: Sheet, kind: K) =>
  drawings(sheet).flatMap(({ drawing }) => drawing.shapes.filter((shape) => shape.kind === kind)) as (K extends 'box'
    ? Box
    : K extends 'path'
      ? Path
      : Words)[];

/** Numbers of leads that the head of an arrow lies on. */
function coveredIn({ shapes: all }: DrawingBlock['drawing']): string[] {
  const heads = all.flatMap((shape) => {
    const tip = shape.kind === 'path' && shape.arrow ? shape.points.at(-1) : undefined;
    if (!tip || shape.kind !== 'path') return [];
    const length = headLength(shape.strokeWidth ?? 0);
    return [{ left: tip[0] - length, right: tip[0], top: tip[1] - length * HEAD_HALF, bottom: tip[1] + length * HEAD_HALF }];
  });
  const numbers = all.filter(({ kind, label }) => kind === 'words' && label?.startsWith('lead '));
  return numbers.flatMap((shape) => (heads.some((head) => overlap(boundsOf(shape), head)) ? [shape.label ?? ''] : []));
}

describe.each([
  ...FILES.map((file) => [file.split('/').slice(-2).join('/'), () => analyse(file)] as const),
  ['a rig of 48 lines', () => analyseText(BIG)] as const,
])('%s', async (_, load) => {
  const { checked } = await load();
  const sheet = await flow(checked);
  const graph = graphOf(checked);

  it('is drawn inside its frame, with no words on words', () => {
    expect(drawings(sheet).flatMap(({ drawing }) => [...troubles(drawing), ...coveredIn(drawing)])).toEqual([]);
  });

  it('has every joint once, and every edge on one page', () => {
    const { network } = checked;
    const joints = graph.edges.flatMap((edge) => edge.joint ?? []);
    expect(joints.length).toBe(network.joints.length);
    expect(new Set(joints)).toEqual(new Set(network.joints));
    const parts = new Parts(graph);
    const halves = (['in', 'out'] as const).flatMap((half) => parts.half(half));
    const inParts = (count: number) =>
      halves.flatMap((part) => {
        const split = parts.split(part, count);
        return (split.length > 0 ? split : [part]).flatMap(({ edges }) => edges);
      });
    for (const count of [1, 2, 3, 1000]) expect(inParts(count).sort(byId)).toEqual([...graph.edges].sort(byId));
    const paths = shapes(sheet, 'path').filter(({ label }) => label !== undefined);
    const strokes = (edge: Edge) => (edge.way === 'digital' ? 2 : 1);
    // What comes in is in a table where it is too much to be followed.
    const drawn = graph.edges.filter(({ half }) => half === 'out' || !sheet.blocks.some(({ id }) => id === 'matrix'));
    expect(paths.map(({ label }) => label).sort()).toEqual(drawn.flatMap((edge) => Array(strokes(edge)).fill(edge.label)).sort());
  });

  it('has leads that leave at the right of one box and come in at the left of another, and run through none', () => {
    for (const { drawing } of drawings(sheet)) {
      const boxes = drawing.shapes.filter((shape) => shape.kind === 'box');
      for (const path of drawing.shapes) {
        if (path.kind !== 'path' || path.label === undefined) continue;
        const [start, end] = [path.points[0], path.points.at(-1)];
        const touches = (box: Box, x: number, at: readonly [number, number] | undefined) =>
          at !== undefined && Math.abs(at[0] - x) < 0.03 && at[1] > box.y && at[1] < box.y + box.height;
        expect(boxes.filter((box) => touches(box, box.x + box.width, start)).length, path.label).toBe(1);
        expect(boxes.filter((box) => touches(box, box.x, end)).length, path.label).toBe(1);
        path.points.slice(1).forEach((point, index) => {
          const piece = boundsOf({ kind: 'path', points: [path.points[index] ?? point, point] });
          const crossed = boxes.filter((box) =>
            overlap(within(boundsOf(box)), { ...piece, right: piece.right + 0.02, bottom: piece.bottom + 0.02 }),
          );
          expect(
            crossed.map(({ label }) => label),
            path.label,
          ).toEqual([]);
        });
      }
    }
  });

  it('has places that are statements of the rig', () => {
    const { rig } = checked;
    const known = new Set([
      ...[...rig.pieces.values(), ...rig.performers.values(), ...rig.sources.values(), ...rig.mixes.values()].map(({ place }) => place),
      ...[...rig.inputs, ...rig.house, ...rig.outputs].map(({ place }) => place),
    ]);
    const places = drawings(sheet).flatMap(({ drawing }) => drawing.shapes.flatMap(({ place }) => place ?? []));
    expect(places.filter((place) => !known.has(place))).toEqual([]);
  });

  it('can be read: it fills its page, has no letters under 6 pt, and says so where it is too large', () => {
    expect(Math.min(99, ...shapes(sheet, 'words').map(({ size }) => size))).toBeGreaterThanOrEqual(2.12); // 6.01 pt.
    for (const { drawing, remark } of drawings(sheet)) {
      const { width, height } = drawing;
      expect(/A3/.test(remark ?? '')).toBe(width > 180.5 ? width > 250.5 || height > 150.5 : height > 225.5);
      expect(remark ?? '').not.toContain('landscape');
      // As wide or as high as its page, unless its letters are as large as they need to be: rows of 2.6 mm, 1.6 times as large.
      const full = Math.max(width / 250, height / 150) > 0.97 || Math.max(width / 180, height / 225) > 0.97;
      const large = drawing.shapes.some((shape) => shape.kind === 'words' && shape.size >= 3.99);
      expect([full || large, width, height]).toEqual([true, width, height]);
      // A3 across, less margins.
      expect([drawing.width <= 390, drawing.height <= 260]).toEqual([true, true]);
    }
  });

  it('is the same from a fresh start', async () => {
    vi.resetModules();
    const { signalFlowSheet: afresh } = await import('../../packages/sheets/signal-flow/sheet');
    expect(JSON.stringify(await afresh(checked, checked.findings))).toBe(JSON.stringify(sheet));
    expect(JSON.parse(JSON.stringify(sheet))).toEqual(sheet);
  });
});

const byId = (a: Edge, b: Edge) => (a.id < b.id ? -1 : 1);

function within({ left, top, right, bottom }: ReturnType<typeof boundsOf>) {
  return { left: left + 0.1, top: top + 0.1, right: right - 0.1, bottom: bottom - 0.1 };
}

describe('what is told', async () => {
  const ten = await analyse(join(examples, 'ten.rig'));
  const graph = graphOf(ten.checked);
  const title = (id: string) => graph.nodes.find((node) => node.id === id)?.title;
  const between = (from: string, to: string) => graph.edges.filter((edge) => title(edge.from.node) === from && title(edge.to.node) === to);

  it('who hears what, and by what', () => {
    const ears = graph.edges.filter((edge) => edge.to.node.startsWith('ears ')).map((edge) => [title(edge.from.node), title(edge.to.node)]);
    expect(ears.sort()).toEqual(
      [
        ...['Neža', 'Jure', 'Rok', 'Tina', 'Luka', 'Eva', 'Živa', 'Gašper', 'Maja'].map((name) => [`${name}'s pack`, name]),
        ['Interface', 'Blaž'],
      ].sort(),
    );
  });

  it('what goes by radio, by a digital lead and inside a machine', () => {
    expect(between('Transmitter', "Rok's pack").map(({ way }) => way)).toEqual(['radio']);
    expect(between('Expander', 'Interface').map(({ way }) => way)).toEqual(['digital']);
    expect(between('Maja', 'Interface').map(({ way }) => way)).toEqual(['lead', 'lead', 'inside', 'inside']);
    expect(between('neža', 'Interface').map(({ way }) => way)).toEqual(['inside']);
    const key = ['lead', 'lead to the house', 'digital lead', 'radio', 'inside a machine'];
    expect([...new Set(graph.edges.map(({ way }) => way))].length).toBe(key.length);
  });

  it('which kinds of line there are, told apart without colour', async () => {
    const sheet = await flow((await analyse(join(examples, 'choir.rig'))).checked);
    const look = (label: RegExp) =>
      shapes(sheet, 'path')
        .filter((path) => label.test(path.label ?? ''))
        .map(({ strokeWidth, dashed }) => `${strokeWidth} ${dashed ?? false}`);
    const looks = [/^Choir left: Choir left to Split/, /^Choir left: .* to house/, /by radio$/, /leaves by/].map((each) =>
      [...new Set(look(each))].sort().join(),
    );
    expect(new Set(looks).size).toBe(4);
  });

  it('nothing to be plugged that must not be, and says what red means', async () => {
    // Loud Ferry is invented: the click to the hall, and two plugs on one microphone.
    const { checked } = await analyseText(`rig "Loud Ferry, slip"
performer una "Una"
source voice "Voice" is dynamic-mic by una
source harp "Harp" is dynamic-mic by una
source click "Click" is computer-channel
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
input iface.2 takes harp
input iface.usb1 takes click
house 1 takes hall
house 2 takes voice
mix hall mono for house { click 0 dB voice 0 dB }
mix una mono for una { voice 0 dB harp 0 dB }
output iface.phones1 carries una
output iface.1 carries hall
`);
    const sheet = await flow(checked);
    const house = shapes(sheet, 'path').filter(({ label }) => /to house 1; do not plug in$/.test(label ?? ''));
    expect(house.map(({ stroke, dashed }) => [stroke, dashed])).toEqual([['danger', true]]);
    const key = shapes(sheet, 'path').filter(({ label, stroke }) => label === undefined && stroke === 'danger');
    expect(key.map(({ dashed }) => dashed ?? false)).toEqual([true, false]);
    expect(shapes(sheet, 'words').map(({ text }) => text)).toEqual(
      expect.arrayContaining(['must not or cannot be joined', 'a second plug for one socket']),
    );
  });

  it('the number of each lead, at both its ends', async () => {
    const { checked } = await analyse(join(examples, 'choir.rig'));
    const written = shapes(await flow(checked), 'words').filter(({ label }) => label?.startsWith('lead '));
    const numbers = graphOf(checked).edges.flatMap(({ number }) => number ?? []);
    const ends = written.flatMap(({ label }) => label?.slice('lead '.length).split(', ').map(Number) ?? []);
    expect(numbers.length).toBeGreaterThan(15);
    expect(ends.sort((a, b) => a - b)).toEqual([...numbers, ...numbers].sort((a, b) => a - b));
  });

  it('more than twenty lines as a table: each from its source to our input, the house’s line and the mixes', async () => {
    const [matrix] = (await flow(ten.checked)).blocks;
    if (matrix?.kind !== 'table') throw new Error('no table');
    const titles = matrix.columns.map(({ title: each }) => each);
    const rowOf = (source: string) => {
      const row = matrix.rows.find(({ cells }) => cells[0] === source);
      return Object.fromEntries(titles.flatMap((each, index) => (row?.cells[index] == null ? [] : [[each, row.cells[index]]])));
    };
    expect(rowOf('Double bass')).toEqual({
      ...{ Source: 'Double bass', By: 'Gašper', Through: 'Bass DI out', 'Our input': 'Interface 2', House: '4', Leads: '2, 3' },
      ...Object.fromEntries(['neža', 'strings', 'reeds', 'gašper', 'maja'].map((mix) => [mix, '●'])),
    });
    // A source that both desks take is one row: of how many lines there are nothing is said that its reader could count otherwise.
    expect(matrix.remark).toMatch(/^These are too many to follow in a drawing: a row for each/);
    expect(matrix.remark).not.toMatch(/\d/);
    const inputs = new Set(matrix.rows.map(({ cells }) => cells[titles.indexOf('Our input')]));
    expect(inputs.size - 1).toBe(ten.checked.network.lines.filter(({ run }) => run.kind === 'input').length);
    expect((await flow((await analyse(join(examples, 'choir.rig'))).checked)).blocks.map(({ kind }) => kind)).not.toContain('table');
  });

  it('what is on each input, and at which kind of level', () => {
    const rows = graph.nodes.find((node) => node.title === 'Interface' && node.under.includes('inputs'))?.left ?? [];
    expect(rows.map(({ text, after }) => `${text}, ${after}`)).toEqual([
      '1 Overhead, mic',
      '2 Double bass, mic',
      '3 Audience left, mic',
      '4 Audience right, mic',
      '5 Kick, mic',
      '6 Voice, line',
      '7 Organ left, mic',
      '8 Organ right, mic',
      'optical Expander, digital',
      'usb1 Tracks, digital',
      'usb2 Click, digital',
    ]);
  });

  it('what is not whole yet', async () => {
    const words = shapes(await flow((await analyse(here('half.rig'))).checked), 'words').map(({ text }) => text);
    for (const text of [
      'Piano, not plugged in',
      '1, source not known',
      '9 Zither, not joined',
      'no way to the ears yet',
      'no mix yet',
      'no output yet',
    ])
      expect(words).toContain(text);
  });

  it('a lead that must not be made', async () => {
    const paths = shapes(await flow((await analyse(here('danger.rig'))).checked), 'path').filter(({ label }) =>
      /do not plug in/.test(label ?? ''),
    );
    expect(paths.map(({ stroke, dashed }) => [stroke, dashed])).toEqual([['danger', true]]);
  });

  it('two plugs in one socket', async () => {
    const twice = await analyseText(
      ['rig "Twice"', 'source a is dynamic-mic', 'gear i is interface-8-mic', 'input i.1 takes a', 'input i.2 takes a', ''].join('\n'),
    );
    const found = shapes(await flow(twice.checked), 'path').filter(({ stroke, label }) => stroke === 'danger' && label);
    expect(found.map(({ label }) => label)).toEqual([expect.stringContaining('another plug is in that socket already')]);
  });

  it('nothing where there is nothing', async () => {
    expect((await flow((await analyseText('rig "Nothing yet"\n')).checked)).blocks).toEqual([]);
  });
});

it('draws every page of mistakes, whatever is wrong there', async () => {
  const folder = join(examples, 'mistakes');
  const pages = readdirSync(folder, { recursive: true })
    .map(String)
    .filter((name) => /^[a-z-]+\/[a-z-]+\.rig$/.test(name))
    .sort();
  expect(pages.length).toBeGreaterThan(50);
  for (const page of pages) {
    const { checked } = await analyse(join(folder, page));
    const found = drawings(await flow(checked)).flatMap(({ drawing }) => troubles(drawing));
    expect(found, page).toEqual([]);
    expect(graphOf(checked).edges.filter(({ joint }) => joint).length, page).toBe(checked.network.joints.length);
  }
}, 120_000);

it('draws gear that is plugged round in a circle', async () => {
  const { checked } = await analyseText(
    [
      'rig "Round"',
      'source a is dynamic-mic',
      'gear i is interface-8-mic',
      'gear e is preamp-expander',
      'input e.1 takes a',
      'input i.optical takes e',
      'input e.2 takes i.1',
      'input i.1 takes i.2',
      'mix m mono for house { a 0 dB }',
      'output i.1 carries m',
      'house 1 takes m',
      '',
    ].join('\n'),
  );
  const sheet = await flow(checked);
  expect(drawings(sheet).flatMap(({ drawing }) => troubles(drawing))).toEqual([]);
  expect(graphOf(checked).edges.filter(({ joint }) => joint).length).toBe(checked.network.joints.length);
});

it('ends early where nobody waits for it any more', async () => {
  const { checked } = await analyseText(readFileSync(join(examples, 'first.rig'), 'utf8'));
  const { signal } = { signal: AbortSignal.abort(new Error('superseded')) };
  await expect(signalFlowSheet(checked, checked.findings, { signal })).rejects.toThrow('superseded');
});

/** Of two sources; no other test has laid it out. */
const twoOf = (name: string) =>
  analyseText(`rig "${name}"\nsource ${name}-a "${name}" is dynamic-mic\nsource ${name}-b is dynamic-mic\ngear i is interface-2
input i.1 takes ${name}-a\ninput i.2 takes ${name}-b\n`);

it('is laid out once for all who ask, and given up only when none of them waits any more', async () => {
  const { checked } = await twoOf('shared');
  const asked: AbortSignal[] = [];
  let go = () => {};
  const held = new Promise<void>((resolve) => {
    go = resolve;
  });
  const layOut: LayOut = async (graph, signal) => {
    asked.push(signal);
    await held;
    return layOutHere(graph, signal);
  };
  const [one, other] = [new AbortController(), new AbortController()];
  const first = signalFlowSheet(checked, [], { layOut, signal: one.signal });
  const second = signalFlowSheet(checked, [], { layOut, signal: other.signal });
  one.abort(new Error('superseded'));
  await expect(first).rejects.toThrow('superseded');
  expect(asked.map(({ aborted }) => aborted)).toEqual([false]);
  go();
  expect(drawings(await second)).toHaveLength(1);
  expect(asked).toHaveLength(1);

  const alone = new AbortController();
  const third = signalFlowSheet((await twoOf('alone')).checked, [], { layOut: () => new Promise(() => {}), signal: alone.signal });
  alone.abort(new Error('superseded'));
  await expect(third).rejects.toThrow('superseded');
  // What was given up is begun anew.
  expect(drawings(await flow((await twoOf('alone')).checked))).toHaveLength(1);
});

it('says so where a rig is too large to draw', async () => {
  const { checked } = await twoOf('large');
  const layOut: LayOut = () => Promise.reject(new TooLarge());
  const said = renderSheet(await signalFlowSheet(checked, [], { layOut }), 'text');
  expect(said).toMatch(/too large to draw here\. Write it with the command line/);
  expect(said).not.toContain('desktop');
  const boxes = graphOf(checked).nodes.length;
  expect(drawings(await signalFlowSheet(checked, [], { mostBoxes: boxes }))).toHaveLength(1);
  const sheet = await signalFlowSheet(checked, [], { mostBoxes: boxes - 1 });
  for (const format of ['text', 'markdown', 'html'] as const)
    expect(renderSheet(sheet, format).replace(/\s+/g, ' ')).toContain('or open the rig in the desktop edition');
});
