/** The packaged extension in the browser edition: no process anywhere, the server in a worker, a folder that is on no disk. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { root } from '../../.ci/setup.mjs';
import { ended, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** Quince Door with an interface from a file of its own, and without the split on the frame drum. */
const RIG = readFileSync(path.join(root, 'examples/first.rig'), 'utf8')
  .replace('  via transformer-split.iso', '')
  .replace('is interface-8-mic', 'is our-interface')
  .replace('performer uxia', 'use "gear/shelf.rig"\nperformer uxia');
const LINES = RIG.split('\n');
const DRUM = 'input iface.5  takes drum';
const lineOf = (start: string) => LINES.findIndex((line) => line.startsWith(start)) + 1;

describe.skipIf(withoutEditor('the extension in the browser edition'))('in the browser edition', { timeout: 60_000 }, () => {
  let workbench: Workbench;
  ended(() => workbench, { named: 'browser, ' });

  beforeAll(async () => {
    workbench = await Workbench.startWeb({
      vsix: packaged(),
      files: {
        'quince.rig': RIG,
        'gear/shelf.rig': 'model our-interface "Our interface" is interface-8-mic\n',
        'empty.rig': '',
      },
    });
  }, 300_000);

  it('underlines the one mistake of a rig that uses a file of its folder', async () => {
    await workbench.openSeen('quince.rig');
    const { page } = workbench;
    await page.locator('.monaco-editor .squiggly-error').first().waitFor();
    await workbench.run('View: Toggle Problems');
    // Notes stand there as well: what is worth knowing, and no mistake.
    const problems = page.locator('.markers-panel .monaco-list-row').filter({ hasText: 'earloom', hasNot: page.locator('.codicon-info') });
    await problems.filter({ hasText: 'Frame drum' }).waitFor();
    expect(await problems.count()).toBe(1);
  });

  it('opens the page of that mistake from its code', async () => {
    const { page } = workbench;
    await page.locator('.markers-panel a').filter({ hasText: 'splits/missing' }).click();
    await workbench.editor('splits-missing.md').getByText('A microphone has one plug').waitFor();
    await workbench.run('View: Revert and Close Editor');
    await workbench.run('View: Toggle Problems');
  });

  it('shows the patch list beside the text', async () => {
    await workbench.openSeen('quince.rig');
    await workbench.page.locator('.editor-actions').getByRole('button', { name: 'Open Sheets to the Side' }).click();
    const sheet = workbench.webview();
    await sheet.getByRole('heading', { name: 'Quince Door, cafe set' }).waitFor();
    await sheet.locator('tr').filter({ hasText: 'Interface 5' }).first().click();
    await soon(() => workbench.cursor()).toMatchObject({ line: lineOf(DRUM) });
    await workbench.page.locator('.monaco-editor.focused').waitFor();
  });

  it('draws the signal flow', async () => {
    const sheet = workbench.webview();
    await sheet.getByRole('tab', { name: 'Signal flow' }).click();
    await sheet.locator('svg text').filter({ hasText: 'Frame' }).first().waitFor();
    await sheet.getByRole('tab', { name: 'Patch list' }).click();
    await sheet.locator('tr').filter({ hasText: 'Interface 5' }).first().waitFor();
  });

  it('completes what is typed, and finds nothing wrong once the mistake is mended', async () => {
    const { page } = workbench;
    await workbench.goTo(lineOf(DRUM), DRUM.length + 1);
    await page.keyboard.type(' via transformer-s');
    await page.keyboard.press('Control+Space');
    const offered = page.locator('.suggest-widget .monaco-list-row').filter({ hasText: 'transformer-split' }).first();
    await offered.waitFor();
    await offered.click();
    await page.keyboard.type('.iso');
    await workbench.webview().getByText('Nothing found wrong').waitFor();
    await soon(() => page.locator('.monaco-editor .squiggly-error').count()).toBe(0);
  });

  it('follows a used file while it is edited, before it is saved', async () => {
    const { page } = workbench;
    const folder = page.locator('.explorer-folders-view .monaco-list-row').filter({ hasText: 'gear' });
    await folder.click();
    await workbench.openSeen('shelf.rig');
    await workbench.goTo(1, 'model our-interface "'.length + 1);
    await page.keyboard.type('Grand ');
    await workbench.webview().getByText('Nothing found wrong').waitFor();
    await workbench.goTo(1, 'model our'.length + 1);
    await page.keyboard.type('s');
    await workbench.webview().getByText('unknown gear').first().waitFor();
    await page.keyboard.press('Control+Z');
    await workbench.webview().getByText('Nothing found wrong').waitFor();
  });

  it('opens the library at the model that a name stands for', async () => {
    await workbench.openSeen('quince.rig');
    const line = LINES.find((each) => each.startsWith('source drum')) ?? '';
    await workbench.goTo(lineOf('source drum'), line.indexOf('clip-on-mic') + 2);
    await workbench.page.keyboard.press('F12');
    await workbench.page.locator('.tab.active').filter({ hasText: 'microphones.rig' }).waitFor();
  });

  it('offers to begin in an empty file, which has nothing wrong, and writes a rig into it', async () => {
    const { page } = workbench;
    await workbench.openSeen('empty.rig');
    await page.locator('.codelens-decoration a').filter({ hasText: 'Write a rig from four questions' }).click();
    await workbench.answer('New rig, 1 of 4', 'Saffron Kite');
    await workbench.answer('New rig, 2 of 4', 'Lev sings, Mo tuba');
    await workbench.answer('New rig, 3 of 4');
    await workbench.answer('New rig, 4 of 4', 'By wire');
    await workbench.webview().getByRole('heading', { name: 'Saffron Kite' }).waitFor();
    await workbench.webview().getByText('Nothing found wrong').waitFor();
    await page.locator('.tab.active').filter({ hasText: 'empty.rig' }).waitFor();
    await page.locator('.codelens-decoration a').filter({ hasText: 'Write a rig' }).waitFor({ state: 'detached' });
  });

  it('goes on after the server was started anew', async () => {
    await workbench.run('Earloom: Restart Language Server');
    await workbench.openSeen('quince.rig');
    await workbench.goTo(lineOf('performer noor'), 'performer noor   "N'.length);
    await workbench.page.keyboard.type('El');
    await workbench.webview().getByText('ElNoor').first().waitFor();
  });

  it('plans what a rig has not written, shows the plan, and writes it', async () => {
    const { page } = workbench;
    await workbench.openSeen('quince.rig');
    await workbench.goTo(lineOf('output iface.phones1'));
    await page.keyboard.press('Control+Shift+K');
    await workbench.run('Earloom: Plan the Rig');
    const picker = page.locator('.quick-input-widget').filter({ hasText: 'Plan of quince.rig' });
    const row = picker.locator('.quick-input-list .monaco-list-row').filter({ hasText: 'output iface.phones1 carries uxia' });
    await row.waitFor();
    await picker.getByRole('button', { name: 'Show the Plan' }).click();
    await workbench.editor('Plan.md').getByText('Quince Door').first().waitFor();
    await picker.locator('input[type=text]').focus();
    await page.keyboard.press('Enter');
    await picker.waitFor({ state: 'hidden' });
    await page.locator('.tab').filter({ hasText: 'as planned' }).waitFor({ state: 'detached' });
    await workbench
      .editor('quince.rig')
      .locator('.view-line')
      .filter({ hasText: /phones1.+carries.uxia/ })
      .waitFor();
  });

  it('opens any page, any shelf, and a mistake to try out', async () => {
    const { page } = workbench;
    const take = async (question: string, words: string) => {
      const input = page.locator(`.quick-input-widget input[placeholder^="${question}"]`);
      await input.fill(words);
      await page.locator('.quick-input-list .monaco-list-row.focused').filter({ hasText: words }).waitFor();
      await page.keyboard.press('Enter');
      await input.waitFor({ state: 'hidden' });
    };
    await workbench.run('Earloom: Explain a Mistake');
    await take('Which mistake', 'levels/clips');
    await page.locator('.tab').filter({ hasText: 'clips.md' }).waitFor();
    await workbench.run('Earloom: Open the Gear Library');
    await take('Which shelf', 'wireless');
    await page.locator('.tab.active').filter({ hasText: 'wireless.rig' }).waitFor();
    await workbench.run('Earloom: Try a Mistake and Its Cure');
    await page.locator('.monaco-editor.focused .squiggly-error').first().waitFor();
  });

  it('was refused nothing by the policy of its page', () => {
    expect(workbench.refused).toEqual([]);
  });
});
