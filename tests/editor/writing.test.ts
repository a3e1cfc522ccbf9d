/** Writing a rig in a real workbench, with the packaged extension: what the editor says, offers and does while somebody types. */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** An invented duo whose players and sources stand in a file of their own. */
const RIG = `# Tin Orchard, an invented duo in an invented barn.
rig "Tin Orchard, barn"  mains shared
use "players.rig"
gear iface  "Interface"  is interface-8-mic  at 0 m, 3 m  owned

input iface.1  takes zither
input iface.2  takes serpent  via passive-di

mix ilo   mono  for ilo   { zither 0 dB  serpent -4 dB }
mix ruta  mono  for ruta  { serpent 0 dB  zither -6 dB }
output iface.phones1  carries ilo
output iface.phones2  carries ruta
`;

const PLAYERS = `# Who plays what, for all our rigs.
performer ilo   "Ilo"   at -1 m, 2 m
performer ruta  "Ruta"  at  1 m, 2 m
source zither   "Zither"   is clip-on-mic    by ilo
source serpent  "Serpent"  is preamp-pickup  by ruta
source drone    "Drone"    is dynamic-mic    by ruta  could
`;

const MESSY = `# As it was typed on the train.
rig   "Lamp Street"
performer odo "Odo"
performer philippa   "Philippa" # sings, too

source fife "Fife" is clip-on-mic by odo
source  harmonium "Harmonium"   is clip-on-mic by philippa   # behind the bellows
`;

const TIDY = `# As it was typed on the train.
rig "Lamp Street"
performer odo       "Odo"
performer philippa  "Philippa"  # sings, too

source fife       "Fife"       is clip-on-mic  by odo
source harmonium  "Harmonium"  is clip-on-mic  by philippa  # behind the bellows
`;

const LINES = RIG.split('\n');
const lineOf = (start: string) => LINES.findIndex((line) => line.startsWith(start)) + 1;
/** The place before a word in the line that starts so. */
const before = (start: string, word: string): [line: number, column: number] => {
  const line = lineOf(start);
  return [line, (LINES[line - 1] ?? '').indexOf(word) + 1];
};

describe.skipIf(withoutEditor('writing in a real editor'))('while a rig is written', { timeout: 60_000 }, () => {
  const folder = temporaryFolder('writing');
  let workbench: Workbench;
  ended(() => workbench, {
    async mend() {
      await workbench.page.keyboard.press('Escape');
      begin();
    },
  });

  const file = (name: string) => path.join(folder, name);
  const saved = (name = 'orchard.rig') => readFileSync(file(name), 'utf8');
  /** What the editor that is in use has in it, by saving it. */
  const text = async (name = 'orchard.rig') => {
    if (await workbench.page.locator('.tab.active.dirty').count()) await workbench.page.keyboard.press('Control+S');
    return saved(name);
  };
  /** Settings of the folder: the editor takes them up by itself. */
  const settings = (wanted: object) => writeFileSync(file('.vscode/settings.json'), JSON.stringify(wanted));
  const begin = () => {
    settings({});
    writeFileSync(file('orchard.rig'), RIG);
    writeFileSync(file('players.rig'), PLAYERS);
    writeFileSync(file('messy.rig'), MESSY);
  };
  /** Undoes once, in the text. */
  const undo = async () => {
    // While a save is under way, undoing to what was saved before counts as saved, and would never get to the file.
    await workbench.page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
    // A menu that has just closed can have had the focus.
    await workbench.page.keyboard.press('Control+1');
    await workbench.page.locator('.editor-group-container.active .monaco-editor.focused').waitFor();
    await workbench.page.keyboard.press('Control+Z');
  };
  /** Undoes until the file is as it was. */
  const back = async (wanted: string) => {
    for (let tries = 0; saved() !== wanted; tries++) {
      if (tries > 10) throw new Error(`Undoing does not lead back:\n${saved()}`);
      const now = saved();
      await undo();
      await soon(() => text()).not.toBe(now);
    }
    await workbench.page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
  };

  beforeAll(async () => {
    mkdirSync(file('.vscode'));
    begin();
    workbench = await Workbench.start({
      vsix: packaged(),
      folder,
      settings: { 'files.simpleDialog.enable': true },
    });
    await workbench.open('orchard.rig');
    // The lens above the rig: the server is there, and has read it.
    await workbench.page.locator('.codelens-decoration').filter({ hasText: 'Open the sheets' }).waitFor();
  }, 300_000);

  it('underlines nothing in a rig with nothing wrong', async () => {
    expect(await workbench.page.locator('.monaco-editor .squiggly-error, .monaco-editor .squiggly-warning').count()).toBe(0);
  });

  it('underlines a mistake while it is typed, tells it there, and mends it by the light bulb', async () => {
    const { page } = workbench;
    const [line, column] = before('input iface.1', '1');
    await workbench.goTo(line, column);
    // Typed over, so that no other mistake comes in between.
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.type('2');
    await page.locator('.monaco-editor .squiggly-error').first().waitFor();
    await page.keyboard.press('Escape');
    const hover = await workbench.hover();
    expect(hover).toContain('iface.2 takes both');
    expect(hover).toContain('capacity/input-taken-twice');
    await page.keyboard.press('Escape');
    await workbench.bulb('Move');
    await page.locator('.monaco-editor .squiggly-error').first().waitFor({ state: 'detached' });
    await soon(() => text()).toMatch(/^input iface\.[134] +takes zither$/m);
    await back(RIG);
  });

  it('tells at a source its whole way, with level and gain', async () => {
    await workbench.goTo(...before('input iface.1', 'zither'));
    const hover = await workbench.hover();
    expect(hover).toContain('Clip-on microphone');
    expect(hover).toMatch(/Interface 1/);
    expect(hover).toMatch(/-\d+\.\d dBu/);
    expect(hover).toMatch(/Set \d+ dB of gain .* leaves 6 dB above the loudest peak/);
    expect(hover).toMatch(/XLR female to XLR male, \d+ m/);
    await workbench.page.keyboard.press('Escape');
  });

  it('tells at the word rig what the whole comes to', async () => {
    await workbench.goTo(...before('rig "', 'rig'));
    const hover = await workbench.hover();
    expect(hover).toContain('2 people, 3 sources, 2 mixes');
    expect(hover).toContain('Inputs used: 2 of 8 of Interface.');
    expect(hover).toContain('Nothing found wrong');
    await workbench.page.keyboard.press('Escape');
  });

  it('offers the first free port and the source that is plugged in nowhere, and writes them', async () => {
    const { page } = workbench;
    const [line] = before('input iface.2', 'passive-di');
    await workbench.goTo(line, (LINES[line - 1] ?? '').length + 1);
    await page.keyboard.press('Enter');
    await page.keyboard.type('input iface.');
    expect(await workbench.offered()).toMatch(/^3/);
    await page.keyboard.press('Tab');
    await page.keyboard.type(' takes ');
    expect(await workbench.offered()).toMatch(/^drone/);
    await page.keyboard.press('Tab');
    await soon(() => text()).toMatch(/^input iface\.3 +takes drone$/m);
    await back(RIG);
  });

  it('renames a source here and in the file that it comes from', async () => {
    const { page } = workbench;
    await workbench.goTo(...before('input iface.1', 'zither'));
    await page.keyboard.press('F2');
    const box = page.locator('.rename-box input');
    await box.waitFor();
    await box.fill('cither');
    await page.keyboard.press('Enter');
    await soon(() => saved('players.rig')).toBe(PLAYERS.replace('source zither ', 'source cither '));
    await soon(() => text()).toBe(RIG.replaceAll('zither', 'cither'));
    expect(await page.locator('.monaco-editor .squiggly-error').count()).toBe(0);
    await box.waitFor({ state: 'hidden' });
    await page.keyboard.press('F2');
    await box.waitFor();
    await box.fill('zither');
    await page.keyboard.press('Enter');
    await soon(async () => [await text(), saved('players.rig')]).toEqual([RIG, PLAYERS]);
  });

  it('gives a nameless piece a name and a line of its own', async () => {
    await workbench.goTo(...before('input iface.2', 'passive-di'));
    await workbench.cure('Give the Passive DI a name');
    await soon(() => text()).toMatch(/^gear serpent-di +"[^"]+" +is passive-di/m);
    expect(saved()).toMatch(/^input iface\.2 +takes serpent +via serpent-di$/m);
    await workbench.page.locator('.monaco-editor .squiggly-error').first().waitFor({ state: 'detached' });
    await back(RIG);
  });

  it('shows behind an input its headroom and its lead, and leaves away what a setting says', async () => {
    const shown = workbench.page.locator('.monaco-editor .view-line').filter({ hasText: /^input\siface\.1/ });
    const hints = async () => (await shown.first().textContent()) ?? '';
    await soon(hints).toMatch(/headroom.6.dB/);
    expect(await hints()).toContain('XLR');
    settings({ 'earloom.hints.headroom': false });
    await soon(hints).not.toContain('headroom');
    await soon(hints).toContain('XLR');
    settings({ 'editor.inlayHints.enabled': 'off' });
    await soon(async () => (await hints()).replaceAll('\u00a0', ' ')).toBe(LINES[lineOf('input iface.1') - 1]);
    settings({});
    await soon(hints).toContain('headroom');
  });

  it('knows names by what they stand for', async () => {
    const { page } = workbench;
    const kinds: [start: string, word: string, kind: string][] = [
      ['input iface.1', 'zither', 'function'],
      ['input iface.1', 'iface', 'variable'],
      ['mix ilo', 'for ilo', 'interface'],
    ];
    const widget = page.locator('.token-inspect-widget');
    for (const [start, word, kind] of kinds) {
      const [line, column] = before(start, word);
      await workbench.goTo(line, column + word.lastIndexOf(' ') + 1);
      await workbench.run('Developer: Inspect Editor Tokens and Scopes');
      await widget.filter({ hasText: 'semantic token type' }).waitFor();
      expect(await widget.locator('tr').filter({ hasText: 'semantic token type' }).textContent()).toContain(kind);
      await page.keyboard.press('Escape');
      await widget.waitFor({ state: 'detached' });
    }
  });

  it('shows the outline of the rig', async () => {
    await workbench.run('Explorer: Focus on Outline View');
    const rows = workbench.page.locator('.outline-tree .monaco-list-row');
    await rows.filter({ hasText: 'Tin Orchard, barn' }).waitFor();
    await rows.filter({ hasText: 'Inputs' }).waitFor();
    await rows.filter({ hasText: 'iface is interface-8-mic' }).waitFor();
  });

  it('shows the way of a signal as a call hierarchy, from the source to the ear', async () => {
    const { page } = workbench;
    const title = page.locator('.part.sidebar .composite.title');
    const row = (text: string) => page.locator('.part.sidebar .monaco-list-row').filter({ hasText: text }).first();
    const follow = async (wait: { timeout: number }) => {
      await workbench.open('orchard.rig');
      await workbench.goTo(...before('input iface.1', 'zither'));
      await workbench.run('Calls: Show Call Hierarchy');
      await title.filter({ hasText: /callers of|calls from/i }).waitFor(wait);
      await row('Zither').waitFor(wait);
      // Not by a place on the screen: the buttons beside it come and go.
      const onward = title.getByRole('button', { name: 'Show Outgoing Calls' });
      if (await onward.count()) await onward.dispatchEvent('click');
      for (const next of ['Interface in 1', 'Mix ilo']) await row(next).locator('.monaco-tl-twistie').click(wait);
      await row('phones1').waitFor(wait);
    };
    // The editor's view can drop what it is asked anew before it has shown the first answer, as a busy machine lets it: then it is asked again.
    await follow({ timeout: 8_000 })
      .catch(() => follow({ timeout: 8_000 }))
      .catch(() => follow({ timeout: 8_000 }));
    await workbench.run('View: Show Explorer');
  });

  it('sets a file in columns, and one undo gives back what was typed', async () => {
    await workbench.open('messy.rig');
    await workbench.page.keyboard.press('Control+Shift+I');
    await soon(() => text('messy.rig')).toBe(TIDY);
    await undo();
    await soon(() => text('messy.rig')).toBe(MESSY);
  });

  it('opens the sheets from the line above the rig', async () => {
    await workbench.open('orchard.rig');
    await workbench.goTo(1);
    await workbench.page.locator('.codelens-decoration a').filter({ hasText: 'Open the sheets' }).click();
    await workbench.webview().getByRole('heading', { name: 'Tin Orchard, barn' }).waitFor();
  });

  it('writes the patch list as a page, by the palette', async () => {
    const { page } = workbench;
    const input = page.locator('.quick-input-widget input[type=text]');
    const focused = page.locator('.quick-input-list .monaco-list-row.focused');
    await workbench.run('Earloom: Export Sheet…');
    await page.locator('.quick-input-title').filter({ hasText: 'Export a sheet, 1 of 2' }).waitFor();
    await focused.filter({ hasText: 'Patch list' }).waitFor();
    await page.keyboard.press('Enter');
    await page.locator('.quick-input-title').filter({ hasText: 'Export a sheet, 2 of 2' }).waitFor();
    await input.fill('HTML');
    await focused.filter({ hasText: 'HTML' }).waitFor();
    await page.keyboard.press('Enter');
    await soon(() => input.inputValue()).toMatch(/orchard-patch-list\.html$/);
    await page.keyboard.press('Enter');
    await page.locator('.notification-list-item').filter({ hasText: 'orchard-patch-list.html is written.' }).waitFor();
    const written = saved('orchard-patch-list.html');
    expect(written).toMatch(/^<!doctype html>/i);
    expect(written).toContain('Tin Orchard, barn');
    expect(written).toContain('Serpent');
    expect(saved()).toBe(RIG);
  });

  it('makes labels of our leads with the name of the band on each, asked one question after the other', async () => {
    const { page } = workbench;
    const input = page.locator('.quick-input-widget input[type=text]');
    const focused = page.locator('.quick-input-list .monaco-list-row.focused');
    const asks = async (step: number, what: string) => {
      await page
        .locator('.quick-input-title')
        .filter({ hasText: `Export lead labels, ${step} of 6` })
        .waitFor();
      await focused.filter({ hasText: what }).waitFor();
    };
    await workbench.run('Earloom: Export Lead Labels…');
    await asks(1, 'A4, 24 labels');
    await page.keyboard.press('Enter');
    await asks(2, 'Flag');
    await page.keyboard.press('Enter');
    await asks(3, 'Ours');
    await page.keyboard.press('Enter');
    await page.locator('.quick-input-title').filter({ hasText: 'Export lead labels, 4 of 6' }).waitFor();
    await input.fill('Tin & Orchard');
    await page.keyboard.press('Enter');
    await asks(5, 'PDF');
    await input.fill('HTML');
    await focused.filter({ hasText: 'HTML' }).waitFor();
    await page.keyboard.press('Enter');
    await page.locator('.quick-input-title').filter({ hasText: 'Export lead labels, 6 of 6' }).waitFor();
    await page.keyboard.press('Enter');
    await soon(() => input.inputValue()).toMatch(/orchard-labels\.html$/);
    await page.keyboard.press('Enter');
    await page.locator('.notification-list-item').filter({ hasText: 'orchard-labels.html is written.' }).waitFor();
    const written = saved('orchard-labels.html');
    const marks = written.match(/>\d+ [AB]\d*</g) ?? [];
    expect(marks.length).toBeGreaterThan(4);
    expect(written.match(/>Tin &amp; Orchard</g)).toHaveLength(marks.length);
  });

  it('was refused nothing by the policy of its page', () => {
    expect(workbench.refused).toEqual([]);
  });
});
