/** Which files declare a name that others may use, so that nobody has to look into each of them. */
import type { Kind, Symbols } from './symbols';

type Card = Symbols['card'];

interface Entry {
  card: Card;
  readonly names: Symbols['shared'];
  clashes?: { readonly version: number; readonly found: Symbols['shared'] };
}

export class Declarers {
  private readonly entries = new Map<Symbols, Entry>();
  private readonly byName = new Map<string, Set<Symbols>>();
  private version = 0;
  /** How many names more than one file declares. */
  private clashing = 0;

  of(kind: Kind, name: string): ReadonlySet<Symbols> | undefined {
    return this.byName.get(keyOf(kind, name));
  }

  /** Notes what a file declares now. */
  enter(symbols: Symbols): void {
    const { card } = symbols;
    const before = this.entries.get(symbols);
    if (before?.card === card) return;
    const names = symbols.shared;
    if (before && areAlike(before.names, names)) {
      before.card = card;
      return;
    }
    this.leave(symbols);
    this.entries.set(symbols, { card, names });
    for (const { kind, name } of names) {
      const known = this.byName.get(keyOf(kind, name));
      if (known) {
        if (known.add(symbols).size === 2) this.clashing++;
      } else this.byName.set(keyOf(kind, name), new Set([symbols]));
    }
    this.version++;
  }

  /** Forgets all others. */
  keep(there: ReadonlySet<Symbols>): void {
    for (const symbols of this.entries.keys()) if (!there.has(symbols)) this.leave(symbols);
  }

  /** Whether any name is declared by more than one file. */
  get haveClashes(): boolean {
    return this.clashing > 0;
  }

  /** What a file declares and others do, too. */
  clashesOf(symbols: Symbols): Symbols['shared'] {
    const entry = this.entries.get(symbols);
    if (!entry) return [];
    if (entry.clashes?.version !== this.version)
      entry.clashes = { version: this.version, found: entry.names.filter(({ kind, name }) => (this.of(kind, name)?.size ?? 0) > 1) };
    return entry.clashes.found;
  }

  private leave(symbols: Symbols): void {
    const entry = this.entries.get(symbols);
    if (!entry) return;
    this.entries.delete(symbols);
    for (const { kind, name } of entry.names) {
      const key = keyOf(kind, name);
      const others = this.byName.get(key);
      if (!others?.delete(symbols)) continue;
      if (others.size === 1) this.clashing--;
      else if (others.size === 0) this.byName.delete(key);
    }
    this.version++;
  }
}

function areAlike(some: Symbols['shared'], others: Symbols['shared']): boolean {
  return (
    some.length === others.length && some.every(({ kind, name }, index) => kind === others[index]?.kind && name === others[index]?.name)
  );
}

function keyOf(kind: Kind, name: string): string {
  return `${kind} ${name}`;
}
