/** What is typed with real keys is what stands in the file, however fast: no proposal, no closing quote and no indent gets in between. */
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, it } from 'vitest';
import { root } from '../../.ci/setup.mjs';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { soon } from './soon';
import { Workbench } from './workbench.mjs';

/** A line of each kind, with names that begin longer ones, and blocks over several lines. Typed without the white space before them. */
const SHORT = `# Two Plovers, an invented duo.
rig "Two Plovers" mains shared
use "shelf.rig"
model our-mic "Our mic" is dynamic-mic {
  typical 100 dB SPL
  owned
}
performer ana "Ana" at 0 m, 1.5 m
source drum-2 "Side drum" is our-mic by ana
source drum "Drum" is our-mic by ana
gear iface "Interface" is interface-8-mic
input iface.1 takes drum
house 1 "Drum" takes drum # ours
mix ana mono for ana {
  drum 0 dB
}
output iface.1 carries ana via headphone-amp
`;

/** Milliseconds from one key to the next; how much is typed at that speed. \`EARLOOM_TYPED\` types a whole example instead. */
const SPEEDS: readonly [delay: number, lines: number][] = process.env.EARLOOM_TYPED
  ? [0, 20, 50, 80, 150, 300, 800].map((delay) => [delay, Number(process.env.EARLOOM_TYPED)])
  : [
      [0, 99],
      [25, 99],
      [60, 12],
      [250, 3],
    ];
const TEXT = process.env.EARLOOM_TYPED ? readFileSync(path.join(root, 'examples/first.rig'), 'utf8') : SHORT;

/**
 * The editor sets lines in by itself where they stand in braces, and not where keys come faster than it colours what they have typed. A brace
 * that it has not set back is set back with a line end behind it, at the latest when nobody types for a moment.
 */
const isSetIn = (delay: number) => delay > 0 && TEXT === SHORT;

function bare(text: string): string {
  return text.replace(/^ +/gm, '');
}

describe.skipIf(withoutEditor('typing in a real editor'))('typed with real keys', { timeout: 600_000 }, () => {
  const folder = temporaryFolder('typing');
  let workbench: Workbench;
  ended(() => workbench);

  beforeAll(async () => {
    writeFileSync(path.join(folder, 'shelf.rig'), 'model our-di is passive-di\n');
    for (const [delay] of SPEEDS) writeFileSync(path.join(folder, `typed-${delay}.rig`), '');
    workbench = await Workbench.start({ vsix: packaged(), folder });
    await workbench.open('shelf.rig');
    // Coloured by the server: it is there.
    await workbench.page.locator('.monaco-editor .view-line').first().waitFor();
  }, 300_000);

  it.each(SPEEDS)('a text is what was typed, at %i ms a key', async (delay, lines) => {
    const name = `typed-${delay}.rig`;
    const wanted = TEXT.split('\n').slice(0, lines).join('\n');
    await workbench.open(name);
    await workbench.page.locator('.monaco-editor.focused').waitFor();
    await workbench.page.keyboard.type(bare(wanted), { delay });
    const saved = async () => {
      await workbench.page.keyboard.press('Control+S');
      await workbench.page.locator('.tab.active.dirty').waitFor({ state: 'detached' });
      return readFileSync(path.join(folder, name), 'utf8');
    };
    await soon(async () => (isSetIn(delay) ? await saved() : bare(await saved()))).toBe(isSetIn(delay) ? wanted : bare(wanted));
  });

  it('a proposal is taken by Tab, or by Enter once it is chosen with an arrow key', async () => {
    const { page } = workbench;
    const name = `typed-${SPEEDS[0]?.[0]}.rig`;
    await workbench.open(name);
    await page.keyboard.press('Control+A');
    await page.keyboard.type('source drum is dynamic-m', { delay: 50 });
    await workbench.offered();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.keyboard.type('source drone is dynamic-m', { delay: 50 });
    await workbench.offered();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    // What is taken comes with what the server says of it: saved before, it would not be in the file.
    await page
      .locator('.view-line')
      .filter({ hasText: /drone.is.dynamic-mic$/ })
      .waitFor();
    await page.keyboard.press('Control+S');
    await soon(() => readFileSync(path.join(folder, name), 'utf8')).toBe('source drum is dynamic-mic\nsource drone is dynamic-mic');
  });
});
