/** The extension as it ships. */
import { execFileSync } from 'node:child_process';
import { readdirSync, renameSync } from 'node:fs';
import path from 'node:path';
import { inject } from 'vitest';
import { isOlder, root, sources } from '../../.ci/setup.mjs';

const VSIX = 'dist/earloom.vsix';

/** Packages it where it is older than what it is made from. Gives the file. */
export function packaged(): string {
  const failure = inject('buildFailure');
  if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
  const shipped = ['README.md', 'CHANGELOG.md', 'LICENSE', '.vscodeignore', 'syntaxes'].map((name) => path.join(root, name));
  const grammar = readdirSync(path.join(root, 'syntaxes')).map((name) => path.join(root, 'syntaxes', name));
  if (isOlder([VSIX], [...sources(), ...shipped, ...grammar])) {
    // Another test may be about the same: the file is put in its place whole.
    const fresh = `${VSIX}.${process.pid}`;
    execFileSync('npm', ['run', 'vsix', '--', '--out', fresh], { cwd: root, stdio: 'pipe' });
    renameSync(path.join(root, fresh), path.join(root, VSIX));
  }
  return path.join(root, VSIX);
}
