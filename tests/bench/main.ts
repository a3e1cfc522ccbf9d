/**
 * How fast it is: from a keystroke to its diagnostics, each stage by itself, the engine by the lines of a rig, the command line from cold, and the sizes.
 *
 *   npm run bench              all of it
 *   npm run bench -- 300 1000  only rigs of these lengths
 *   npm run bench -- engine    only the engine
 */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { cpus } from 'node:os';
import { generateRig } from '../generate';
import { cold } from './cold';
import { deskRig, engineOn, severalBays } from './engine';
import { keystrokes } from './keystrokes';
import { extensionLoading, ready } from './ready';
import { stages } from './stages';
import { ms, type Times, table } from './times';

const SEED = 7;
const EXAMPLE = 'examples/first.rig';
const PRODUCTS = [
  ...['extension.cjs', 'extension.web.js', 'server.cjs', 'server.web.js', 'cli.cjs', 'preview.js', 'preview.css', 'mistakes.json'],
  'earloom.vsix',
].map((file) => `dist/${file}`);

async function wholeEngine(): Promise<void> {
  console.log('\nThe whole engine on a rig that has been read, warm; lines here are inputs, house lines and outputs\n');
  const whole: string[][] = [];
  for (const [shape, make, sizes] of [
    ['bands with an interface each', severalBays, [64, 125, 250, 500, 1_000]],
    // More sockets than a desk can be given in one line is no desk.
    ['one desk', deskRig, [64, 125, 250]],
  ] as const) {
    let last: { readonly runs: number; readonly least: number } | undefined;
    for (const runs of sizes) {
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

async function main(words: readonly string[]): Promise<void> {
  if (words.includes('engine')) return wholeEngine();
  const lengths = words.length > 0 ? words.map(Number) : [100, 300, 1_000, 10_000];
  console.log(`Node ${process.versions.node}, ${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}. Times in ms.\n`);

  const typing: string[][] = [];
  const parts: string[][] = [];
  for (const lines of lengths) {
    const text = generateRig(lines, SEED);
    const { keystrokes: stroke, openingMs, findings } = await keystrokes(text, SEED);
    const stage = await stages(text, lines > 3_000 ? 8 : 40);
    const ratio = (stroke.median / stage.parsing.median).toFixed(2);
    typing.push([String(lines), String(findings), ms(openingMs), ms(stroke.median), ms(stroke.p95), ms(stage.parsing.median), ratio]);
    parts.push([String(lines), ms(stage.parsing.median), ms(stage.analysis.median), ms(stage.engine.median), ms(stage.sheet.median)]);
  }
  console.log('From a keystroke to its diagnostics, through the built server over stdio\n');
  console.log(table(['lines', 'findings', 'opening, cold', 'median', 'p95', 'parsing alone', 'median : parsing'], typing));
  console.log('\nEach stage by itself, warm, of a file that has never been read (median)\n');
  console.log(table(['lines', 'parsing', 'analysis', 'of which engine', 'patch list'], parts));

  await wholeEngine();

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
