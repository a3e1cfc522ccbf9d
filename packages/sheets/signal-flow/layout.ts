/** Where the nodes and edges of a graph go: by ELK's layered layout, left to right, with ports where the rows are. */
import type { ELK, ElkNode, LayoutOptions } from 'elkjs/lib/elk-api';
import type { Edge, Node } from './graph';
import { type Measured, measured, rowY } from './measure';

export interface Laid {
  readonly width: number;
  readonly height: number;
  readonly nodes: readonly Placed[];
  readonly edges: readonly Routed[];
}

export interface Placed extends Measured {
  readonly x: number;
  readonly y: number;
}

export interface Routed {
  readonly edge: Edge;
  readonly points: readonly (readonly [number, number])[];
}

/** ELK was made for screens: its tolerances suit pixels. */
const UNITS_A_MM = 10;

const mm = (value: number) => String(value * UNITS_A_MM);

const OPTIONS: LayoutOptions = {
  'elk.algorithm': 'layered',
  'elk.direction': 'RIGHT',
  'elk.edgeRouting': 'ORTHOGONAL',
  'elk.randomSeed': '1',
  'elk.padding': `[top=0,left=0,bottom=0,right=0]`,
  'elk.separateConnectedComponents': 'false',
  'elk.spacing.nodeNode': mm(3),
  'elk.spacing.edgeEdge': mm(1.3),
  'elk.spacing.edgeNode': mm(2),
  'elk.layered.spacing.nodeNodeBetweenLayers': mm(10),
  'elk.layered.spacing.edgeEdgeBetweenLayers': mm(1.1),
  'elk.layered.spacing.edgeNodeBetweenLayers': mm(4.6),
  'elk.layered.considerModelOrder.strategy': 'PREFER_NODES',
  'elk.layered.nodePlacement.strategy': 'NETWORK_SIMPLEX',
};

/**
 * Works out where everything in a graph goes. The promise fails with `TooLarge` where that would take too long, and with any error
 * once the signal says that nobody waits for it.
 */
export type LayOut = (graph: ElkNode, signal: AbortSignal) => Promise<ElkNode>;

/** A graph that cannot be laid out in the time there is. */
export class TooLarge extends Error {}

interface Layout {
  readonly result: Promise<ElkNode>;
  /** How many have asked and have no answer yet; with the last of them the work ends. */
  waiting: number;
  readonly unwanted: AbortController;
}

/** Layouts by the graph, made or being made: typing changes a rig more often than what is plugged into what. Oldest first. */
const made = new Map<string, Layout>();
const MOST_KEPT = 128;

let engine: Promise<ELK> | undefined;

/** ELK is large and needed by this alone: it is read when the first graph is laid out. */
async function elk(): Promise<ELK> {
  engine ??= import('elkjs/lib/elk.bundled.js').then(({ default: Elk }) => new Elk());
  return engine;
}

/** On the thread that asks: everything else waits for it, and once begun it does not end early. */
export const layOutHere: LayOut = async (graph) => (await elk()).layout(graph);

/**
 * Lengths are millimetres from the upper left corner. The same graph gives the same layout, to the last digit. Fails as `layOut`
 * does, and with the signal's reason as soon as that is aborted.
 */
export async function laidOut(nodes: readonly Node[], edges: readonly Edge[], layOut = layOutHere, signal?: AbortSignal): Promise<Laid> {
  signal?.throwIfAborted();
  const sizes = nodes.map(measured);
  const graph = elkGraph(sizes, edges);
  const key = JSON.stringify(graph);
  const layout = made.get(key) ?? begun(graph, layOut);
  keep(key, layout);
  layout.waiting++;
  try {
    return read(await unlessAborted(layout.result, signal), sizes, edges);
  } catch (problem) {
    // Others may still wait for what this one no longer wants.
    const failed = !signal?.aborted || layout.waiting === 1;
    if (failed && made.get(key) === layout) made.delete(key);
    throw problem;
  } finally {
    layout.waiting--;
    if (layout.waiting === 0) layout.unwanted.abort();
  }
}

function begun(graph: ElkNode, layOut: LayOut): Layout {
  const unwanted = new AbortController();
  return { result: layOut(graph, unwanted.signal), waiting: 0, unwanted };
}

/** As the newest of all. */
function keep(key: string, layout: Layout): void {
  made.delete(key);
  made.set(key, layout);
  for (const oldest of made.keys()) {
    if (made.size <= MOST_KEPT) break;
    made.delete(oldest);
  }
}

function unlessAborted<T>(result: Promise<T>, signal: AbortSignal | undefined): Promise<T> {
  if (!signal) return result;
  return new Promise((resolve, reject) => {
    const stop = () => reject(signal.reason);
    signal.addEventListener('abort', stop, { once: true });
    result.then(resolve, reject).finally(() => signal.removeEventListener('abort', stop));
  });
}

function elkGraph(nodes: readonly Measured[], edges: readonly Edge[]): ElkNode {
  const index = new Map(nodes.map(({ node }, at) => [node.id, at]));
  const entered = new Set(edges.map((edge) => edge.to.node));
  const left = new Set(edges.map((edge) => edge.from.node));
  const rows = (each: Measured, side: 'left' | 'right') =>
    new Map(each.node[side].map((row, at) => [row.id, `${index.get(each.node.id)} ${side} ${at}`]));
  const ports = new Map(nodes.map((each) => [each.node.id, { left: rows(each, 'left'), right: rows(each, 'right') }]));
  const children = nodes.map((each, at): ElkNode => {
    const { node, width, height } = each;
    const port = (side: 'left' | 'right') =>
      node[side].map((_, row) => ({
        id: `${at} ${side} ${row}`,
        x: side === 'left' ? 0 : width * UNITS_A_MM,
        y: rowY(each, row) * UNITS_A_MM,
        width: 0,
        height: 0,
        layoutOptions: { 'elk.port.side': side === 'left' ? 'WEST' : 'EAST' },
      }));
    const first = node.kind === 'player' && !entered.has(node.id);
    const last = (node.kind === 'listener' || node.kind === 'house') && !left.has(node.id);
    return {
      id: String(at),
      width: width * UNITS_A_MM,
      height: height * UNITS_A_MM,
      ports: [...port('left'), ...port('right')],
      layoutOptions: {
        'elk.portConstraints': 'FIXED_POS',
        'elk.alignment': node.kind === 'player' ? 'RIGHT' : 'LEFT',
        ...(first && { 'elk.layered.layering.layerConstraint': 'FIRST' }),
        ...(last && { 'elk.layered.layering.layerConstraint': 'LAST' }),
      },
    };
  });
  return {
    id: 'rig',
    layoutOptions: OPTIONS,
    children,
    edges: edges.map((edge, at) => ({
      id: `e${at}`,
      sources: [ports.get(edge.from.node)?.right.get(edge.from.row) ?? ''],
      targets: [ports.get(edge.to.node)?.left.get(edge.to.row) ?? ''],
    })),
  };
}

function read(layout: ElkNode, nodes: readonly Measured[], edges: readonly Edge[]): Laid {
  const at = (value: number | undefined) => (value ?? 0) / UNITS_A_MM;
  return {
    width: at(layout.width),
    height: at(layout.height),
    nodes: nodes.map((each, index) => ({ ...each, x: at(layout.children?.[index]?.x), y: at(layout.children?.[index]?.y) })),
    edges: edges.map((edge, index) => ({
      edge,
      points: (layout.edges?.[index]?.sections ?? []).flatMap(({ startPoint, bendPoints = [], endPoint }) =>
        [startPoint, ...bendPoints, endPoint].map(({ x, y }): readonly [number, number] => [at(x), at(y)]),
      ),
    })),
  };
}
