/** A graph in parts that fit on a page each: first what comes in, then what goes to the ears. Every edge is in one part. */
import type { Edge, Graph, Half, Node } from './graph';

export interface Part extends Graph {
  readonly half: Half | 'whole';
  /** Edges that are drawn together; none for the whole. */
  readonly groups: readonly (readonly Edge[])[];
  /** Holds what no edge of its half comes to. */
  readonly last: boolean;
}

export class Parts {
  private readonly touched: ReadonlySet<string>;

  constructor(private readonly graph: Graph) {
    this.touched = keysOf(graph.edges);
  }

  whole(): Part {
    return { ...this.graph, half: 'whole', groups: [], last: true };
  }

  /** All of a half, or nothing where there is nothing of it. */
  half(half: Half): Part[] {
    const groups = new Map<string, Edge[]>();
    for (const edge of this.graph.edges) {
      if (edge.half !== half) continue;
      const there = groups.get(edge.of);
      if (there) there.push(edge);
      else groups.set(edge.of, [edge]);
    }
    return this.part(half, inOrder(this.graph, groups), true);
  }

  /** A part in so many, as far as it can be parted. */
  split({ half, groups, last }: Part, count: number): Part[] {
    if (half === 'whole' || groups.length < 2) return [];
    const each = Math.ceil(groups.length / Math.min(count, groups.length));
    const pages: (readonly Edge[])[][] = [];
    for (let from = 0; from < groups.length; from += each) pages.push(groups.slice(from, from + each));
    return pages.flatMap((page, index) => this.part(half, page, last && index === pages.length - 1));
  }

  /** With the rows that the edges come to; where it is a half's `last`, those as well that no edge comes to. */
  private part(half: Half, groups: readonly (readonly Edge[])[], last: boolean): Part[] {
    const edges = groups.flat();
    const here = keysOf(edges);
    const stays = (node: Node, side: 'left' | 'right') =>
      node[side].filter((row) => {
        const key = keyOf(node.id, row.id, side);
        return here.has(key) || (last && !this.touched.has(key) && halfOf(node) === half);
      });
    const nodes = this.graph.nodes.flatMap((node) => {
      const [left, right] = [stays(node, 'left'), stays(node, 'right')];
      const bare = node.left.length + node.right.length === 0 && last && halfOf(node) === half;
      return left.length + right.length > 0 || bare
        ? [{ ...node, left, right, under: node.kind === 'house' && half === 'out' ? [] : node.under }]
        : [];
    });
    return nodes.length > 0 ? [{ half, groups, last, edges, nodes }] : [];
  }
}

/** Groups in the order of the graph's nodes: of the players that they start from, or of their mixes. */
function inOrder(graph: Graph, groups: ReadonlyMap<string, Edge[]>): Edge[][] {
  const rank = new Map<string, number>();
  for (const node of graph.nodes) {
    rank.set(node.id, rank.size);
    for (const row of node.right) rank.set(`${node.id} ${row.id}`, rank.size);
  }
  const first = (edges: readonly Edge[]) => Math.min(...edges.map(({ from }) => rank.get(`${from.node} ${from.row}`) ?? rank.size));
  return [...groups.values()]
    .map((edges) => ({ edges, at: first(edges) }))
    .sort((a, b) => a.at - b.at)
    .map(({ edges }) => edges);
}

function keysOf(edges: readonly Edge[]): ReadonlySet<string> {
  return new Set(edges.flatMap(({ from, to }) => [keyOf(from.node, from.row, 'right'), keyOf(to.node, to.row, 'left')]));
}

function halfOf({ kind, id }: Node): Half {
  return kind === 'mix' || kind === 'listener' || id.startsWith('out ') ? 'out' : 'in';
}

function keyOf(node: string, row: string, side: 'left' | 'right'): string {
  return `${side} ${row} @ ${node}`;
}
