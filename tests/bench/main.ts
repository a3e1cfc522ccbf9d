/**
 * How fast it is: from a keystroke to its diagnostics, each stage by itself, the engine by the lines of a rig, the command line from cold, and the sizes.
 *
 *   npm run bench              all of it
 *   npm run bench -- 300 1000  only rigs of these lengths
 *   npm run bench -- engine    only the engine
 *   npm run bench -- radio     only radio
 *   npm run bench -- compare   only what changes between two rigs
 *   npm run bench -- ready     only until the editor is served
 *   npm run bench -- memory    only what the server keeps after 10,000 edits
 *   npm run bench -- plan      only plans, by their lines
 *   npm run bench -- outside   only a key in a statement, at its end, in a comment, beside a JSON and a YAML language server
 *   npm run bench -- allocations  only what a key allocates, stage by stage
 *   npm run bench -- sheets    only a sheet that is looked at while somebody types
 *   npm run bench -- many      only folders of many files: 1,000 rigs, a chain of 3,000 `use`
 */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { cpus } from 'node:os';
import { generateRig, randomFrom } from '../generate';
import { allocations } from './allocations';
import { cold } from './cold';
import { comparing, pairOf } from './compare';
import { deskRig, engineOn, severalBays, splitterRig, yLeadsRig } from './engine';
import { askShown, keystrokes } from './keystrokes';
import { chain, checked, inFolder, opened, rigs, type Used, waits } from './many';
import { type Memory, memory } from './memory';
import { install, OTHERS, outside, placeIn, type Richness, rigWith, WARM_UPS, type Where } from './outside';
import { planning } from './plan';
import { choosing, choosingOne, crowd, looking } from './radio';
import { extensionLoading, ready } from './ready';
import type { Session } from './session';
import { whileTyping } from './sheets';
import { stages } from './stages';
import { ms, type Times, table } from './times';

const SEED = 7;
const EXAMPLE = 'examples/first.rig';
const PRODUCTS = [
  ...[
    'extension.cjs',
    'extension.web.js',
    'server.cjs',
    'server.web.js',
    'cli.cjs',
    'check.cjs',
    'commands.cjs',
    'preview.js',
    'preview.css',
    'mistakes.json',
  ],
  'earloom.vsix',
].map((file) => `dist/${file}`);

async function wholeEngine(): Promise<void> {
  console.log('\nThe whole engine on a rig that has been read, warm; lines here are inputs, house lines and outputs\n');
  const whole: string[][] = [];
  for (const [shape, make] of [
    ['bands with an interface each', severalBays],
    ['one band on one desk', deskRig],
    ['one microphone for all, by Y-leads', yLeadsRig],
    ['one microphone for all, by one splitter', splitterRig],
  ] as const) {
    let last: { readonly runs: number; readonly least: number } | undefined;
    for (const runs of [64, 125, 250, 500, 1_000]) {
      const { findings, times } = engineOn(await make(runs, SEED), runs <= 125 ? 200 : 40);
      const growth = last ? (times.least / last.least / (runs / last.runs)).toFixed(2) : '';
      const each = ((times.least * 1000) / runs).toFixed(1);
      whole.push([shape, String(runs), String(findings), ms(times.least), ms(times.median), ms(times.p95), each, growth]);
      last = { runs, least: times.least };
    }
  }
  console.log(
    table(['rig', 'lines', 'findings', 'least', 'median', 'p95', 'µs a line, least', 'least, times longer : times more lines'], whole),
  );
}

async function compareAll(): Promise<void> {
  console.log('\nWhat changes between two rigs that have been read, warm\n');
  const rows: string[][] = [];
  for (const lines of [100, 300, 1_000, 3_000]) {
    const { moves, whole, sheet } = comparing(await pairOf(lines, SEED), lines > 1_000 ? 5 : 20);
    rows.push([String(lines), String(moves), ms(whole.least), ms(whole.median), ms(whole.p95), ms(sheet.median)]);
  }
  console.log(table(['lines of text', 'moves', 'least', 'median', 'p95', 'its sheet, median'], rows));
}

async function radio(): Promise<void> {
  const found: string[][] = [];
  for (const carriers of [8, 32, 64, 500]) {
    const rig = await crowd(carriers);
    const { troubles, times } = looking(rig, carriers > 100 ? 6 : 60);
    found.push([String(carriers), String(troubles), ms(times.least), ms(times.median), ms(choosingOne(rig, 6).median)]);
  }
  console.log('\nRadio: what carriers do to each other, and another frequency for one of them\n');
  console.log(table(['carriers', 'products that fall on one', 'least', 'median', 'another for one, median'], found));
  const chosen = (
    [
      [5, 73],
      [8, 73],
      [16, 1_000],
      [32, 4_000],
      [64, 9_000],
    ] as const
  ).map(([carriers, points]) => {
    const { set, proven, times } = choosing(carriers, points, 3);
    return [String(carriers), String(points), String(set), proven ? 'yes' : 'no', ms(times.least), ms(times.median)];
  });
  console.log('\nChoosing frequencies for all, from nothing\n');
  console.log(table(['carriers', 'points', 'set', 'proven to be the most', 'least', 'median'], chosen));
}

async function served(): Promise<void> {
  const server = await ready(20, readFileSync(EXAMPLE, 'utf8'));
  const loading = extensionLoading(20);
  const timesOf = (what: string, { least, median, p95 }: Times) => [what, ms(least), ms(median), ms(p95)];
  console.log('\nUntil the editor is served\n');
  console.log(
    table(
      ['', 'least', 'median', 'p95'],
      [
        timesOf('the extension is loaded', loading),
        timesOf('a new server answers', server.answers),
        timesOf(`a new server has checked ${EXAMPLE}`, server.diagnoses),
      ],
    ),
  );
}

/** An editor's questions at a cursor, in turn, besides what it asks after each edit. */
const AT_A_CURSOR = [
  'textDocument/hover',
  'textDocument/completion',
  'textDocument/documentHighlight',
  'textDocument/prepareCallHierarchy',
];
const EDITS = 10_000;

async function kept(): Promise<void> {
  const text = generateRig(100, SEED);
  const random = randomFrom(SEED);
  const atCursor = async (session: Session) => {
    const position = session.place(random);
    const context = { diagnostics: session.diagnostics.slice(0, 2) };
    await session.ask('textDocument/codeAction', { range: { start: position, end: position }, context });
  };
  const edited = await memory(text, EDITS, (session) => session.type(random));
  const shown = await memory(text, EDITS, async (session, edit) => {
    await session.type(random);
    await Promise.all(askShown(session));
    const method = AT_A_CURSOR[(edit / 4) % AT_A_CURSOR.length];
    if (method) await session.ask(method, { position: session.place(random) });
    if (edit % 20 > 0) return;
    await atCursor(session);
    await session.ask('textDocument/formatting', { options: { tabSize: 2, insertSpaces: true } });
  });
  // The cursor goes about and nothing is typed: the light bulb looks each time for what it could offer, and may try it.
  const looked = await memory(text, EDITS / 10, atCursor);
  const rows = (
    [
      [`${EDITS} edits`, edited],
      [`${EDITS} edits with all that is shown, hovers, completions, actions`, shown],
      [`${EDITS / 10} looks for actions without an edit`, looked],
    ] satisfies readonly [string, Memory][]
  ).map(([what, { samples, heapKbPerThousand, rssKbPerThousand }]) => {
    const at = (share: number) => samples[Math.round((samples.length - 1) * share)] as (typeof samples)[number];
    const both = (share: number) => `${at(share).heapMb.toFixed(1)} / ${at(share).rssMb.toFixed(0)}`;
    const growth = [heapKbPerThousand, rssKbPerThousand].map((each) => each.toFixed(0));
    return [what, both(0), both(0.2), both(0.5), both(1), (at(1).heapMb / at(0.5).heapMb).toFixed(3), ...growth];
  });
  console.log('\nWhat the server keeps of 100 lines once it has been collected: heap / whole process, MB\n');
  console.log(table(['', 'opened', 'a fifth', 'half', 'all', 'heap, all : half', 'kB of heap a thousand', 'kB of process'], rows));
}

async function manyFiles(): Promise<void> {
  const processes: string[][] = [];
  const strokes: string[][] = [];
  const told = (what: string, count: number, { findings, processorMs, mostMb }: Used) =>
    processes.push([what, String(count), String(findings), ms(processorMs), (processorMs / count).toFixed(2), mostMb.toFixed(0)]);
  for (const count of [250, 1_000]) {
    await inFolder(rigs(count), async (folder) => {
      told('rigs of 75 lines, checked', count, checked(folder));
      told('the same, opened in the server', count, (await opened(folder, count)).opening);
    });
  }
  for (const count of [750, 3_000]) {
    await inFolder(chain(count), async (folder) => {
      told('a chain of `use`, checked', count, checked(folder));
      for (const [what, file] of [
        ['first', 0],
        ['middle', count / 2],
        ['last', count - 1],
      ] as const) {
        const { opening, keys } = await opened(folder, count, `link-${file}.rig`, 6);
        if (file === 0) told('the same, opened in the server', count, opening);
        if (keys) strokes.push([`the ${what} of ${count}`, ms(keys.shown.median), ms(keys.processorMs)]);
      }
    });
  }
  const waiting: string[][] = [];
  for (const [what, count, files] of [
    ['1,000 rigs', 1_000, rigs(1_000)],
    ['a chain of 3,000', 3_000, chain(3_000)],
  ] as const) {
    await inFolder(files, async (folder) => {
      const { openMs, namesMs, namesProcessorMs, allMs, while: busy } = await waits(folder, count, Object.keys(files)[0] as string);
      for (const [how, time] of [
        ['until the open file has been checked', openMs],
        ['until every name is found', namesMs],
        ['the same, processor, with the start of the process', namesProcessorMs],
        ['until all has been checked, with somebody typing', allMs],
      ] as const)
        waiting.push([what, how, '1', ms(time), '', '']);
      for (const [how, { count: times, median, p95, most }] of Object.entries(busy))
        waiting.push([what, how, String(times), ms(median), ms(p95), ms(most)]);
    });
  }
  console.log('\nA folder opened with its first file, in which somebody types and asks while the others are checked\n');
  console.log(table(['', '', 'times', 'median', 'p95', 'most'], waiting));
  console.log('\nMany files in a folder, each process from its start\n');
  console.log(table(['', 'files', 'findings', 'processor', 'of which each file', 'most memory, MB'], processes));
  console.log('\nA key in a file of the chain: until its own diagnostics, and all that it costs\n');
  console.log(table(['', 'shown, median', 'processor'], strokes));
}

async function plans(): Promise<void> {
  const rows: string[][] = [];
  for (const lines of [8, 16, 32, 64]) {
    const { times, processor, last } = await planning(lines, 60);
    const all = [times.median, times.p95, processor.median, processor.p95].map(ms);
    rows.push([String(lines), ...all, String(last.trials), last.proven ? 'yes' : 'no']);
  }
  console.log('\nA plan from a rig that has been read, warm: lines tried with the engine, chosen, explained\n');
  console.log(table(['lines', 'median', 'p95', 'processor, median', 'p95', 'rigs checked for the last', 'proven'], rows));
}

async function sheets(lengths: readonly number[]): Promise<void> {
  const rows: string[][] = [];
  for (const lines of lengths) {
    const text = generateRig(lines, SEED);
    for (const sheet of ['patch-list', 'leads', 'set-up'] as const) {
      const { rows: count, diagnosed, made, frames, cursorFrames } = await whileTyping(text, sheet, SEED);
      const both = (times: Times | undefined) => (times ? [ms(times.median), ms(times.p95)] : ['no browser', '']);
      rows.push([`${lines}, ${sheet}`, String(count), ...both(diagnosed), ...both(made), ...both(frames), ...both(cursorFrames)]);
    }
  }
  console.log('\nA sheet that is looked at, from a key; and the longest frame of the page it comes to\n');
  console.log(
    table(
      ['lines, sheet', 'rows', 'diagnostics, median', 'p95', 'sheet, median', 'p95', 'frame, median', 'p95', 'cursor’s, median', 'p95'],
      rows,
    ),
  );
}

const OUTSIDE: readonly (readonly [Richness, Where, number])[] = [
  ['many', 'in a statement', WARM_UPS.few],
  ['many', 'in a statement', WARM_UPS.many],
  ['many', 'at its end', WARM_UPS.few],
  ['many', 'in a comment', WARM_UPS.few],
  ['few', 'in a statement', WARM_UPS.few],
  ['none', 'in a statement', WARM_UPS.few],
];

async function fromOutside(lengths: readonly number[]): Promise<void> {
  install();
  const rows: string[][] = [];
  for (const lines of lengths) {
    const costs: number[] = [];
    for (const [richness, where, warmUp] of OUTSIDE) {
      const text = rigWith(richness, lines, SEED);
      const { findings, shown, processorMs } = await outside('dist/server.cjs', 'rig', text, placeIn(text, where), warmUp);
      costs.push(processorMs);
      rows.push([
        String(lines),
        `rig, ${where}, ${richness} findings, after ${warmUp} keys`,
        String(findings),
        ms(shown.median),
        ms(shown.p95),
        ms(processorMs),
        '',
      ]);
    }
    for (const { name, languageId, program, written } of OTHERS) {
      const text = written(rigWith('many', lines, SEED));
      const { findings, processorMs } = await outside(program, languageId, text, text.indexOf('input', text.length / 2) + 1);
      rows.push([String(lines), name, String(findings), '', '', ms(processorMs), ((costs[0] as number) / processorMs).toFixed(2)]);
    }
  }
  console.log('\nA key, from outside: until its diagnostics, and what it costs the processor\n');
  console.log(table(['lines', 'where', 'findings', 'median', 'p95', 'processor', 'a rig in a statement : this'], rows));
}

async function allocated(lengths: readonly number[]): Promise<void> {
  const all = await Promise.all(lengths.map((lines) => allocations('out/bench-server.cjs', lines, SEED)));
  const sums = all.map((found) => [...found.values()].reduce((sum, each) => sum + each, 0));
  const rows = [...(all[0]?.keys() ?? [])].map((stage) => [stage, ...all.map((found) => (found.get(stage) ?? 0).toFixed(2))]);
  console.log('\nWhat a key in a statement allocates, many findings, MB\n');
  console.log(table(['', ...lengths.map((lines) => `${lines} lines`)], [...rows, ['all', ...sums.map((sum) => sum.toFixed(2))]]));
}

async function main(words: readonly string[]): Promise<void> {
  if (words.includes('plan')) return plans();
  if (words.includes('engine')) return wholeEngine();
  if (words.includes('radio')) return radio();
  if (words.includes('compare')) return compareAll();
  if (words.includes('memory')) return kept();
  if (words.includes('many')) return manyFiles();
  if (words[0] === 'sheets') return sheets(words.length > 1 ? words.slice(1).map(Number) : [300, 3_010]);
  if (words[0] === 'allocations') return allocated(words.length > 1 ? words.slice(1).map(Number) : [300, 1_000, 3_000]);
  if (words.includes('ready')) return served();
  if (words[0] === 'outside') return fromOutside(words.length > 1 ? words.slice(1).map(Number) : [300, 1_000, 10_000]);
  const lengths = words.length > 0 ? words.map(Number) : [100, 300, 1_000, 10_000];
  console.log(`Node ${process.versions.node}, ${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}. Times in ms.\n`);

  const typing: string[][] = [];
  const parts: string[][] = [];
  for (const lines of lengths) {
    const text = generateRig(lines, SEED);
    const { keystrokes: stroke, everything, openingMs, findings } = await keystrokes(text, SEED);
    const stage = await stages(text, lines > 3_000 ? 8 : 40);
    const ratio = (stroke.median / stage.parsing.median).toFixed(2);
    const loop = [ms(everything.median), ms(everything.p95), (everything.median / stroke.median).toFixed(2)];
    typing.push([
      String(lines),
      String(findings),
      ms(openingMs),
      ms(stroke.median),
      ms(stroke.p95),
      ms(stage.parsing.median),
      ratio,
      ...loop,
    ]);
    parts.push([String(lines), ms(stage.parsing.median), ms(stage.analysis.median), ms(stage.engine.median), ms(stage.sheet.median)]);
  }
  console.log('From a keystroke to its diagnostics, through the built server over stdio\n');
  console.log(
    table(
      [
        ...['lines', 'findings', 'opening, cold', 'median', 'p95', 'parsing alone', 'median : parsing'],
        ...['with all that is shown, median', 'p95', 'all : diagnostics alone'],
      ],
      typing,
    ),
  );
  console.log('\nEach stage by itself, warm, of a file that has never been read (median)\n');
  console.log(table(['lines', 'parsing', 'analysis', 'of which engine', 'patch list'], parts));

  await wholeEngine();
  await radio();
  await compareAll();

  const bare = cold(20, ['-e', '0']);
  const version = cold(20, ['dist/cli.cjs', '--version']);
  const check = cold(20, ['dist/cli.cjs', 'check', EXAMPLE]);
  console.log('\nA process from start to end\n');
  console.log(
    table(
      ['', 'median', 'p95'],
      [
        ['node -e 0', ms(bare.median), ms(bare.p95)],
        ['earloom --version', ms(version.median), ms(version.p95)],
        [`earloom check ${EXAMPLE}`, ms(check.median), ms(check.p95)],
      ],
    ),
  );

  await served();
  await kept();
  await manyFiles();

  console.log('\nSizes\n');
  console.log(
    table(
      ['', 'kB'],
      PRODUCTS.map((file) => [file, existsSync(file) ? (statSync(file).size / 1000).toFixed(0) : 'not built']),
    ),
  );
}

main(process.argv.slice(2)).catch((problem: unknown) => {
  console.error(problem);
  process.exitCode = 1;
});
