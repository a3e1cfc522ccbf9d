/** Where each place of a rig stands in the text. Ranges are worked out only when somebody asks for one. */
import { type AstNode, AstUtils, GrammarUtils, type URI } from 'langium';
import type { Range } from 'vscode-languageserver-types';
import type { Place } from '#rig';

export interface Mark {
  readonly node: AstNode;
  /** A part of the node: one of its properties, and which value of it. */
  readonly property?: string;
  readonly index?: number;
}

export interface Spot {
  readonly uri: URI;
  readonly range: Range;
}

/** The places of one thing: of a statement, or of what it makes, and of all their parts. */
export type Marks = ReadonlyMap<Place, Mark>;

export class SourceMap {
  /** By the thing that each is a part of. */
  private readonly things = new Map<string, Marks>();
  /** Those that nobody else has, and that can be added to. */
  private readonly own = new Set<Marks>();

  /** `heard` is told of all that is set, whether or not it was there. */
  constructor(private readonly heard: (place: Place, mark: Mark) => void = () => undefined) {}

  set(place: Place, mark: Mark): Place {
    this.heard(place, mark);
    this.put(place, mark);
    return place;
  }

  /** As if each of them was set, and nobody heard. They may be somebody else's, too. */
  add(thing: string, marks: Marks): void {
    if (!this.things.has(thing)) this.things.set(thing, marks);
    else for (const [place, mark] of marks) this.put(place, mark);
  }

  private put(place: Place, mark: Mark): void {
    const thing = thingOf(place);
    const known = this.things.get(thing);
    if (known?.has(place)) return;
    const marks = known && this.own.has(known) ? (known as Map<Place, Mark>) : new Map(known);
    if (marks !== known) {
      this.own.add(marks);
      this.things.set(thing, marks);
    }
    marks.set(place, mark);
  }

  /** The node of a place, or of the nearest that it is a part of. */
  markOf(place: Place): Mark | undefined {
    const marks = this.things.get(thingOf(place));
    for (let at: string = place; marks && at !== ''; at = at.slice(0, Math.max(0, at.lastIndexOf('/')))) {
      const mark = marks.get(at);
      if (mark) return mark;
    }
    return undefined;
  }

  spotOf(place: Place): Spot | undefined {
    const mark = this.markOf(place);
    return mark && spotOf(mark);
  }

  /** All places with their marks, thing by thing in the order in which they were set. */
  *entries(): IterableIterator<[Place, Mark]> {
    for (const marks of this.things.values()) yield* marks;
  }
}

function thingOf(place: Place): string {
  const end = place.indexOf('/');
  return end < 0 ? place : place.slice(0, end);
}

/** Places with their marks, in the order in which they are set, by the things that they are parts of. */
export function byThing(all: readonly (readonly [Place, Mark])[]): ReadonlyMap<string, Marks> {
  const things = new Map<string, Map<Place, Mark>>();
  for (const [place, mark] of all) {
    const thing = thingOf(place);
    const marks = things.get(thing);
    if (!marks) things.set(thing, new Map([[place, mark]]));
    else if (!marks.has(place)) marks.set(place, mark);
  }
  return things;
}

export function spotOf(mark: Mark): Spot | undefined {
  const { node, property, index } = mark;
  const cst = (property === undefined ? undefined : GrammarUtils.findNodeForProperty(node.$cstNode, property, index)) ?? node.$cstNode;
  return cst && { uri: AstUtils.getDocument(node).uri, range: cst.range };
}
