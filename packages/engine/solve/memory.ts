/**
 * What is worked out once and asked for again, kept in one place: of a network or of a part of a rig as long as that lives, of a model
 * or a piece for as long as somebody holds it. An answer depends on nothing but its key and on what the memory belongs to.
 */
import { isSameList, type Model, type Piece, type Rig } from '#rig';

export class Memory {
  private readonly answers = new Map<string, Map<unknown, unknown>>();

  /** The answers to one question so far, by what was asked. */
  of<K, V>(question: string): Map<K, V> {
    let known = this.answers.get(question);
    if (!known) {
      known = new Map();
      this.answers.set(question, known);
    }
    return known as Map<K, V>;
  }

  once<K, V>(question: string, key: K, answer: (key: K) => V): V {
    const known = this.of<K, V>(question);
    const there = known.get(key);
    if (there !== undefined || known.has(key)) return there as V;
    const found = answer(key);
    known.set(key, found);
    return found;
  }
}

interface Answer {
  /** All that it was made of. */
  readonly of: readonly unknown[];
  readonly is: unknown;
  /** For which rig it was asked for last. */
  askedBy: Kept;
  /** What `of` follows from. */
  from?: readonly unknown[];
}

const NOTHING: readonly never[] = [];

/** The answers to one question. */
interface Answers {
  readonly byKey: Map<unknown, Answer>;
  /** How many of them the rig of now has asked for. */
  asked: number;
}

/**
 * What was worked out of a rig and holds for the next one, as long as all that it was made of is the same, thing by thing (`sharing`).
 * Only what was asked of the last rig is remembered.
 */
export class Kept {
  /** One and the same for all that come of one rig by edits: to make them anew for each would cost more than to look into them. */
  private readonly answers: Map<string, Answers>;

  /** `before`: what was kept of the rig before. */
  constructor(before?: Kept) {
    this.answers = before?.answers ?? new Map<string, Answers>();
    for (const each of this.answers.values()) each.asked = 0;
  }

  /** `answer` depends on nothing but the key and what it is made `of`. */
  once<K, V>(question: string, key: K, of: readonly unknown[], answer: (key: K) => V): V {
    const known = this.known(question, key, of);
    if (known) return known.is as V;
    const is = answer(key);
    this.answers.get(question)?.byKey.set(key, { of, is, askedBy: this });
    return is;
  }

  /** As `once`, where it takes some time to say what an answer is made `of`: that follows `from` these, and is not looked for while they are the same. */
  onceFrom<K, V>(question: string, key: K, from: readonly unknown[], of: () => readonly unknown[], answer: (key: K) => V): V {
    const there = this.answers.get(question)?.byKey.get(key);
    const made = there?.from && isSameList(there.from, from) ? there.of : of();
    const is = this.once(question, key, made, answer);
    const now = this.answers.get(question)?.byKey.get(key);
    if (now) now.from = from;
    return is;
  }

  /** What was answered the last time, where that still holds. */
  private known(question: string, key: unknown, of: readonly unknown[]): Answer | undefined {
    let answers = this.answers.get(question);
    if (!answers) {
      answers = { byKey: new Map(), asked: 0 };
      this.answers.set(question, answers);
    }
    const known = answers.byKey.get(key);
    if (known?.askedBy !== this) answers.asked += 1;
    if (!known || !isSameList(known.of, of)) return undefined;
    known.askedBy = this;
    return known;
  }

  /**
   * Everything of a list, or nothing where it was empty the last time: for findings, of which whether there are any depends on nothing
   * but the key and what they are `of`, and how they are cured on anything.
   */
  unlessNone<K, V>(question: string, key: K, of: readonly unknown[], found: (key: K) => readonly V[]): readonly V[] {
    if (this.known(question, key, of)?.is === true) return NOTHING;
    const all = found(key);
    this.answers.get(question)?.byKey.set(key, { of, is: all.length === 0, askedBy: this });
    return all;
  }

  /** Of some things of a rig alone. */
  ofRig<K extends keyof Rig, V>(question: string, rig: Rig, things: readonly K[], answer: (rig: Pick<Rig, K>) => V): V {
    return this.once(
      question,
      undefined,
      things.map((each) => rig[each]),
      () => answer(rig),
    );
  }

  /** Nothing more is asked of this rig: what it has not asked for is forgotten. */
  close(): void {
    for (const { byKey, asked } of this.answers.values()) {
      if (asked === byKey.size) continue;
      for (const [key, { askedBy }] of byKey) if (askedBy !== this) byKey.delete(key);
    }
  }
}

const THINGS = new WeakMap<Model | Piece, Memory>();

/** What is so of a thing whatever rig it is in. */
export function memoryOf(thing: Model | Piece): Memory {
  let memory = THINGS.get(thing);
  if (!memory) {
    memory = new Memory();
    THINGS.set(thing, memory);
  }
  return memory;
}
