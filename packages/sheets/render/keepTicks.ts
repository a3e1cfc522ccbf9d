/**
 * Runs in a page that stands alone: boxes stay ticked in this browser, by the mark of the rig and the sheet, are counted, and are cleared by a
 * button that asks first. Where nothing can be kept (a private window, a browser that forbids it) they can be ticked all the same.
 */
import { clearWords, doneWords, NOT_KEPT } from './components/doneWords';

for (const sheet of document.querySelectorAll<HTMLElement>('article[data-rig]')) tend(sheet);

function tend(sheet: HTMLElement): void {
  const key = `earloom ${sheet.dataset.rig} ${sheet.id}`;
  const boxes = [...sheet.querySelectorAll<HTMLInputElement>('.tickable input')];
  const bar = sheet.querySelector<HTMLElement>('.tick-bar');
  const says = bar?.querySelector('span');
  const button = bar?.querySelector('button');
  if (!bar || !says || !button) return;

  const ticked = () => boxes.filter(({ checked }) => checked);
  const tell = (kept: boolean) => {
    says.textContent = `${doneWords(ticked().length, boxes.length)}${kept ? '' : `. ${NOT_KEPT}`}`;
  };
  const recall = () => {
    const names = read(key);
    if (names) for (const box of boxes) box.checked = names.includes(box.value);
    tell(names !== undefined);
  };
  const keep = () =>
    tell(
      write(
        key,
        ticked().map(({ value }) => value),
      ),
    );

  sheet.addEventListener('change', keep);
  button.addEventListener('click', () => {
    const done = ticked();
    if (done.length === 0 || !confirm(clearWords(done.length))) return;
    for (const box of done) box.checked = false;
    keep();
  });
  recall();
  bar.hidden = false;
  // A browser fills boxes in by itself when it goes back to a page; another window may have the page as well.
  addEventListener('pageshow', recall);
  addEventListener('storage', (event) => {
    if (event.key === key || event.key === null) recall();
  });
}

/** Nothing where nothing can be kept. What somebody else has put there counts as nothing ticked. */
function read(key: string): readonly unknown[] | undefined {
  let text: string | null;
  try {
    text = localStorage.getItem(key);
  } catch {
    return undefined;
  }
  try {
    const names: unknown = JSON.parse(text ?? '[]');
    return Array.isArray(names) ? names : [];
  } catch {
    return [];
  }
}

/** Whether it is kept. */
function write(key: string, names: readonly string[]): boolean {
  try {
    if (names.length > 0) localStorage.setItem(key, JSON.stringify(names));
    else localStorage.removeItem(key);
    return true;
  } catch {
    return false;
  }
}
