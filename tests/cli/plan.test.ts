/** `earloom plan`, as a process: told, written, and what it refuses. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { Folder } from '../protocol/folder';
import { earloom } from './earloom';

const RIG = `# Invented.
rig "Two Kettles"
  budget 60 EUR

performer ada  "Ada"  at 0 m, 2 m

source voice  "Voice"  is dynamic-mic    by ada
source harp   "Harp"   is preamp-pickup  by ada

gear iface  "Interface"  is interface-8-mic  at 1 m, 3 m  owned

house 1  "Voice"  takes voice

mix ada  mono  for ada  { voice 0 dB  harp -3 dB }
`;
const read = (folder: Folder, name: string) => readFileSync(path.join(folder.path, name), 'utf-8');

describe('earloom plan', () => {
  test('writes a rig that the check finds nothing wrong with, set in columns as it was, and that leaves nothing to plan', () => {
    const folder = new Folder({ 'a.rig': RIG });
    expect(earloom(['plan', 'a.rig', '-o', 'b.rig'], { cwd: folder.path }).status).toBe(0);
    expect(read(folder, 'a.rig')).toBe(RIG);
    expect(earloom(['check', 'b.rig'], { cwd: folder.path }).status).toBe(0);
    expect(earloom(['format', '--check', 'b.rig'], { cwd: folder.path }).status).toBe(0);
    const again = earloom(['plan', 'b.rig'], { cwd: folder.path });
    expect(again.status).toBe(0);
    expect(again.stdout).toContain('Nothing is left to plan');
  });

  test('tells the plan as text, Markdown and JSON', () => {
    const folder = new Folder({ 'a.rig': RIG });
    const { status, stdout } = earloom(['plan', 'a.rig'], { cwd: folder.path });
    expect(status).toBe(0);
    for (const words of ['Why here', 'What money buys', 'invented', 'No other plan is better'])
      expect(stdout.replace(/\s+/g, ' ')).toContain(words);
    expect(earloom(['plan', 'a.rig', '--format', 'markdown'], { cwd: folder.path }).stdout).toContain('## Lines');
    const json = JSON.parse(earloom(['plan', 'a.rig', '--format', 'json'], { cwd: folder.path }).stdout);
    expect(json.proven).toBe(true);
    expect(json.money.invented).toBe(true);
    expect(json.changes.map(({ kind }: { kind: string }) => kind)).toContain('add-input');
    expect(json.frontier[0].price).toEqual({ amount: 0, currency: 'EUR' });
  });

  test('after a loss keeps what can stay', () => {
    const text = `${RIG}input iface.3  takes harp  via passive-di\noutput iface.phones1  carries ada\n`
      .replace('preamp-pickup', 'magnetic-pickup')
      .replace('gear iface', 'gear old "Old one" is interface-4 at 1 m, 3 m owned\ngear iface');
    const folder = new Folder({ 'a.rig': text });
    const { stdout } = earloom(['plan', 'a.rig', '--without', 'old', '--format', 'json'], { cwd: folder.path });
    const kinds = JSON.parse(stdout).changes.map((change: { kind: string; source?: string }) =>
      `${change.kind} ${change.source ?? ''}`.trim(),
    );
    expect(kinds).not.toContain('add-input harp');
    expect(kinds).not.toContain('remove');
    expect(kinds).toContain('add-input voice');
  });

  test('says of prices in another currency that they do not count, as text and in JSON', () => {
    const folder = new Folder({ 'a.rig': `model our-y is y-lead { buy 8 GBP }\n${RIG}` });
    const { stdout, stderr } = earloom(['plan', 'a.rig', '--format', 'json'], { cwd: folder.path });
    const json = JSON.parse(stdout);
    expect(json.money.notLookedAt).toEqual(['GBP']);
    expect(json.summary).toContain('Prices in GBP are not looked at');
    expect(json.leftOut[0].why).toContain('nothing splits it');
    expect(stderr).toBe('');
  });

  test('says that a mistake may hide something from it, and of what it writes what it is', () => {
    const folder = new Folder({ 'a.rig': RIG.replace('is preamp-pickup', 'is preamp-pikup') });
    const { stdout } = earloom(['plan', 'a.rig'], { cwd: folder.path });
    expect(stdout.replace(/\s+/g, ' ')).toContain('A mistake in the text may hide something from the plan: mend it and plan again.');
    const { stdout: nothing, stderr } = earloom(['plan', 'a.rig', '-o', 'b.rig'], { cwd: folder.path });
    expect(nothing).toBe('');
    expect(stderr).toContain('Planned:');
  });

  test('does not take what follows from a mistake for one of its own', () => {
    const folder = new Folder({ 'a.rig': `${RIG.replace('"Ada"  at', '"Ada  at')}input iface.99  takes voice\n` });
    const { stdout } = earloom(['plan', 'a.rig'], { cwd: folder.path });
    expect(stdout).toContain('in the text may hide something');
    expect(stdout).not.toContain('could not keep clear');
  });

  test('fails where a must is left out, and says what would help', () => {
    const folder = new Folder({ 'a.rig': RIG.replace('interface-8-mic', 'interface-2').replace('budget 60 EUR', 'budget 0 EUR') });
    const { status, stdout } = earloom(['plan', 'a.rig'], { cwd: folder.path });
    expect(status).toBe(1);
    expect(stdout).toContain('Left out');
  });

  test.each([
    [['plan', 'a.rig', '--without', 'nothing'], 'There is no gear "nothing"'],
    [['plan', 'a.rig', '--budget', 'much'], 'is no sum of money'],
    [['plan', 'a.rig', '--limit', 'soon'], 'is no number of seconds'],
    [['plan', 'a.rig', '-f', 'json', '-o', 'b.rig'], 'Leave "--format" out'],
    [['plan', 'gone.rig'], 'gone.rig'],
  ])('%j is refused', (words, says) => {
    const folder = new Folder({ 'a.rig': RIG });
    const { status, stderr } = earloom(words, { cwd: folder.path });
    expect(status).toBe(2);
    expect(stderr).toContain(says);
    expect(existsSync(path.join(folder.path, 'b.rig'))).toBe(false);
  });
});
