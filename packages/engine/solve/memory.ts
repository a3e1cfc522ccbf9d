/**
 * What is worked out once and asked for again, kept in one place: of a network as long as that lives, of a model for as long as
 * somebody holds the model. An answer depends on nothing but its key and on what the memory belongs to.
 */
import type { Model } from '#rig';

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

  once<K, V>(question: string, key: K, answer: () => V): V {
    const known = this.of<K, V>(question);
    if (known.has(key)) return known.get(key) as V;
    const found = answer();
    known.set(key, found);
    return found;
  }
}

interface Answer {
  /** All that it was made of. */
  readonly of: readonly unknown[];
  readonly is: unknown;
}

/**
 * What was worked out of a rig and holds for the next one, as long as all that it was made of is the same, thing by thing (`sharing`).
 * Only what was asked of the last rig is remembered.
 */
export class Kept {
  private readonly answers = new Memory();
  private before: Kept | undefined;

  /** `before`: what was kept of the rig before. */
  constructor(before?: Kept) {
    this.before = before;
  }

  /** `answer` depends on nothing but the key and what it is made `of`. */
  once<V>(question: string, key: unknown, of: readonly unknown[], answer: () => V): V {
    const known = this.before?.answers.of<unknown, Answer>(question).get(key);
    const kept = known && isMadeOf(known, of) ? known : { of, is: answer() };
    this.answers.of<unknown, Answer>(question).set(key, kept);
    return kept.is as V;
  }

  /**
   * Everything of a list, or nothing where it was empty the last time: for findings, of which whether there are any depends on nothing
   * but the key and what they are `of`, and how they are cured on anything.
   */
  unlessNone<V>(question: string, key: unknown, of: readonly unknown[], found: () => readonly V[]): readonly V[] {
    let all: readonly V[] | undefined;
    const none = this.once(question, key, of, () => {
      all = found();
      return all.length === 0;
    });
    return none ? [] : (all ?? found());
  }

  /** Nothing more is asked of this rig. */
  close(): void {
    this.before = undefined;
  }
}

function isMadeOf(answer: Answer, of: readonly unknown[]): boolean {
  return answer.of.length === of.length && answer.of.every((each, index) => each === of[index]);
}

const MODELS = new WeakMap<Model, Memory>();

export function memoryOf(model: Model): Memory {
  let memory = MODELS.get(model);
  if (!memory) {
    memory = new Memory();
    MODELS.set(model, memory);
  }
  return memory;
}
