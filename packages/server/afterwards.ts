/** What the first check does not need is made ready after it, a piece at a time, so that whoever asks next does not wait for it. */
import { DocumentState } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { isLibrary } from '#language';

/** Between two files, so that requests and keys get in. */
const PAUSE_MS = 20;

/** The library is read whole once a rig has been checked. */
export function readLibraryAfterwards({ workspace: { DocumentBuilder, LangiumDocuments } }: LangiumSharedServices): void {
  const listening = DocumentBuilder.onBuildPhase(DocumentState.Validated, (documents) => {
    if (documents.every(({ uri }) => isLibrary(uri))) return;
    listening.dispose();
    const left = LangiumDocuments.all.filter(({ uri }) => isLibrary(uri)).toArray();
    const readNext = () => {
      const document = left.pop();
      if (!document) return;
      void document.parseResult;
      setTimeout(readNext, PAUSE_MS);
    };
    setTimeout(readNext, PAUSE_MS);
  });
}
