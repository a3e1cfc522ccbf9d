/** The switcher between sheets: tabs as the ARIA Authoring Practices Guide describes them, chosen as the arrow keys reach them. */
import type { JSX } from 'preact';
import { TAB_IDS, TAB_NAMES, type TabId } from '#sheets/components';

/** The element that the tabs change. */
export const PANEL = 'sheet-panel';

export function tabOf(sheet: TabId): string {
  return `tab-${sheet}`;
}

interface TabsProps {
  readonly chosen: TabId;
  choose(sheet: TabId): void;
}

export function Tabs({ chosen, choose }: TabsProps) {
  return (
    <div role="tablist" aria-label="Sheets" class="tabs" onKeyDown={(event) => step(event, chosen, choose)}>
      {TAB_IDS.map((sheet) => (
        <button
          key={sheet}
          type="button"
          role="tab"
          id={tabOf(sheet)}
          class="tab"
          aria-selected={sheet === chosen}
          aria-controls={PANEL}
          tabIndex={sheet === chosen ? 0 : -1}
          onClick={() => choose(sheet)}
        >
          {TAB_NAMES[sheet]}
        </button>
      ))}
    </div>
  );
}

/** Left and right go round in a circle; Home and End go to the ends. */
function step(event: JSX.TargetedKeyboardEvent<HTMLElement>, chosen: TabId, choose: (sheet: TabId) => void): void {
  if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const count = TAB_IDS.length;
  const at = TAB_IDS.indexOf(chosen);
  const to = { ArrowRight: (at + 1) % count, ArrowLeft: (at + count - 1) % count, Home: 0, End: count - 1 }[event.key];
  const sheet = to === undefined ? undefined : TAB_IDS[to];
  if (!sheet) return;
  event.preventDefault();
  choose(sheet);
  event.currentTarget.querySelector<HTMLElement>(`#${tabOf(sheet)}`)?.focus({ preventScroll: true });
}
