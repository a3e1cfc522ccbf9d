/** Which thing of one rig is which of another: by name, else by what it is and where it is plugged; a line by its signal, else by its socket. */
import { byText, type Entry, type Fields, type Kind, type Plain, stable, withNames } from './plain';

/** Names of the old rig by those of the new: `gear:iface` → `gear:desk`. What is not in it is called the same. */
export type Renaming = ReadonlyMap<string, string>;

/** By key in the old rig and in the new. */
export type Pair = readonly [before: string, after: string];

const DECLARED = ['model', 'performer', 'source', 'gear', 'mix'] as const;

export function renamingOf(before: Plain, after: Plain): Renaming {
  const renaming = new Map<string, string>();
  // What is called anew can make others known: a source by the gear that it is plugged into, and that by its sources.
  for (let known = -1; known < renaming.size; ) {
    known = renaming.size;
    const taken = new Set(renaming.values());
    for (const kind of DECLARED) {
      const left = (plain: Plain, other: Plain, done: { has(key: string): boolean }) =>
        [...plain].filter(([key, entry]) => entry.kind === kind && !other.has(key) && !done.has(key)).map(([key]) => key);
      const olds = left(before, after, renaming);
      const news = left(after, before, taken);
      if (olds.length === 0 || news.length === 0) continue;
      const here = new Signs(before, renaming);
      const there = new Signs(after, new Map());
      for (const sign of SIGNS[kind]) {
        const rest = (keys: readonly string[], done: { has(key: string): boolean }) => keys.filter((key) => !done.has(key));
        const pairs = alike(
          rest(olds, renaming),
          rest(news, taken),
          (key) => sign(here, key),
          (key) => sign(there, key),
        );
        for (const [old, anew] of pairs) {
          renaming.set(old, anew);
          taken.add(anew);
        }
      }
    }
  }
  return renaming;
}

/** Two of the same sign are the same; of several, the first of each side, and so on. */
function alike(
  olds: readonly string[],
  news: readonly string[],
  signOld: (key: string) => string | undefined,
  signNew: (key: string) => string | undefined,
): Pair[] {
  const waiting = new Map<string, string[]>();
  for (const key of [...news].sort(byText)) {
    const sign = signNew(key);
    if (sign === undefined) continue;
    const group = waiting.get(sign);
    if (group) group.push(key);
    else waiting.set(sign, [key]);
  }
  return [...olds].sort(byText).flatMap((key): Pair[] => {
    const sign = signOld(key);
    const found = sign === undefined ? undefined : waiting.get(sign)?.shift();
    return found === undefined ? [] : [[key, found]];
  });
}

/** What is set or printed on a line or in a mix: it says nothing of where something is plugged. */
const FIGURES: ReadonlySet<string> = new Set(['gainDb', 'pad', 'phantom', 'label', 'levelDb', 'panPercent']);
const DECLARING: ReadonlySet<Kind> = new Set(DECLARED);

/** What things of one rig look like, in the names of the new. */
class Signs {
  private readonly entries: ReadonlyMap<string, Entry>;
  private readonly plugs = new Map<string, string[]>();

  constructor(plain: Plain, renaming: Renaming) {
    const name = (id: string) => renaming.get(id) ?? id;
    this.entries = new Map([...plain].map(([key, entry]) => [key, withNames(entry, name)]));
    for (const entry of plain.values()) this.plug(entry, name);
  }

  /** Where each thing that a line or a send names stands in it; the thing itself is left out, for its name is what is looked for. */
  private plug(entry: Entry, name: (id: string) => string): void {
    const { kind } = entry;
    if (kind === 'performer' || kind === 'model' || kind === 'rig') return;
    const ids = new Set<string>();
    withNames(entry, (id) => {
      ids.add(id);
      return id;
    });
    for (const id of ids) {
      const { fields } = withNames(entry, (other) => (other === id ? 'this' : name(other)));
      const where = Object.entries(fields).filter(([field]) => !FIGURES.has(field) && (field !== 'name' || !DECLARING.has(kind)));
      push(this.plugs, id, `${kind} ${stable(Object.fromEntries(where))}`);
    }
  }

  /** All that is said of it but its name. */
  whole(key: string): string {
    const { name: _, label, ...rest } = this.fields(key);
    return stable({ ...rest, label: this.hasLabel(key) ? label : '' });
  }

  hasLabel(key: string): boolean {
    const { name, label } = this.fields(key);
    return label !== name;
  }

  label(key: string): string | undefined {
    return this.hasLabel(key) ? String(this.fields(key).label) : undefined;
  }

  /** What it is. */
  core(key: string): string {
    const { model, by, stereo, house, for: whom } = this.fields(key);
    return stable({ model, by, stereo, house, whom: stereo === undefined ? undefined : whom });
  }

  /** Where it is plugged; nothing where nobody says. */
  plugged(key: string): string | undefined {
    return this.plugs.get(key)?.sort(byText).join('\n');
  }

  private fields(key: string): Fields {
    return this.entries.get(key)?.fields ?? {};
  }
}

type Sign = (signs: Signs, key: string) => string | undefined;

const joined = (...parts: readonly (string | undefined)[]) => (parts.includes(undefined) ? undefined : parts.join('\n'));
const whole: Sign = (signs, key) => signs.whole(key);
const wholeAndPlugged: Sign = (signs, key) => joined(signs.whole(key), signs.plugged(key));
const labelAndCore: Sign = (signs, key) => joined(signs.label(key), signs.core(key));
const coreAndPlugged: Sign = (signs, key) => joined(signs.core(key), signs.plugged(key));

/** The surest first. Somebody who plays what another played is somebody else, unless they are called the same. */
const SIGNS: Readonly<Record<(typeof DECLARED)[number], readonly Sign[]>> = {
  model: [whole, labelAndCore],
  performer: [labelAndCore],
  source: [wholeAndPlugged, labelAndCore, coreAndPlugged],
  gear: [wholeAndPlugged, labelAndCore, coreAndPlugged],
  mix: [wholeAndPlugged, labelAndCore, coreAndPlugged],
};

const RUNS: ReadonlySet<Kind> = new Set(['input', 'house', 'output']);

/** Every entry of one that is the same as one of the other, changed or not. */
export function pairsOf(before: Plain, after: Plain, renaming: Renaming): Pair[] {
  const name = (id: string) => renaming.get(id) ?? id;
  const pairs: Pair[] = [];
  const runs: Record<'olds' | 'news', Map<string, Entry>> = { olds: new Map(), news: new Map() };
  const byContent = new Map<string, string[]>();
  for (const [key, entry] of after) {
    if (RUNS.has(entry.kind)) runs.news.set(key, entry);
    else push(byContent, plainKey(key, entry), key);
  }
  for (const [key, entry] of before) {
    if (RUNS.has(entry.kind)) {
      runs.olds.set(key, withNames(entry, name));
      continue;
    }
    const there = byContent.get(plainKey(name(key), withNames(entry, name)))?.shift();
    if (there !== undefined) pairs.push([key, there]);
  }
  return [...pairs, ...runPairs(runs.olds, runs.news)];
}

/** Of a send, what is sent where; of anything else, its key. */
function plainKey(key: string, { kind, fields }: Entry): string {
  return kind === 'send' ? stable([fields.mix, fields.source, fields.channel ?? null]) : key;
}

function runPairs(olds: ReadonlyMap<string, Entry>, news: ReadonlyMap<string, Entry>): Pair[] {
  const pairs: Pair[] = [];
  const [here, there] = [new Set(olds.keys()), new Set(news.keys())];
  for (const sign of RUN_SIGNS) {
    const found = alike(
      [...here],
      [...there],
      (key) => sign(olds.get(key) as Entry),
      (key) => sign(news.get(key) as Entry),
    );
    for (const [old, anew] of found) {
      here.delete(old);
      there.delete(anew);
      pairs.push([old, anew]);
    }
  }
  return pairs;
}

const socketOf = ({ kind, fields }: Entry) => stable([kind, fields.piece, fields.ports, fields.number]);
const signalOf = ({ kind, fields }: Entry) => {
  if (fields.takes !== undefined) return stable([kind, fields.takes]);
  return fields.ownMic === true && fields.label !== '' ? stable([kind, 'own', fields.label]) : undefined;
};
const both = (...parts: readonly (string | undefined)[]) => (parts.includes(undefined) ? undefined : parts.join(' '));

/** A line is the same as long as it brings the same signal; else, as long as it is about the same socket. The surest first. */
const RUN_SIGNS: readonly ((entry: Entry) => string | undefined)[] = [
  (entry) => stable(entry),
  (entry) => both(socketOf(entry), signalOf(entry)),
  (entry) => both(stable(entry.fields.piece), signalOf(entry), stable(entry.fields.via)),
  (entry) => both(stable(entry.fields.piece), signalOf(entry)),
  (entry) => signalOf(entry),
  (entry) => socketOf(entry),
];

function push(groups: Map<string, string[]>, key: string, value: string): void {
  const group = groups.get(key);
  if (group) group.push(value);
  else groups.set(key, [value]);
}
