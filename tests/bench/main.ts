/**
 * How fast it is: from a keystroke to its diagnostics, each stage by itself, the command line from cold, and the sizes.
 *
 *   npm run bench              all of it
 *   npm run bench -- 300 1000  only rigs of these lengths
 */
import { existsSync, statSync } from 'node:fs';
import { cpus } from 'node:os';
import { generateRig } from '../generate';
import { cold } from './cold';
import { keystrokes } from './keystrokes';
import { stages } from './stages';
import { ms, table } from './times';

const SEED = 7;
const EXAMPLE = 'examples/first.rig';
const PRODUCTS = ['dist/extension.cjs', 'dist/server.cjs', 'dist/cli.cjs', 'dist/preview.js', 'dist/preview.css', 'dist/earloom.vsix'];

async function main(words: readonly string[]): Promise<void> {
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
