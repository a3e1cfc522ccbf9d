/** From a keystroke to the diagnostics it leads to, through the built server over standard input and output. */
import { randomFrom } from '../generate';
import { type Session, startSession } from './session';
import { summed, type Times } from './times';

/** How many are measured; each is a letter typed, or taken away again. */
const KEYSTROKES = 60;
const WARM_UP = 30;

export interface Typing {
  readonly keystrokes: Times;
  /** Until everything is there that an editor shows without being asked: diagnostics, hints, colours, lenses, outline, folds, links. */
  readonly everything: Times;
  /** From opening the file to its first diagnostics, in a server that has just started. */
  readonly openingMs: number;
  readonly findings: number;
}

export async function keystrokes(text: string, seed: number): Promise<Typing> {
  const session = await startSession(text);
  const { openingMs, diagnostics } = session;
  const random = randomFrom(seed);
  const typing = async (shown: boolean) => {
    const times: number[] = [];
    for (let stroke = 0; stroke < KEYSTROKES + WARM_UP; stroke++) {
      const start = performance.now();
      const diagnosed = session.type(random);
      if (shown) await Promise.all([diagnosed, ...askShown(session)]);
      else await diagnosed;
      times.push(performance.now() - start);
      // Nobody types without a pause.
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    return summed(times.slice(WARM_UP));
  };
  const plain = await typing(false);
  const everything = await typing(true);
  await session.stop();
  return { keystrokes: plain, everything, openingMs, findings: diagnostics.length };
}

/** What an editor asks for after each edit, all at once, of a page of 60 lines. */
export function askShown(session: Session): Promise<unknown>[] {
  const range = { start: { line: 0, character: 0 }, end: session.end.line < 60 ? session.end : { line: 60, character: 0 } };
  return [
    session.ask('textDocument/inlayHint', { range }),
    session.ask('textDocument/semanticTokens/full'),
    session.ask('textDocument/codeLens'),
    session.ask('textDocument/documentSymbol'),
    session.ask('textDocument/foldingRange'),
    session.ask('textDocument/documentLink'),
  ];
}
