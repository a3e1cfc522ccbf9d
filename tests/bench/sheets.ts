/** A sheet that is looked at while somebody types: until it comes from the server, and until the page shows it. */
import { existsSync } from 'node:fs';
import { chromium, type Page } from 'playwright-core';
import type { ToPreview } from '#preview';
import type { Sheets } from '#server/protocol';
import type { SheetId } from '#sheets';
import { updateOf } from '#sheets/update';
import { randomFrom } from '../generate';
import { startSession } from './session';
import { summed, type Times } from './times';

const BROWSER = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(existsSync);

const STROKES = 60;
const WARM_UP = 20;

export interface Looking {
  readonly rows: number;
  /** From the key until its diagnostics, and until its sheet. */
  readonly diagnosed: Times;
  readonly made: Times;
  /** In a page: the longest that a sheet, and a cursor that has moved, keep it from drawing a frame. Nothing without a browser. */
  readonly frames?: Times;
  readonly cursorFrames?: Times;
}

export async function whileTyping(text: string, sheet: SheetId, seed: number): Promise<Looking> {
  const random = randomFrom(seed);
  const session = await startSession(text, { sheet });
  const diagnosed: number[] = [];
  const made: number[] = [];
  const all: Sheets[] = [];
  for (let stroke = 0; stroke < STROKES + WARM_UP; stroke++) {
    const from = performance.now();
    const typed = session.type(random);
    const coming = session.sheets();
    const told = await typed;
    const sheets = await coming;
    if (stroke < WARM_UP) continue;
    diagnosed.push(told);
    made.push(performance.now() - from);
    all.push(sheets);
  }
  await session.stop();
  const rows = all.at(-1)?.sheets?.[0]?.blocks.reduce((sum, block) => sum + (block.kind === 'table' ? block.rows.length : 0), 0) ?? 0;
  return { rows, diagnosed: summed(diagnosed), made: summed(made), ...(BROWSER ? await shown(all, sheet) : {}) };
}

async function shown(all: readonly Sheets[], sheet: SheetId) {
  const browser = await chromium.launch({ executablePath: BROWSER, args: ['--no-sandbox'] });
  try {
    const page = await browser.newPage({ viewport: { width: 760, height: 800 } });
    await page.setContent('<main id="sheets"></main>');
    await page.addStyleTag({ path: 'dist/preview.css' });
    // In the place of the editor, which has kept which sheet was looked at.
    await page.evaluate(
      (state) => Object.assign(globalThis, { acquireVsCodeApi: () => ({ postMessage() {}, getState: () => state, setState() {} }) }),
      { uri: all[0]?.uri, sheet, scroll: {} },
    );
    await page.addScriptTag({ path: 'dist/preview.js' });
    const frames: number[] = [];
    const cursorFrames: number[] = [];
    for (const [index, { uri, title, sheets, lends, titled, spots }] of all.entries()) {
      const [sheet, before] = [sheets?.[0], all[index - 1]?.sheets?.[0]];
      const told = sheet && before ? { update: updateOf(before, sheet) } : { sheet };
      const frame = await longestFrame(page, { type: 'sheet', uri, title, ...told, lends, titled });
      // The first fills the page.
      if (index > 0) frames.push(frame);
      const places = Object.keys(spots);
      const place = places[Math.floor(places.length / 2)] ?? '';
      cursorFrames.push(await longestFrame(page, { type: 'cursor', places: [place] }));
    }
    return { frames: summed(frames), cursorFrames: summed(cursorFrames) };
  } finally {
    await browser.close();
  }
}

/** A sheet is drawn in parts: the last of them comes some frames later. */
const FRAMES = 24;

/** In ms, of the next so many. */
function longestFrame(page: Page, message: ToPreview): Promise<number> {
  return page.evaluate(
    async ([message, frames]) => {
      let longest = 0;
      let last = await new Promise<number>(requestAnimationFrame);
      window.postMessage(message, '*');
      for (let frame = 0; frame < frames; frame++) {
        const now = await new Promise<number>(requestAnimationFrame);
        longest = Math.max(longest, now - last);
        last = now;
      }
      return longest;
    },
    [message, FRAMES] as const,
  );
}
