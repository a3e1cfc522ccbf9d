/**
 * What a statement was lowered to, kept for the next time that its file is read: an edit costs only the statements that it touches. A tape
 * has all that a statement read beyond itself, and all that it made; where what it reads is the same it is played, else the statement is
 * lowered. Of what anything was reported no tape is kept, for what is told hangs on more.
 */
import type { AstNode } from 'langium';
import { isSameList, type Model, type Place } from '#rig';
import type * as ast from '../generated/ast';
import type { Declaration, Kind } from '../symbols';
import { byThing, type Mark, type Marks, type SourceMap } from './marks';

/** Something else that a statement names, and what it may mean, the likeliest first. */
interface Named {
  readonly name: string;
  readonly kinds: readonly Kind[];
  readonly target: AstNode;
}

/** What a name meant: of which kind it was, and, of a model, what that was lowered to. Of anything else the name is all that counts. */
interface Read extends Omit<Named, 'target'> {
  readonly kind: string;
  readonly model?: Model;
}

export interface Tape {
  /** What it was made of, besides the statement and what that names. */
  readonly of: readonly unknown[];
  readonly reads: readonly Read[];
  readonly marks: ReadonlyMap<string, Marks>;
  /** So many ports and pieces that are there because a number says so. */
  readonly count: number;
  readonly made: unknown;
}

export type Taped = ReadonlyMap<AstNode, Tape>;

/** What is being written down. */
interface Recording {
  readonly reads: Map<string, Named>;
  readonly marks: [Place, Mark][];
  count: number;
  reported: boolean;
}

/** Hears what is done while a statement is lowered. One can be lowered in the middle of another, as a model in what is one. */
export class Recorder {
  private readonly recordings: Recording[] = [];

  read(named: Named): void {
    const key = `${named.kinds} ${named.name}`;
    for (const each of this.recordings) each.reads.set(key, named);
  }

  marked(place: Place, mark: Mark): void {
    for (const each of this.recordings) each.marks.push([place, mark]);
  }

  /** What was marked before is so again. */
  markedAgain(marks: Marks): void {
    for (const each of this.recordings) for (const mark of marks) each.marks.push(mark);
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
    /** What a name means where a statement stands. */
    private readonly meaning: (node: AstNode, kinds: readonly Kind[], name: string) => Declaration | undefined,
    private readonly lowered: (model: ast.Model) => Model,
  ) {}

  once<T>(node: AstNode, of: readonly unknown[], work: () => T): T {
    const known = this.before.get(node);
    if (known && this.holds(node, known, of) && this.context.hasMade(known.count)) {
      for (const [thing, marks] of known.marks) {
        this.context.recorder.markedAgain(marks);
        this.context.marks.add(thing, marks);
      }
      this.kept.set(node, known);
      return known.made as T;
    }
    const { reads, marks, count, reported, made } = this.context.recorder.record(work);
    if (!reported)
      this.kept.set(node, { of, reads: [...reads.values()].map((each) => this.readOf(each)), marks: byThing(marks), count, made });
    return made;
  }

  /** What was made of it this time, where that has been kept; nobody hears of it. */
  had<T>(node: AstNode, of: readonly unknown[], work: () => T): T {
    const known = this.kept.get(node);
    return known && isSameList(known.of, of) ? (known.made as T) : work();
  }

  private readOf({ name, kinds, target }: Named): Read {
    const kind = target.$type;
    return { name, kinds, kind, model: kind === 'Model' ? this.lowered(target as ast.Model) : undefined };
  }

  private holds(node: AstNode, tape: Tape, of: readonly unknown[]): boolean {
    return (
      isSameList(tape.of, of) &&
      tape.reads.every(({ name, kinds, kind, model }) => {
        const target = this.meaning(node, kinds, name);
        return target?.$type === kind && (!model || this.lowered(target as ast.Model) === model);
      })
    );
  }
}
