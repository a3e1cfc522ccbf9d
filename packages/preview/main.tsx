/** The entry in the webview. It takes sheets and cursor places from the extension's host, and says where to jump and what to show. */
import { render } from 'preact';
import type { Place } from '#rig';
import type { Sheet } from '#sheets';
import { TAB_IDS, type TabId, type Zooms } from '#sheets/components';
import { updated } from '#sheets/update';
import { Alone, App, type Shown } from './App';
import { bringLitIntoView, keepFocus, moveByKeys } from './focus';
import type { FromPreview, Ticked, ToPreview } from './messages';
import { rowsInSight } from './sight';

/** How large each drawing is, by sheet and block. */
type Sizes = Readonly<Record<string, number>>;

/** What outlives a hidden webview: which document, which sheet, how far down each sheet was read, and what was done to it. */
interface Kept {
  readonly uri: string;
  readonly sheet: TabId;
  readonly scroll: Readonly<Partial<Record<TabId, number>>>;
  readonly sizes?: Sizes;
  readonly ticked?: Ticked;
}

declare function acquireVsCodeApi(): {
  postMessage(message: FromPreview): void;
  getState(): Kept | undefined;
  setState(state: Kept): void;
};

const vscode = acquireVsCodeApi();
const root = document.getElementById('sheets') as HTMLElement;
const before = vscode.getState();
let chosen: TabId = TAB_IDS.find((id) => id === before?.sheet) ?? 'patch-list';
let shown: Shown | undefined;
/** The sheets of this document as they were last seen: there at once, until they come as they are now. */
const seen = new Map<TabId, Shown>();
let scroll: Partial<Record<TabId, number>> = {};
let sizes: Sizes = {};
/** By document: each as it was kept, until it is ticked here. */
const ticked = new Map<string, Ticked>(before?.ticked ? [[before.uri, before.ticked]] : []);
/** Whether the page has yet to go to where the chosen sheet was read. */
let unscrolled = true;
let cursor: readonly Place[] = [];
/** A sheet by itself, with the boxes that are ticked on it. */
let alone: { readonly uri: string; readonly sheet: Sheet<string>; readonly ticked: readonly string[] } | undefined;

function draw(): void {
  const near = rowsInSight(root);
  const app = alone ? (
    <Alone
      {...alone}
      cursor={cursor}
      zooms={zooms}
      near={near}
      jump={jump}
      mark={(ticked) => {
        if (alone) alone = { ...alone, ticked };
        draw();
      }}
    />
  ) : (
    <App
      shown={shown}
      chosen={chosen}
      cursor={cursor}
      ticked={ticked.get(shown?.uri ?? '')?.[chosen] ?? []}
      zooms={zooms}
      near={near}
      jump={jump}
      choose={choose}
      write={write}
      mark={mark}
    />
  );
  keepFocus(root, () => render(app, root));
  if (!unscrolled || (shown?.sheet && shown.sheet.id !== chosen)) return;
  unscrolled = !shown;
  window.scrollTo(0, scroll[chosen] ?? 0);
}

function jump(place: Place): void {
  vscode.postMessage({ type: 'jump', place });
}

function choose(sheet: TabId): void {
  if (sheet === chosen) return;
  remember();
  chosen = sheet;
  shown = seen.get(sheet) ?? shown;
  unscrolled = true;
  draw();
  keep();
  vscode.postMessage({ type: 'show', sheet });
}

/** What is planned is shown as a difference, to be taken whole or in part. */
function write(): void {
  vscode.postMessage({ type: 'plan' });
}

const zooms: Zooms = {
  of: (block) => sizes[`${chosen} ${block}`] ?? 1,
  set(block, zoom) {
    sizes = { ...sizes, [`${chosen} ${block}`]: zoom };
    draw();
    keep();
  },
};

function mark(boxes: readonly string[]): void {
  if (!shown) return;
  const { uri } = shown;
  const now = { ...ticked.get(uri), [chosen]: boxes };
  ticked.set(uri, now);
  draw();
  keep();
  vscode.postMessage({ type: 'ticked', uri, ticked: now });
}

function receive(message: ToPreview): void {
  if (message.type === 'sheet') {
    const { type: _, ticked: kept, update, ...told } = message;
    const id = (update ?? told.sheet)?.id;
    const known = id && shown?.uri === told.uri ? seen.get(id)?.sheet : undefined;
    if (update && !known) {
      vscode.postMessage({ type: 'ready', sheet: chosen });
      return;
    }
    const now: Shown = { ...told, sheet: update && known ? updated(known, update) : told.sheet };
    if (kept && !ticked.has(now.uri)) ticked.set(now.uri, kept);
    if (shown?.uri !== now.uri) {
      // Another document starts at its top; the one that was read before goes on where it was.
      seen.clear();
      const again = !shown && before?.uri === now.uri ? before : undefined;
      scroll = { ...again?.scroll };
      sizes = again?.sizes ?? {};
      if (shown) cursor = [];
      unscrolled = true;
    }
    if (now.sheet) seen.set(now.sheet.id, now);
    // What comes for a sheet that has been left meanwhile is only kept.
    if (!now.sheet || now.sheet.id === chosen || shown?.uri !== now.uri) shown = now;
    draw();
    keep();
  } else if (message.type === 'alone') {
    const { uri, sheet } = message;
    alone = { uri, sheet, ticked: alone?.uri === uri ? alone.ticked : [] };
    draw();
  } else if (message.type === 'cursor') {
    cursor = message.places;
    draw();
    bringLitIntoView(root);
  }
}

function remember(): void {
  if (shown?.sheet?.id === chosen && !unscrolled) scroll[chosen] = window.scrollY;
}

function keep(): void {
  remember();
  if (shown) vscode.setState({ uri: shown.uri, sheet: chosen, scroll, sizes, ticked: ticked.get(shown.uri) });
}

let keeping: ReturnType<typeof setTimeout> | undefined;
window.addEventListener(
  'scroll',
  () => {
    clearTimeout(keeping);
    keeping = setTimeout(keep, 150);
  },
  { passive: true },
);
window.addEventListener('message', (event: MessageEvent<ToPreview>) => receive(event.data));
root.addEventListener('keydown', (event) => moveByKeys(root, event));
// Who selects text to copy it does not want to go anywhere.
root.addEventListener(
  'click',
  (event) => {
    if (event.detail > 0 && window.getSelection()?.isCollapsed === false) event.stopPropagation();
  },
  { capture: true },
);
draw();
vscode.postMessage({ type: 'ready', sheet: chosen });
