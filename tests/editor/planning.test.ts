/** A plan in a real workbench with the packaged extension: its changes to tick, written by one step that one undo takes back, or not at all. */
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** An invented trio. */
const RIG = `# Invented.
rig "Wet Lantern, chapel"
  budget 60 EUR

performer ilse  "Ilse"  at -1 m, 2 m
performer tove  "Tove"  at  1 m, 2 m

source voice   "Voice"        is dynamic-mic     by ilse
source sansa   "Thumb piano"  is preamp-pickup   by tove
source tuba    "Tuba"         is clip-on-mic     by tove

gear iface  "Interface"  is interface-8-mic  at 0 m, 3 m  owned

house 1  "Voice"  takes voice

mix ilse  mono  for ilse  { voice 0 dB  sansa -4 dB  tuba -6 dB }
mix tove  mono  for tove  { tuba 0 dB  sansa 0 dB  voice -6 dB }
`;
const TUBA = RIG.split('\n').findIndex((line) => line.startsWith('source tuba')) + 1;

describe.skipIf(withoutEditor('plans in a real editor'))('a plan', { timeout: 120_000 }, () => {
  const folder = temporaryFolder('planning');
  const file = path.join(folder, 'chapel.rig');
  let workbench: Workbench;

  beforeAll(async () => {
    writeFileSync(file, RIG);
    workbench = await Workbench.start({ vsix: packaged(), folder });
  }, 240_000);
  ended(() => workbench, { named: 'plan ' });

  const picker = () => workbench.page.locator('.quick-input-widget').filter({ hasText: 'Plan of chapel.rig' });
  const row = (words: string) => picker().locator('.quick-input-list .monaco-list-row').filter({ hasText: words });
  /** The text as it is in the editor, by way of the disk. */
  const saved = async () => {
    await workbench.page.keyboard.press('Control+S');
    return readFileSync(file, 'utf8');
  };
  /** What is ticked is taken: the text has the focus again, and what is saved is not the difference. */
  const take = async () => {
    // On a busy machine the difference that is shown beside it may be opened last, and hear the key instead.
    await picker().locator('input[type=text]').press('Enter');
    await picker().waitFor({ state: 'hidden' });
    await workbench.page.locator('.tabs-container .tab').filter({ hasText: 'as planned' }).waitFor({ state: 'detached' });
    await workbench.page.locator('.monaco-editor.focused').waitFor();
  };
  const plan = async () => {
    // Where the mouse rests on a row, what is told of that row would lie over the others.
    await workbench.page.mouse.move(5, 5);
    await workbench.run('Earloom: Plan the Rig');
    await picker().waitFor({ timeout: 60_000 });
  };

  beforeEach(async () => {
    writeFileSync(file, RIG);
    await workbench.run('View: Close All Editors');
    await workbench.open('chapel.rig');
    await workbench.page
      .locator('.notifications-toasts .codicon-close')
      .first()
      .click({ timeout: 500 })
      .catch(() => undefined);
  }, 60_000);

  it('shows its changes to tick beside each other; what is unticked is left out; one undo takes the rest back', async () => {
    await plan();
    await row('input iface.').first().waitFor();
    const rows = await picker().locator('.quick-input-list .monaco-list-row').allTextContents();
    expect(rows.map((each: string) => each.split(' ')[0])).toEqual(expect.arrayContaining(['gear', 'input', 'output']));
    await row('takes tuba').locator('input[type=checkbox], .monaco-checkbox').first().click();
    await picker().getByText('5 Selected').waitFor();
    await take();
    await soon(saved).toMatch(/owned\ngear voice-\S+ .*\n\ninput iface\.\d +takes voice .*\ninput iface\.\d +takes sansa\n\nhouse/);
    const after = await saved();
    expect(after).toMatch(/^output iface\./m);
    expect(after).not.toContain('takes tuba');
    await workbench.page.keyboard.press('Control+Z');
    await soon(saved).toBe(RIG);
  });

  it('takes gear along with the line that needs it, out and in', async () => {
    await plan();
    const boxes = () =>
      picker().locator('.quick-input-list .monaco-list-row [aria-checked=true], .quick-input-list .monaco-list-row input:checked').count();
    await row('takes voice').locator('input[type=checkbox], .monaco-checkbox').first().click();
    await picker().getByText('4 Selected').waitFor();
    await row('takes voice').locator('input[type=checkbox], .monaco-checkbox').first().click();
    await picker().getByText('6 Selected').waitFor();
    expect(await boxes()).toBe(6);
    await workbench.page.keyboard.press('Escape');
    await picker().waitFor({ state: 'hidden' });
  });

  it('is not written where somebody thinks better of it, and what was said of it goes', async () => {
    await plan();
    const said = workbench.page.locator('.notifications-toasts .notification-toast').filter({ hasText: 'Planned: three lines' });
    await said.waitFor();
    await workbench.page.keyboard.press('Escape');
    await picker().waitFor({ state: 'hidden' });
    await said.waitFor({ state: 'hidden' });
    await plan();
    await said.waitFor();
    await said.locator('.monaco-button').filter({ hasText: 'Cancel' }).click();
    await picker().waitFor({ state: 'hidden' });
    await said.waitFor({ state: 'hidden' });
    expect(readFileSync(file, 'utf8')).toBe(RIG);
    expect(await workbench.page.locator('.tabs-container .tab.dirty').count()).toBe(0);
    await soon(() => workbench.page.locator('.tabs-container .tab').filter({ hasText: 'as planned' }).count()).toBe(0);
  });

  it('has a tab beside the text: of the text as it is, said to be earlier while it is made anew, and to be written from there', async () => {
    const { page } = workbench;
    await workbench.run('Earloom: Open Sheets to the Side');
    const sheet = workbench.webview();
    await sheet.getByRole('tab', { name: 'Plan', exact: true }).click();
    const lines = sheet.locator('.table-lines');
    await lines.filter({ hasText: 'Thumb piano' }).waitFor({ timeout: 60_000 });
    await workbench.goTo(TUBA - 1, 24);
    await page.keyboard.type('!');
    await sheet.getByText('the plan of the text before it was changed').waitFor();
    await lines
      .filter({ hasText: 'Thumb !piano' })
      .or(lines.filter({ hasText: '!' }))
      .first()
      .waitFor({ timeout: 60_000 });
    await sheet.getByText('the plan of the text before it was changed').waitFor({ state: 'detached' });
    await page.keyboard.press('Control+Z');
    await lines.filter({ hasText: 'Thumb piano' }).waitFor({ timeout: 60_000 });
    await sheet.getByRole('button', { name: 'Write into the Rig…' }).click();
    await picker().waitFor({ timeout: 60_000 });
    await page.keyboard.press('Enter');
    await picker().waitFor({ state: 'hidden' });
    await soon(() => readFileSync(file, 'utf8')).toMatch(/takes tuba/);
    await sheet.getByText('Nothing is left to plan').waitFor({ timeout: 60_000 });
  });

  it('is offered by the light bulb for a source without a place, and writes that one alone', async () => {
    await workbench.goTo(TUBA, 10);
    await workbench.cure('Plan a place for Tuba');
    await picker().waitFor({ timeout: 60_000 });
    await take();
    await soon(saved).toMatch(/owned\n\ninput iface\.\d +takes tuba\n\nhouse/);
  });
});
