/**
 * Makes the pictures of sheets in the README, examples/sheet-*.png: pages as the command line writes them, in a browser.
 *
 *   npm run build && node tests/editor/sheetPictures.mjs
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import { root } from '../../.ci/setup.mjs';
import { chromium as program } from './host.mjs';
import { smaller } from './smaller.mjs';

/** The sheet, the rig, how wide the page is in CSS pixels, and what of it is shown last. */
const PICTURES = [
  ['house', 'examples/ten.rig', 900, '.table-lines .entry:nth-of-type(10)'],
  ['stage', 'examples/ten.rig', 780, '.frame'],
  ['signal-flow', 'examples/street.rig', 1060, '.frame'],
];

const executablePath = program();
if (!executablePath) {
  console.error('No picture can be made: there is no Chromium on the path.');
  process.exit(1);
}
const folder = mkdtempSync(path.join(os.tmpdir(), 'earloom-sheets-'));
const browser = await chromium.launch({ executablePath, args: ['--no-sandbox'] });
try {
  for (const [sheet, rig, width, last] of PICTURES) {
    const file = path.join(folder, `${sheet}.html`);
    execFileSync(process.execPath, [path.join(root, 'dist/cli.cjs'), 'sheets', path.join(root, rig), '--sheet', sheet, '-o', file]);
    const page = await browser.newPage({ viewport: { width, height: 900 }, deviceScaleFactor: 1.5 });
    await page.goto(pathToFileURL(file).href);
    const { y, height } = await page.locator(last).first().boundingBox();
    const picture = path.join(root, `examples/sheet-${sheet}.png`);
    await page.screenshot({ path: picture, fullPage: true, clip: { x: 0, y: 0, width, height: y + height + 12 } });
    smaller(picture);
    await page.close();
  }
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
