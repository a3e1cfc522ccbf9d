/**
 * Other editors, driven without a window through a rig with the settings that examples/editors has for them: real ones from Debian (neovim; emacs-nox with
 * elpa-eglot). Where one is not installed, its test says that it was not run.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { root } from '../build';
import { EARLOOM } from '../cli/earloom';

const RIG = `rig "Copper Wren"
performer ana "Ana"
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by ana
gear iface "Interface" is interface-8-mic
input iface.1  takes voice
input iface.1  takes reed
house none
mix ana mono for ana { voice 0 dB  reed -3 dB }
output iface.phones1 carries ana
`;

interface Seen {
  readonly filetype: string;
  readonly codes: string | readonly string[];
  readonly hover: string;
  readonly actions: readonly string[];
  readonly mended: readonly string[];
  readonly problem?: string;
}

const there = (program: string, words: readonly string[]) => spawnSync(program, words, { stdio: 'ignore' }).status === 0;
const editors = [
  {
    name: 'Neovim',
    isHere: there('nvim', ['--version']),
    words: (settings: string, drive: string) => ['nvim', '--headless', '-u', settings, '-i', 'NONE', '-S', drive],
    settings: 'neovim.lua',
  },
  {
    name: 'Emacs',
    isHere: there('emacs', ['--batch', '--eval', "(progn (package-initialize) (require 'eglot))"]),
    words: (settings: string, drive: string) => ['emacs', '--batch', '--eval', '(package-initialize)', '-l', settings, '-l', drive],
    settings: 'emacs.el',
  },
];

const folder = mkdtempSync(path.join(tmpdir(), 'earloom-editors-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

for (const { name, isHere, words, settings } of editors)
  it.skipIf(!isHere)(
    `${name} tells of a mistake and mends it${isHere ? '' : ' (not run: it is not installed here)'}`,
    { timeout: 90_000 },
    () => {
      const home = path.join(folder, name);
      mkdirSync(path.join(home, 'bin'), { recursive: true });
      writeFileSync(path.join(home, 'club.rig'), RIG);
      // As "npm install -g" would put it there.
      writeFileSync(path.join(home, 'bin/earloom'), `#!/bin/sh\nexec "${process.execPath}" "${EARLOOM}" "$@"\n`, { mode: 0o755 });
      const [program = '', ...rest] = words(
        path.join(root, 'examples/editors', settings),
        path.join(import.meta.dirname, 'other', settings),
      );
      const { stdout, stderr } = spawnSync(program, rest, {
        cwd: home,
        encoding: 'utf8',
        timeout: 80_000,
        env: {
          ...process.env,
          HOME: home,
          XDG_CONFIG_HOME: home,
          XDG_DATA_HOME: home,
          PATH: `${path.join(home, 'bin')}:${process.env.PATH}`,
        },
      });
      let text = '';
      try {
        text = readFileSync(path.join(home, 'seen.json'), 'utf8');
      } catch {
        throw new Error(`${name} ended without a word:\n${stdout}${stderr}`);
      }
      const seen = JSON.parse(text) as Seen;
      expect(seen.problem, `${stdout}${stderr}`).toBeUndefined();
      expect(seen.filetype).toMatch(/^rig/);
      expect(String(seen.codes)).toMatch(/capacity\/input-taken-twice|takes both Voice and Reed/);
      expect(seen.hover).toMatch(/Interface/);
      expect(seen.actions.join('\n')).toMatch(/iface\.2|input 2/i);
      expect(seen.mended.join('\n')).toMatch(/input iface\.[2-8] {2}takes (reed|voice)/);
    },
  );
