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

export class SourceMap {
  private readonly marks = new Map<Place, Mark>();

  /** `heard` is told of all that is set, whether or not it was there. */
  constructor(private readonly heard: (place: Place, mark: Mark) => void = () => undefined) {}

  set(place: Place, mark: Mark): Place {
    this.heard(place, mark);
    if (!this.marks.has(place)) this.marks.set(place, mark);
    return place;
  }

  /** The node of a place, or of the nearest that it is a part of. */
  markOf(place: Place): Mark | undefined {
    for (let at: string = place; at !== ''; at = at.slice(0, Math.max(0, at.lastIndexOf('/')))) {
      const mark = this.marks.get(at);
      if (mark) return mark;
    }
    return undefined;
  }

  spotOf(place: Place): Spot | undefined {
    const mark = this.markOf(place);
    return mark && spotOf(mark);
  }

  /** All places with their marks, in the order in which they were set. */
  entries(): IterableIterator<[Place, Mark]> {
    return this.marks.entries();
  }
}

export function spotOf(mark: Mark): Spot | undefined {
  const { node, property, index } = mark;
  const cst = (property === undefined ? undefined : GrammarUtils.findNodeForProperty(node.$cstNode, property, index)) ?? node.$cstNode;
  return cst && { uri: AstUtils.getDocument(node).uri, range: cst.range };
}
