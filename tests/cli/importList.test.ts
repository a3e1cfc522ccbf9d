/** `earloom import` as a process: what it writes is a rig, and what it cannot take it says. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { earloom } from './earloom';

const folder = mkdtempSync(path.join(tmpdir(), 'earloom-import-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const run = (words: readonly string[], input?: string) => earloom(words, { cwd: folder, ...(input === undefined ? {} : { input }) });

it('makes a rig of a list, writes over nothing, and asks in words where nobody sits', () => {
  writeFileSync(path.join(folder, 'list.csv'), Buffer.from('Ch;Name;Mic\r\n1;Stra\u00dfe;dynamic\r\n2;;\r\n', 'latin1'));
  const made = run(['import', 'list.csv', '-o', 'club.rig']);
  expect(made).toMatchObject({ status: 0, stdout: '' });
  expect(made.stderr).toMatch(/2 rows: 1 line of the house’s in club\.rig, 1 left out\.\n {2}row 3: left out: it has no name/);
  expect(readFileSync(path.join(folder, 'club.rig'), 'utf8')).toMatch(/source straße +"Straße" +is dynamic-mic/);
  expect(run(['check', 'club.rig']).status).toBe(0);
  const again = run(['import', 'list.csv', '-o', 'club.rig']);
  expect(again.status).toBe(2);
  expect(again.stderr).toMatch(/club\.rig is there already, and stays as it is/);
  const unclear = run(['import', '-'], '1\tKick\n2\tVoice\n');
  expect(unclear.status).toBe(2);
  expect(unclear.stderr).toMatch(
    /no headings that are known here\. It has these columns:\n {2}column 1: 1, 2\n[\s\S]*"--columns number,name"/,
  );
  expect(run(['import', '-', '--columns', 'number,name'], '1\tKick\n2\tVoice\n').stdout).toMatch(/^house 2 +"Voice" +takes voice$/m);
});
