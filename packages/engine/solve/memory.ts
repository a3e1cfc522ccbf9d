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

const MODELS = new WeakMap<Model, Memory>();

export function memoryOf(model: Model): Memory {
  let memory = MODELS.get(model);
  if (!memory) {
    memory = new Memory();
    MODELS.set(model, memory);
  }
  return memory;
}
