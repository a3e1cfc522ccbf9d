/** Everything with a name in all files, found by a few of its letters; the library's models come last. */
import type { FuzzyMatcher, LangiumSharedServices, WorkspaceSymbolProvider } from 'langium/lsp';
import type { WorkspaceSymbol, WorkspaceSymbolParams } from 'vscode-languageserver';
import { isLibrary } from '../library';
import type { Kind, Named, Symbols, SymbolTable } from '../symbols';
import { iconOf } from './symbols';

/** More than anybody looks through; the next letter that is typed makes them fewer. */
const MOST_FOUND = 400;

interface Found {
  readonly symbols: Symbols;
  readonly named: Named;
  /** The lower, the better. */
  readonly rank: number;
}

export class RigWorkspaceSymbolProvider implements WorkspaceSymbolProvider {
  private readonly matcher: FuzzyMatcher;

  constructor(
    private readonly services: LangiumSharedServices,
    private readonly symbols: () => SymbolTable,
  ) {
    this.matcher = services.lsp.FuzzyMatcher;
  }

  getSymbols({ query }: WorkspaceSymbolParams): WorkspaceSymbol[] {
    const wanted = folded(query);
    const found: Found[] = [];
    for (const document of this.services.workspace.LangiumDocuments.all) {
      const library = isLibrary(document.uri);
      if (library && wanted === '') continue;
      const symbols = this.symbols().of(document);
      for (const named of symbols.declared) {
        const rank = this.rank(wanted, named);
        if (rank !== undefined) found.push({ symbols, named, rank: library ? rank + LIBRARY : rank });
      }
    }
    return found
      .sort((a, b) => a.rank - b.rank)
      .slice(0, MOST_FOUND)
      .flatMap(({ symbols, named }) => {
        const range = symbols.rangeOf(named);
        if (!range) return [];
        const { kind, name, label } = named;
        return [
          {
            name: label === undefined ? name : `${name} "${label}"`,
            kind: iconOf({ $type: kind }),
            containerName: containerOf(symbols, kind),
            location: { uri: symbols.document.uri.toString(), range },
          },
        ];
      });
  }

  /** The whole name, then the start of it, then the start of one of its words, then some of its letters. */
  private rank(wanted: string, { name, label }: Named): number | undefined {
    if (wanted === '') return 0;
    const texts = [name, ...(label === undefined ? [] : [label])].map(folded).filter((text) => hasInOrder(text, wanted));
    if (texts.includes(wanted)) return 0;
    if (texts.some((text) => text.startsWith(wanted))) return 1;
    const tails = texts.flatMap((text) => [...text.matchAll(/[^\s-]+/g)].map((word) => text.slice(word.index)));
    if (tails.some((tail) => tail.startsWith(wanted))) return 2;
    return tails.some((tail) => this.matcher.match(wanted, tail)) ? 3 : undefined;
  }
}

const LIBRARY = 10;

/** Whether a text has these letters one after the other, which is soon seen, and what every way to match them comes to. */
function hasInOrder(text: string, letters: string): boolean {
  let at = 0;
  for (const letter of letters) {
    at = text.indexOf(letter, at) + letter.length;
    if (at < letter.length) return false;
  }
  return true;
}

const PLAIN = /^[ -~]*$/;

/** In small letters and without accents, so that `uxia` finds Uxía. */
function folded(text: string): string {
  const plain = PLAIN.test(text) ? text : text.normalize('NFD').replace(/\p{M}/gu, '');
  return plain.toLowerCase().trim();
}

/** What it is, and of which rig. */
function containerOf({ title }: Symbols, kind: Kind): string {
  const what = kind.toLowerCase();
  return title?.label === undefined ? what : `${what}, ${title.label}`;
}
