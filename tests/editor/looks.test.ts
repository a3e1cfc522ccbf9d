/** The sheets in a real workbench: their switcher by the keyboard, and what axe-core says of each in the editor's own themes. */
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import axe from 'axe-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { TAB_IDS, TAB_NAMES } from '#sheets/sheet';
import { root } from '../../.ci/setup.mjs';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** The themes that the editor comes with, and what it calls the page in each. */
const THEMES = [
  ['Default Light Modern', 'vscode-light'],
  ['Default Dark Modern', 'vscode-dark'],
  ['Default High Contrast', 'vscode-high-contrast'],
  ['Default High Contrast Light', 'vscode-high-contrast-light'],
] as const;

describe.skipIf(withoutEditor('the sheets in a real editor'))('the sheets in the editor', { timeout: 180_000 }, () => {
  const folder = temporaryFolder('looks');
  let workbench: Workbench;
  ended(() => workbench);

  const theme = async (name: string, body: string) => {
    writeFileSync(path.join(folder, '.vscode/settings.json'), JSON.stringify({ 'workbench.colorTheme': name }));
    await workbench.webview().locator(`body.${body}`).waitFor({ state: 'attached' });
  };

  /** What axe-core finds in the webview against WCAG 2.2 A and AA and its own best practices, a line each. */
  const violations = async (rules?: string[]): Promise<string[]> => {
    const frame = await workbench.webviewFrame();
    // By the debugger's door: the page's policy lets no other script in.
    await frame.evaluate(axe.source);
    const found = await frame.evaluate(
      (only) => (globalThis as unknown as { axe: typeof axe }).axe.run(only ? { runOnly: only } : {}),
      rules,
    );
    expect(found.passes.length).toBeGreaterThanOrEqual(rules?.length ?? 10);
    return found.violations.flatMap(({ id, help, nodes }) =>
      nodes.map(({ html, failureSummary }) => `${id}: ${help}: ${html.slice(0, 160)} ${failureSummary}`),
    );
  };

  beforeAll(async () => {
    mkdirSync(path.join(folder, '.vscode'));
    copyFileSync(path.join(root, 'examples/ten.rig'), path.join(folder, 'ten.rig'));
    writeFileSync(path.join(folder, '.vscode/settings.json'), '{}');
    workbench = await Workbench.start({ vsix: packaged(), folder, width: 1800, height: 1000 });
    await workbench.open('ten.rig');
    await workbench.run('Earloom: Open Sheets to the Side');
    await workbench.webview().getByRole('heading', { name: 'Sedma Postaja, sawmill' }).waitFor();
  }, 300_000);

  it('go from one to the next by the arrow keys, and each is called by its name', async () => {
    const { page } = workbench;
    const sheet = workbench.webview();
    await sheet.getByRole('tab', { name: TAB_NAMES[TAB_IDS[0]], exact: true }).click();
    for (const id of [...TAB_IDS.slice(1), TAB_IDS[0]]) {
      await page.keyboard.press('ArrowRight');
      await page
        .locator('.tab')
        .filter({ hasText: `${TAB_NAMES[id]}: Sedma Postaja` })
        .waitFor();
      await sheet.locator('.sheet-kind').filter({ hasText: TAB_NAMES[id] }).waitFor();
      await sheet.getByRole('tab', { name: TAB_NAMES[id], exact: true, selected: true }).waitFor();
    }
    await page.keyboard.press('End');
    await sheet.getByRole('tab', { name: TAB_NAMES[TAB_IDS.at(-1) ?? TAB_IDS[0]], exact: true, selected: true }).waitFor();
    await page.keyboard.press('Home');
    await sheet.getByRole('tab', { name: TAB_NAMES[TAB_IDS[0]], exact: true, selected: true }).waitFor();
    await page.keyboard.press('Tab');
    await sheet.locator('tr:focus').waitFor();
  });

  it('go to the line from a row, by the keyboard alone', async () => {
    await workbench.webview().locator('tr:focus').waitFor();
    await workbench.page.keyboard.press('ArrowDown');
    await workbench.page.keyboard.press('Enter');
    await workbench.page.locator('.monaco-editor.focused').waitFor();
    await soon(async () => (await workbench.webview().locator('.entry.lit').allInnerTexts()).join('\n')).toContain('Interface 2');
  });

  it.each(THEMES)('have nothing that shuts anybody out, in %s', async (name, body) => {
    await theme(name, body);
    const sheet = workbench.webview();
    for (const id of TAB_IDS) {
      await sheet.getByRole('tab', { name: TAB_NAMES[id], exact: true }).click();
      await sheet.locator('.sheet-kind').filter({ hasText: TAB_NAMES[id] }).waitFor();
      // What is what is the same in every theme; what can be read is not.
      const rules = name === THEMES[0][0] ? undefined : ['color-contrast'];
      expect(await violations(rules), `${name}, ${TAB_NAMES[id]}`).toEqual([]);
    }
  });

  it('were refused nothing by the policy of their page', () => {
    expect(workbench.refused).toEqual([]);
  });
});
