/**
 * Where each model of a file of the library stands, seen without reading it: there every model starts a line and nothing else does but
 * comments and what closes a model.
 */
import type { Head } from '../syntax/heads';
import type { Extent } from '../syntax/parser';

export interface Shelved {
  readonly head: Head;
  readonly extent: Extent;
}

const MODEL = /^model ([\w-]+)(?: "([^"\n]*)")?/gm;

export function shelfOf(text: string): Shelved[] {
  const found = [...text.matchAll(MODEL)];
  let line = 0;
  let counted = 0;
  return found.map((match, index) => {
    for (; counted < match.index; counted++) if (text[counted] === '\n') line++;
    const [, name = '', label] = match;
    const end = found[index + 1]?.index ?? text.length;
    return {
      head: { word: 'model', name, label, line, character: 'model '.length, length: name.length },
      // What stands above the first is read with it.
      extent: index === 0 ? { start: 0, end, line: 0 } : { start: match.index, end, line },
    };
  });
}
