/**
 * Makes the picture in the README, examples/picture.png: the packaged extension in a real editor, with one mistake in a rig.
 *
 *   npm run package && node tests/editor/picture.mjs
 */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { root } from '../../.ci/setup.mjs';
import { missing } from './host.mjs';
import { smaller } from './smaller.mjs';
import { Workbench } from './workbench.mjs';

const why = missing();
if (why) {
  console.error(`No picture can be made: ${why}.`);
  process.exit(1);
}

/** The editor with nothing in it but the text and the patch list. */
const TIDY = {
  'workbench.colorTheme': 'Default Light Modern',
  'workbench.activityBar.location': 'hidden',
  'workbench.statusBar.visible': false,
  'workbench.layoutControl.enabled': false,
  'workbench.editor.empty.hint': 'hidden',
  'window.commandCenter': false,
  'breadcrumbs.enabled': false,
  'editor.minimap.enabled': false,
  'editor.fontSize': 13,
  'editor.lineHeight': 21,
  'editor.lineNumbersMinChars': 3,
  'editor.folding': false,
  'editor.glyphMargin': false,
  'editor.occurrencesHighlight': 'off',
  'editor.overviewRulerBorder': false,
  'editor.hideCursorInOverviewRuler': true,
  'editor.scrollbar.vertical': 'hidden',
  'editor.scrollbar.horizontal': 'hidden',
};

const folder = path.join(mkdtempSync(path.join(os.tmpdir(), 'earloom-picture-')), 'heron-and-reed');
mkdirSync(folder);
copyFileSync(path.join(root, 'tests/editor/picture.rig'), path.join(folder, 'heron.rig'));
const lines = readFileSync(path.join(folder, 'heron.rig'), 'utf8').split('\n');
const mistake = lines.findIndex((line) => line.startsWith('house 1 ')) + 1;

const workbench = await Workbench.start({
  vsix: path.join(root, 'dist/earloom.vsix'),
  folder,
  settings: TIDY,
  width: 1440,
  height: 1020,
  scale: 1.5,
});
try {
  const { page } = workbench;
  await workbench.open('heron.rig');
  await workbench.run('View: Toggle Primary Side Bar Visibility');
  await workbench.run('Earloom: Open Sheets to the Side');
  await workbench.webview().getByRole('heading', { name: 'Heron & Reed' }).waitFor();

  // A little more room for the list than for the text.
  const sash = page.locator('.part.editor .monaco-sash.vertical:not(.disabled)').first();
  const { x, y } = await sash.boundingBox();
  await page.mouse.move(x + 2, y + 300);
  await page.mouse.down();
  await page.mouse.move(590, y + 300, { steps: 5 });
  await page.mouse.up();

  await page.locator('.monaco-editor .squiggly-error').first().waitFor();
  await workbench.goTo(mistake, (lines[mistake - 1] ?? '').indexOf('takes voice') + 'takes '.length + 1);
  await page.keyboard.press('Control+.');
  await page.locator('.action-widget').waitFor();
  await page.waitForTimeout(1000);
  const picture = path.join(root, 'examples/picture.png');
  await page.screenshot({ path: picture });
  smaller(picture);
} finally {
  await workbench.stop();
  rmSync(path.dirname(folder), { recursive: true, force: true });
}
