/**
 * What a statement was lowered to, kept for the next time that its file is read: an edit costs only the statements that it touches. A tape
 * has all that a statement read beyond itself, and all that it made; where what it reads is the same it is played, else the statement is
 * lowered. Of what anything was reported no tape is kept, for what is told hangs on more.
 */
import type { AstNode, Reference } from 'langium';
import type { Model, Place } from '#rig';
import type * as ast from '../generated/ast';
import type { Mark, SourceMap } from './marks';

/** Something else that a statement names. */
interface Read {
  readonly reference: Reference;
  readonly type: string;
  readonly name: string;
  /** As it was lowered to, where it is a model; of anything else its name is all that counts. */
  readonly model?: Model;
}

export interface Tape {
  /** What it was made of, besides the statement and what that names. */
  readonly of: readonly unknown[];
  readonly reads: readonly Read[];
  readonly marks: readonly (readonly [Place, Mark])[];
  /** So many ports and pieces that are there because a number says so. */
  readonly count: number;
  readonly made: unknown;
}

export type Taped = ReadonlyMap<AstNode, Tape>;

/** What is being written down. */
interface Recording {
  readonly reads: Map<Reference, AstNode>;
  readonly marks: [Place, Mark][];
  count: number;
  reported: boolean;
}

/** Hears what is done while a statement is lowered. One can be lowered in the middle of another, as a model in what is one. */
export class Recorder {
  private readonly recordings: Recording[] = [];

  read(reference: Reference, target: AstNode): void {
    for (const each of this.recordings) each.reads.set(reference, target);
  }

  marked(place: Place, mark: Mark): void {
    for (const each of this.recordings) each.marks.push([place, mark]);
  }

  counted(more: number): void {
    for (const each of this.recordings) each.count += more;
  }

  reported(): void {
    for (const each of this.recordings) each.reported = true;
  }

  record<T>(work: () => T): Recording & { readonly made: T } {
    const recording: Recording = { reads: new Map(), marks: [], count: 0, reported: false };
    this.recordings.push(recording);
    const made = work();
    this.recordings.pop();
    return { ...recording, made };
  }
}

interface Context {
  readonly marks: SourceMap;
  readonly recorder: Recorder;
  hasMade(more: number): boolean;
}

export class Tapes {
  /** For the next time. */
  readonly kept = new Map<AstNode, Tape>();

  constructor(
    private readonly context: Context,
    private readonly before: Taped,
    private readonly lowered: (model: ast.Model) => Model,
  ) {}

  once<T>(node: AstNode, of: readonly unknown[], work: () => T): T {
    const known = this.before.get(node);
    if (known && this.holds(known, of) && this.context.hasMade(known.count)) {
      for (const [place, mark] of known.marks) this.context.marks.set(place, mark);
      this.kept.set(node, known);
      return known.made as T;
    }
    const { reads, marks, count, reported, made } = this.context.recorder.record(work);
    if (!reported) this.kept.set(node, { of, reads: [...reads].map((each) => this.readOf(...each)), marks, count, made });
    return made;
  }

  private readOf(reference: Reference, target: AstNode): Read {
    const { $type: type, name } = target as AstNode & { readonly name: string };
    return { reference, type, name, model: type === 'Model' ? this.lowered(target as ast.Model) : undefined };
  }

  private holds(tape: Tape, of: readonly unknown[]): boolean {
    return (
      of.length === tape.of.length &&
      of.every((each, index) => each === tape.of[index]) &&
      tape.reads.every(({ reference, type, name, model }) => {
        const target = reference.ref as (AstNode & { readonly name: string }) | undefined;
        return target?.$type === type && target.name === name && (!model || this.lowered(target as unknown as ast.Model) === model);
      })
    );
  }
}
