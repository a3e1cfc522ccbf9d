/** The entry in the webview. It takes sheets and cursor places from the extension's host, and says where to jump. */
import { render } from 'preact';
import type { Place } from '#rig';
import { App, type Shown } from './App';
import { bringLitIntoView, keepFocus, moveByKeys } from './focus';
import type { FromPreview, ToPreview } from './messages';

/** What outlives a hidden webview: which document, and how far down it was read. */
interface Kept {
  readonly uri: string;
  readonly scroll: number;
}

declare function acquireVsCodeApi(): {
  postMessage(message: FromPreview): void;
  getState(): Kept | undefined;
  setState(state: Kept): void;
};

const vscode = acquireVsCodeApi();
const root = document.getElementById('sheets') as HTMLElement;
let shown: Shown | undefined;
let cursor: readonly Place[] = [];

function draw(): void {
  keepFocus(root, () => render(<App shown={shown} cursor={cursor} jump={jump} />, root));
}

function jump(place: Place): void {
  vscode.postMessage({ type: 'jump', place });
}

function receive(message: ToPreview): void {
  if (message.type === 'sheets') {
    const before = shown;
    shown = message;
    if (before && before.uri !== message.uri) cursor = [];
    draw();
    if (before?.uri === message.uri) return;
    // Another document starts at its top; the one that was read before goes on where it was.
    const kept = before ? undefined : vscode.getState();
    window.scrollTo(0, kept?.uri === message.uri ? kept.scroll : 0);
    keep();
  } else if (message.type === 'cursor') {
    cursor = message.places;
    draw();
    bringLitIntoView(root);
  }
}

function keep(): void {
  if (shown) vscode.setState({ uri: shown.uri, scroll: window.scrollY });
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
vscode.postMessage({ type: 'ready' });
