/**
 * Which syntax trees are kept. A tree is a hundred times as large as its text, and what is computed from it is of that size again:
 * only what is open, what that uses, and the library have theirs for good. Any other is read when it is looked at, and let go after.
 */
import type { LangiumDocument } from 'langium';
import { isLibrary } from './library';
import type { RigServices } from './module';
import { letTreeGo, parsedText } from './syntax/factory';

/** So many characters are read before what is no longer needed is let go, so that a file that many use is not read for each of them. */
const MOST_READ = 50_000;

export class Trees {
  private readonly held = new Set<LangiumDocument>();
  private readSince = 0;
  /** Told when a tree has been read for somebody who looked at it. */
  onRead: () => void = () => undefined;

  constructor(private readonly services: RigServices) {}

  /** A document has got a tree. */
  read(document: LangiumDocument): void {
    if (isLibrary(document.uri)) return;
    this.held.add(document);
    this.readSince += parsedText(document).length;
    this.onRead();
  }

  isHeld(document: LangiumDocument): boolean {
    return isLibrary(document.uri) || this.held.has(document);
  }

  /** As `settle`, where so much has been read that it is worth while. */
  ease(...needed: readonly LangiumDocument[]): void {
    if (this.readSince > MOST_READ) this.settle(...needed);
  }

  /**
   * Lets all trees go that neither what is open, nor what is named here, is or uses. All at once, because names lead from
   * one tree into others: none may be left that leads into one that has gone.
   */
  settle(...needed: readonly LangiumDocument[]): void {
    this.readSince = 0;
    const { TextDocuments } = this.services.shared.workspace;
    const { Symbols, Analyser } = this.services.rig;
    const open = [...this.held].filter(({ uri }) => TextDocuments?.get(uri.toString()) !== undefined);
    const kept = Symbols.reachable([...needed, ...open]);
    for (const document of this.held) {
      if (kept.has(document)) continue;
      letTreeGo(document);
      Analyser.forget(document);
      Symbols.forget(document);
      this.held.delete(document);
    }
  }
}
