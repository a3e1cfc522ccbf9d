/** The packaged extension in a real workbench, as a person uses it. One workbench for all; each test goes on where the last one stopped. */
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { root } from '../../.ci/setup.mjs';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** Quince Door without the split on the frame drum, which both desks take. */
const RIG = readFileSync(path.join(root, 'examples/first.rig'), 'utf8').replace('  via transformer-split.iso', '');
const LINES = RIG.split('\n');
const DRUM = 'input iface.5  takes drum';
const lineOf = (start: string) => LINES.findIndex((line) => line.startsWith(start)) + 1;

describe.skipIf(withoutEditor('the extension in a real editor'))('in the editor', { timeout: 60_000 }, () => {
  const folder = temporaryFolder('rigs');
  let workbench: Workbench;
  ended(() => workbench);

  beforeAll(async () => {
    cpSync(path.join(root, 'examples/gear'), path.join(folder, 'gear'), { recursive: true });
    writeFileSync(path.join(folder, 'quince.rig'), RIG);
    writeFileSync(path.join(folder, 'shelf.rig'), 'model our-mic "Our microphone" is dynamic-mic\n');
    workbench = await Workbench.start({ vsix: packaged(), folder });
  }, 300_000);

  const status = () => workbench.page.locator('.statusbar-item').filter({ hasText: /\d of \d+ inputs/ });

  it('underlines a mistake and tells of it among the problems', async () => {
    await workbench.open('quince.rig');
    const { page } = workbench;
    await page.locator('.monaco-editor .squiggly-error').first().waitFor();
    await workbench.run('View: Toggle Problems');
    const problem = page.locator('.markers-panel .monaco-list-row').filter({ hasText: 'Frame drum' }).first();
    await problem.waitFor();
    expect(await problem.textContent()).toContain('splits/missing');
    await workbench.run('View: Toggle Problems');
  });

  it('has in the status bar what is to be put right and how many inputs are taken, in words that can be read out', async () => {
    await soon(() => status().allInnerTexts()).toEqual([expect.stringMatching(/\d to put right, 3 of 8 inputs/)]);
    const said = await status().locator('[aria-label]').first().getAttribute('aria-label');
    expect(said).toMatch(/^Rig: \d to put right, 3 of 8 inputs used\. A click opens the problems\.$/);
  });

  it('opens the page of a mistake from its code', async () => {
    const { page } = workbench;
    await workbench.run('View: Toggle Problems');
    await page.locator('.markers-panel a').filter({ hasText: 'splits/missing' }).click();
    const tab = page.locator('.tab').filter({ hasText: 'Preview splits-missing.md' });
    await tab.waitFor();
    // The page is shown by the editor's own preview of Markdown.
    const shown = workbench.webview('vscode.markdown');
    await shown.getByRole('heading', { name: 'splits/missing' }).waitFor();
    await shown.getByText('A microphone has one plug').waitFor();
    await tab.click();
    await workbench.run('View: Revert and Close Editor');
    await tab.waitFor({ state: 'detached' });
    await workbench.run('View: Toggle Problems');
    await workbench.open('quince.rig');
  });

  it('shows the patch list beside the text', async () => {
    await workbench.page.locator('.editor-actions').getByRole('button', { name: 'Open Sheets to the Side' }).click();
    const sheet = workbench.webview();
    await sheet.getByRole('heading', { name: 'Quince Door, cafe set' }).waitFor();
    const row = sheet.locator('tr').filter({ hasText: 'Interface 5' }).first();
    expect(await row.textContent()).toContain('Frame drum');
    expect(await sheet.locator('body').textContent()).not.toContain('Nothing found wrong');
  });

  it('goes to the line of a row that is clicked', async () => {
    await workbench.webview().locator('tr').filter({ hasText: 'Interface 5' }).first().click();
    await soon(() => workbench.cursor()).toMatchObject({ line: lineOf(DRUM) });
    await workbench.page.locator('.monaco-editor.focused').waitFor();
    // Nothing is selected that the next key would wipe out; the line is lit until the cursor moves on.
    expect(await workbench.page.locator('#status\\.editor\\.selection').textContent()).not.toContain('selected');
    await workbench.page.locator('.monaco-editor .cdr[class*="ced-"]').first().waitFor();
  });

  it('keeps off the sheets with the page of a mistake', async () => {
    await workbench.run('Earloom: Explain a Mistake');
    await workbench.page.locator('.quick-input-list .monaco-list-row').first().waitFor();
    await workbench.page.keyboard.press('Enter');
    const tab = workbench.page.locator('.tab').filter({ hasText: 'Preview splits-missing.md' });
    await tab.waitFor();
    await workbench.page.locator('.tab.active').filter({ hasText: 'Patch list: Quince Door' }).waitFor();
    await workbench.run('View: Revert and Close Editor');
    await tab.waitFor({ state: 'detached' });
    await workbench.open('quince.rig');
  });

  it('mends a mistake with a cure that it offers, which can be undone', async () => {
    const { page } = workbench;
    const mistake = page.locator('.monaco-editor .squiggly-error').first();
    await workbench.goTo(lineOf('house 3'), 'house 3        takes d'.length);
    await workbench.cure('Put a Transformer split');
    await workbench.webview().getByText('Nothing found wrong').waitFor();
    await mistake.waitFor({ state: 'detached' });
    await page.keyboard.press('Control+Z');
    await mistake.waitFor();
  });

  it('follows what is typed, and finds nothing wrong once the mistake is mended', async () => {
    await workbench.goTo(lineOf(DRUM), DRUM.length + 1);
    await workbench.page.keyboard.type(' via transformer-split.iso');
    const sheet = workbench.webview();
    await sheet.getByText('Nothing found wrong').waitFor();
    expect(await sheet.locator('tr').filter({ hasText: 'Interface 5' }).first().textContent()).toContain('Transformer split');
    await soon(() => workbench.page.locator('.monaco-editor .squiggly-error').count()).toBe(0);
    await soon(() => status().allInnerTexts()).toEqual([expect.not.stringContaining('put right')]);
  });

  it('lights the row of the line that the cursor is in', async () => {
    await workbench.goTo(lineOf('input iface.2'));
    await soon(() => workbench.webview().locator('.entry.lit').allInnerTexts()).toEqual(
      expect.arrayContaining([expect.stringContaining('Interface 2')]),
    );
    await workbench.goTo(lineOf('input iface.1'));
    await soon(async () => (await workbench.webview().locator('.entry.lit').allInnerTexts()).join('\n')).not.toContain('Interface 2');
  });

  it('keeps the rig in sight while a file that only lends its gear is edited', async () => {
    await workbench.open('shelf.rig');
    // At its start, Enter would make a comment of what follows, and nothing would be lent.
    await workbench.page.keyboard.press('Control+End');
    await workbench.page.keyboard.type('# ours\n');
    await workbench.page.locator('.tab').filter({ hasText: 'Patch list: Quince Door' }).waitFor();
    await workbench.webview().getByRole('heading', { name: 'Quince Door, cafe set' }).waitFor();
    await workbench.open('quince.rig');
  });

  it('opens the library at the model that a name stands for, to be read and not changed', async () => {
    const line = LINES.find((each) => each.startsWith('source drum')) ?? '';
    await workbench.goTo(lineOf('source drum'), line.indexOf('clip-on-mic') + 2);
    await workbench.page.keyboard.press('F12');
    const { page } = workbench;
    await page.locator('.tab.active').filter({ hasText: 'microphones.rig' }).waitFor();
    const library = readFileSync(path.join(root, 'packages/language/library/microphones.rig'), 'utf8').split('\n');
    await soon(async () => library[(await workbench.cursor()).line - 1]).toMatch(/^model clip-on-mic /);
    await page.keyboard.type('x');
    await page.locator('.monaco-editor-overlaymessage').waitFor();
    await workbench.open('quince.rig');
  });

  it('asks from the walkthrough and keeps the keyboard between the questions; its step is ticked once the rig is there', async () => {
    const { page } = workbench;
    const ticked = () => page.locator('[data-done-step-id$="#rig"]').first().getAttribute('aria-checked');
    await workbench.run('Earloom: Show Me Around');
    // It takes the keyboard once it is all there, which nobody is quick enough to be before.
    await page.locator('.getting-started-step.expanded:focus').waitFor();
    await page.getByRole('button', { name: 'Write a rig' }).click();
    const question = page.locator('.quick-input-title');
    for (const [index, words] of ['Salt Lane', 'Odile plays clarinet, Pia sings', '', ''].entries()) {
      await question.filter({ hasText: `New rig, ${index + 1} of 4` }).waitFor();
      expect(await ticked()).toBe('false');
      // Into whatever has the keyboard.
      await page.keyboard.type(words);
      await page.keyboard.press('Enter');
    }
    await page.locator('.tab.active').filter({ hasText: 'salt-lane.rig' }).waitFor();
    await workbench.webview().getByRole('heading', { name: 'Salt Lane' }).waitFor();
    await workbench.run('View: Revert and Close Editor');
    await workbench.run('Earloom: Show Me Around');
    await soon(ticked).toBe('true');
    await workbench.run('View: Revert and Close Editor');
    await workbench.open('quince.rig');
  });

  it('starts a new rig from four questions, whole, and shows its patch list', async () => {
    await workbench.run('Earloom: New Rig');
    await workbench.answer('New rig, 1 of 4');
    await workbench.answer('New rig, 2 of 4');
    await workbench.answer('New rig, 3 of 4');
    await workbench.answer('New rig, 4 of 4');
    const sheet = workbench.webview();
    await sheet.getByRole('heading', { name: 'Copper Wren, first rig' }).waitFor();
    await sheet.getByText('Nothing found wrong').waitFor();
    await workbench.page.locator('.tab.active').filter({ hasText: 'copper-wren-first-rig.rig' }).waitFor();
    await workbench.run('View: Revert and Close Editor');
    await sheet.getByRole('heading', { name: 'Quince Door, cafe set' }).waitFor();
  });

  it('goes on after the server was started anew', async () => {
    await workbench.run('Earloom: Restart Language Server');
    await workbench.goTo(lineOf('performer noor'), 'performer noor   "N'.length);
    await workbench.page.keyboard.type('El');
    await workbench.webview().getByText('ElNoor').first().waitFor();
  });

  it('shows the patch list again after the window is loaded anew', async () => {
    await workbench.run('File: Save All');
    await workbench.reload();
    await workbench.webview().getByRole('heading', { name: 'Quince Door, cafe set' }).waitFor({ timeout: 90_000 });
  }, 120_000);

  it('was refused nothing by the policy of its page', () => {
    expect(workbench.refused).toEqual([]);
  });
});
