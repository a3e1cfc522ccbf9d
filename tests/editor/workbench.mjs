/** A workbench in a browser, and what a person does in it. */
import { chromium } from 'playwright-core';
import { chromium as program, serve } from './host.mjs';
import { serveWeb } from './webHost.mjs';

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

export class Workbench {
  /** The page in the browser, for what has no method here. */
  page;
  /** What a page's security policy did not let happen, in the browser's words. */
  refused = [];
  #closing;

  constructor(page, closing) {
    this.page = page;
    this.#closing = closing;
    page.on('console', (message) => {
      if (/Content.Security.Policy/i.test(message.text())) this.refused.push(message.text());
    });
  }

  /**
   * @param {{ vsix: string, folder: string, settings?: object, width?: number, height?: number, scale?: number }} what
   * @returns {Promise<Workbench>}
   */
  static async start(what) {
    return Workbench.#open(await serve(what), what);
  }

  /**
   * The browser edition, with files in memory.
   * @param {{ vsix: string, files: Record<string, string>, settings?: object, width?: number, height?: number, scale?: number }} what
   * @returns {Promise<Workbench>}
   */
  static async startWeb(what) {
    return Workbench.#open(await serveWeb(what), what);
  }

  static async #open(host, { width = 1400, height = 860, scale = 1 }) {
    const browser = await chromium.launch({ executablePath: program(), headless: true, args: FLAGS }).catch(async (problem) => {
      await host.stop();
      throw problem;
    });
    const page = await browser.newPage({ viewport: { width, height }, deviceScaleFactor: scale });
    const workbench = new Workbench(page, async () => {
      await browser.close();
      await host.stop();
    });
    try {
      await page.goto(host.url, { waitUntil: 'commit' });
      await page.locator('.explorer-folders-view .monaco-list-row').first().waitFor({ timeout: 180_000 });
    } catch (problem) {
      await workbench.stop();
      throw problem;
    }
    return workbench;
  }

  async stop() {
    await this.#closing();
  }

  /** Opens a file of the folder by its name. */
  async open(name) {
    await this.#pick('Control+P', name);
    await this.editor(name).waitFor();
  }

  /** Opens a file that is to be seen in the explorer: where nothing can be searched for, the palette finds no files. */
  async openSeen(name) {
    await this.page.locator('.explorer-folders-view .monaco-list-row').filter({ hasText: name }).dblclick();
    await this.editor(name).waitFor();
  }

  /** Runs a command by its title in the palette. */
  async run(title) {
    await this.#pick('F1', `>${title}`);
  }

  /** The whole window, as a person has it loaded: what is open is written down before. */
  async reload() {
    await this.#find('F1', '>Developer: Reload Window');
    const loaded = this.page.waitForEvent('load', { timeout: 90_000 });
    await this.page.keyboard.press('Enter');
    await loaded;
  }

  async #pick(key, text) {
    await this.#find(key, text);
    await this.page.keyboard.press('Enter');
    // A command may ask something in the very same place.
    await this.page.waitForFunction((asked) => {
      const shown = document.querySelector('.quick-input-widget input[type=text]');
      return !shown || shown.getClientRects().length === 0 || shown.value !== asked;
    }, text);
  }

  /** What takes the focus late closes what is asked here: then it is asked again. */
  async #find(key, text) {
    const input = this.page.locator('.quick-input-widget input[type=text]');
    const found = this.page.locator('.quick-input-list .monaco-list-row.focused').filter({ hasText: text.replace(/^>/, '') });
    for (let tries = 1; ; tries++) {
      await this.page.keyboard.press(key);
      try {
        await input.fill(text, { timeout: 10_000 });
        await found.waitFor({ timeout: 10_000 });
        return;
      } catch (problem) {
        if (tries === 3) throw problem;
      }
    }
  }

  /** Answers the question of this title: with what is written there already, or with something else. */
  async answer(title, words) {
    const question = this.page.locator('.quick-input-widget').filter({ has: this.page.locator('.quick-input-title', { hasText: title }) });
    await question.waitFor();
    if (words !== undefined) await question.locator('input[type=text]').fill(words);
    await this.page.keyboard.press('Enter');
    await question.waitFor({ state: 'hidden' });
  }

  /** Takes one of the cures that the light bulb offers where the cursor is, by what its title begins with. */
  async cure(title) {
    await this.page.keyboard.press('Control+.');
    const focused = this.page.locator('.action-widget .monaco-list-row.focused');
    await focused.waitFor();
    for (let tries = 0; !(await focused.textContent())?.startsWith(title); tries++) {
      if (tries > 20) throw new Error(`Nothing that is offered begins with "${title}".`);
      await this.page.keyboard.press('ArrowDown');
    }
    await this.page.keyboard.press('Enter');
  }

  /** The same, but from the light bulb itself, by the mouse. */
  async bulb(title) {
    await this.page.locator('.monaco-editor .lightBulbWidget, .monaco-editor [class*="codicon-gutter-lightbulb"]').first().click();
    const row = this.page.locator('.action-widget .monaco-list-row').filter({ hasText: title }).first();
    await row.waitFor();
    // So that nobody chooses by accident, nothing can be clicked there until the mouse has moved.
    const { x, y } = await row.boundingBox();
    await this.page.mouse.move(x + 20, y + 5);
    await this.page.mouse.move(x + 30, y + 8);
    await row.click();
    await this.page.locator('.action-widget').waitFor({ state: 'hidden' });
  }

  /** What is told where the cursor is. */
  async hover() {
    await this.page.keyboard.press('Control+K');
    await this.page.keyboard.press('Control+I');
    const hover = this.page.locator('.monaco-editor .monaco-resizable-hover .monaco-hover:not(.hidden)');
    // First it is said that it is being fetched.
    await hover
      .locator('.hover-row')
      .filter({ hasNotText: /^Loading/ })
      .first()
      .waitFor();
    // biome-ignore lint/performance/useDomNodeTextContent: the breaks between lines are wanted.
    return (await hover.innerText()).replaceAll('\u00a0', ' ');
  }

  /** What completion has on top, once it is there. Nothing of it is chosen: Tab takes the first. */
  async offered() {
    const row = this.page.locator('.suggest-widget.visible .monaco-list-row').first();
    await row.waitFor();
    // biome-ignore lint/performance/useDomNodeTextContent: what is not shown is not wanted.
    return (await row.innerText()).trim();
  }

  /** The text editor that shows this file. */
  editor(name) {
    return this.page.locator(`.editor-instance[aria-label*="${name}"] .monaco-editor, .monaco-editor[data-uri$="/${name}"]`).first();
  }

  /** Puts the cursor at a line and column, both from 1, of the editor that was in use last. */
  async goTo(line, column = 1) {
    const input = this.page.locator('.quick-input-widget input[type=text]');
    await this.page.keyboard.press('Control+G');
    // A webview that is still being loaded hears no keys: then it is asked again.
    await input.waitFor({ timeout: 10_000 }).catch(() => this.page.keyboard.press('Control+G'));
    await input.waitFor();
    await input.fill(`:${line}:${column}`);
    // On a busy machine the webview may have taken the focus back from the text.
    if (await this.page.locator('.quick-input-list').getByText('Open a text editor first').isVisible()) {
      await this.page.keyboard.press('Escape');
      await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
      await this.page.keyboard.press('Control+1');
      return this.goTo(line, column);
    }
    await this.page.keyboard.press('Enter');
    await this.page.locator('.quick-input-widget').waitFor({ state: 'hidden' });
  }

  /** What is inside the webview of an extension: of ours, or of another, by what its identifier begins with. */
  webview(extension = 'earloom') {
    return this.page.frameLocator(`iframe.webview.ready[src*="extensionId=${extension}"]`).frameLocator('#active-frame');
  }

  /** The same as a frame, to run something in. @returns {Promise<import('playwright-core').Frame>} */
  async webviewFrame() {
    const body = await this.webview().locator('body').elementHandle();
    const frame = await body?.ownerFrame();
    if (!frame) throw new Error('There is no webview.');
    return frame;
  }

  /** The status bar's `Ln 3, Col 7`, as numbers. */
  async cursor() {
    const text = await this.page.locator('#status\\.editor\\.selection').textContent();
    const [, line, column] = /Ln (\d+), Col (\d+)/.exec(text ?? '') ?? [];
    return { line: Number(line), column: Number(column) };
  }
}
