/** What a key has left lying about is cleared away before the next one: in the middle of a check it would take longer, and somebody waits. */
import { DocumentState } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';

/** Until what was found has been sent and read, and a sheet, which comes next, has been begun: collecting takes all cores for a moment. */
const IDLE_MS = 8;

export function collectWhenIdle({ workspace: { DocumentBuilder } }: LangiumSharedServices, collect: () => void): void {
  let waiting = false;
  DocumentBuilder.onBuildPhase(DocumentState.Validated, () => {
    if (waiting) return;
    waiting = true;
    setTimeout(() => {
      waiting = false;
      collect();
    }, IDLE_MS);
  });
}
