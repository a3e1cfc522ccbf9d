/** The built preview in Chromium, with this program in the place of the editor: it sends the sheets and hears what is clicked. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';
import { type FromPreview, previewHtml, type Ticked, type ToPreview } from '#preview';
import type { Sheet, SheetId } from '#sheets';
import { root } from '../build';
import { chromium as program } from '../editor/host.mjs';

export const why = program() ? undefined : 'there is no Chromium on the path: Debian has it as the package "chromium"';

const AT = 'https://webview.test';

/** What an editor's theme sets, for light, dark and high contrast. */
const THEMES = {
  light: {
    class: 'vscode-light',
    background: '#ffffff',
    foreground: '#3b3b3b',
    muted: '#5f5f5f',
    border: '#d4d4d4',
    link: '#005fb8',
    error: '#c72e0f',
    warning: '#7a5c00',
    info: '#0063d3',
  },
  dark: {
    class: 'vscode-dark',
    background: '#1f1f1f',
    foreground: '#cccccc',
    muted: '#9d9d9d',
    border: '#454545',
    link: '#4daafc',
    error: '#f88070',
    warning: '#cca700',
    info: '#59a4f9',
  },
  'high-contrast': {
    class: 'vscode-high-contrast',
    background: '#000000',
    foreground: '#ffffff',
    muted: '#ffffff',
    border: '#6fc3df',
    link: '#21a6ff',
    error: '#f88070',
    warning: '#ffd370',
    info: '#59a4f9',
  },
} as const;
export type Theme = keyof typeof THEMES;
export const THEME_NAMES = Object.keys(THEMES) as Theme[];

export class Webview {
  /** What the preview has said, the oldest first. */
  readonly said: FromPreview[] = [];
  /** What its policy has refused, and what it has thrown. */
  readonly troubles: string[] = [];
  /** What it was told to keep. */
  ticked: Ticked | undefined;

  private constructor(
    private readonly browser: Browser,
    readonly page: Page,
    private readonly sheets: ReadonlyMap<SheetId, Sheet>,
  ) {}

  static async open(sheets: readonly Sheet[], theme: Theme = 'light', width = 760): Promise<Webview> {
    const browser = await chromium.launch({ executablePath: program(), args: ['--no-sandbox'] });
    const page = await browser.newPage({ viewport: { width, height: 800 } });
    const webview = new Webview(browser, page, new Map(sheets.map((sheet) => [sheet.id, sheet])));
    page.on('pageerror', (problem) => webview.troubles.push(String(problem)));
    page.on('console', (line) => line.type() === 'error' && webview.troubles.push(line.text()));
    await page.route(`${AT}/**`, (route) => {
      const name = new URL(route.request().url()).pathname.slice(1);
      const body = name === '' ? pageOf(theme) : readFileSync(path.join(root, 'dist', name), 'utf8');
      const contentType = name.endsWith('.js') ? 'text/javascript' : name.endsWith('.css') ? 'text/css' : 'text/html';
      return route.fulfill({ body, contentType });
    });
    await page.exposeFunction('hear', (message: FromPreview) => webview.hear(message));
    await page.addInitScript(() => {
      // As an editor keeps it for a panel that is hidden or loaded again.
      const getState = () => JSON.parse(sessionStorage.getItem('state') ?? 'null') ?? undefined;
      const setState = (state: unknown) => sessionStorage.setItem('state', JSON.stringify(state));
      const { hear } = globalThis as unknown as { hear(message: unknown): void };
      Object.assign(globalThis, {
        acquireVsCodeApi: () => ({ postMessage: hear, getState, setState }),
      });
    });
    await page.goto(`${AT}/`);
    await page.locator('article').waitFor();
    return webview;
  }

  async show(sheet: SheetId): Promise<void> {
    await this.page.locator(`#tab-${sheet}`).click();
    await this.page.locator('[role="tabpanel"][aria-busy="false"]').waitFor();
  }

  /** As when the panel was hidden and is shown again; `forget`: as when it was closed and is opened anew. */
  async again({ forget = false } = {}): Promise<void> {
    if (forget) await this.page.evaluate(() => sessionStorage.clear());
    await this.page.reload();
    await this.page.locator('article').waitFor();
  }

  async send(message: ToPreview): Promise<void> {
    await this.page.evaluate((sent) => window.postMessage(sent, '*'), message);
  }

  /** What axe-core finds against WCAG 2.2 A and AA and its own best practices, a line each. */
  async violations(): Promise<string[]> {
    // By the debugger's door: the page's policy lets no other script in.
    await this.page.evaluate(axe.source);
    const { violations } = await this.page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run());
    return violations.flatMap(({ id, help, nodes }) => nodes.map(({ html }) => `${id}: ${help}: ${html.slice(0, 160)}`));
  }

  async close(): Promise<void> {
    await this.browser.close();
  }

  private hear(message: FromPreview): void {
    this.said.push(message);
    if (message.type === 'ticked') this.ticked = message.ticked;
    if (message.type !== 'ready' && message.type !== 'show') return;
    const sheet = message.sheet === 'plan' ? undefined : this.sheets.get(message.sheet);
    if (sheet)
      void this.send({ type: 'sheet', uri: 'file:///a.rig', title: sheet.title, sheet, lends: false, titled: true, ticked: this.ticked });
  }
}

function pageOf(theme: Theme): string {
  const { class: name, background, foreground, muted, border, link, error, warning, info } = THEMES[theme];
  const html = previewHtml({
    scriptUri: `${AT}/preview.js`,
    styleUri: `${AT}/preview.css`,
    cspSource: AT,
    nonce: 'n0nce',
    title: 'Sheets',
  });
  const colours = {
    'editor-background': background,
    'editor-foreground': foreground,
    foreground,
    descriptionForeground: muted,
    'editorWidget-border': border,
    'textLink-foreground': link,
    'editorError-foreground': error,
    'editorWarning-foreground': warning,
    'editorInfo-foreground': info,
    focusBorder: link,
    contrastActiveBorder: '#f38518',
  };
  const style = Object.entries(colours).map(([key, value]) => `--vscode-${key}:${value}`);
  // The editor sets its colours on the root element by script, which the policy does not see.
  return html
    .replace('<body>', `<body class="${name}">`)
    .replace('<html lang="en">', `<html lang="en" style="${style.join(';')}">`)
    .replace('style-src https://webview.test;', `style-src https://webview.test 'unsafe-inline';`);
}
