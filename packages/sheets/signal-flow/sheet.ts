/** The whole rig as a picture: from who makes sound to who hears it, with every lead in between. */
import { type Checked, type Finding, list } from '#engine';
import type { Drawing } from '../drawing';
import { facts, titleOf } from '../shared/facts';
import { type Block, type DrawingBlock, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';
import { type Graph, graphOf, type Node } from './graph';
import { type Laid, type LayOut, laidOut, TooLarge } from './layout';
import { matrixOf } from './matrix';
import { type Part, Parts } from './parts';
import { fits, pageFor, pagesHigh, picture } from './picture';

/** A graph of more edges fits on no page, and is not tried. */
const MOST_ON_ONE_PAGE = 60;
/** A half of more edges is parted before it is laid out. */
const MOST_IN_A_HALF = 120;
const MOST_NAMED = 12;

export interface FlowOptions {
  /** Ends the work where its result is no longer wanted: the promise then fails with the reason. */
  readonly signal?: AbortSignal;
  /** Lays out elsewhere; without it, on the thread that asks, which does nothing else until it is done. */
  readonly layOut?: LayOut;
  /** Of a rig with more boxes nothing is drawn, and the sheet says so; without it, all are tried. */
  readonly mostBoxes?: number;
}

/**
 * The signal flow of a rig. It takes longer than other sheets, and answers later: the first time, the program that lays it out is
 * loaded. The same rig gives the same sheet. What is not known yet is drawn as far as it is understood; it never fails for a rig.
 */
export async function signalFlowSheet(checked: Checked, _findings: readonly Finding[], options: FlowOptions = {}): Promise<Sheet> {
  const { rig } = checked;
  const graph = graphOf(checked);
  return {
    id: 'signal-flow',
    name: SHEET_NAMES['signal-flow'],
    title: titleOf(rig),
    facts: facts(rig.settings),
    blocks: graph.nodes.length === 0 ? [] : await blocks(graph, options, matrixOf(checked)),
  };
}

/** Where there is a matrix of what comes in, only the other half is drawn. */
async function blocks(graph: Graph, options: FlowOptions, matrix: TableBlock | undefined): Promise<Block[]> {
  const first = matrix ? [matrix] : [];
  if (graph.nodes.length > (options.mostBoxes ?? Number.POSITIVE_INFINITY))
    return [...first, undrawn(`${WITHOUT_LIMIT}, or open the rig in the desktop edition.`)];
  try {
    const drawn = await drawnParts(graph, options, matrix !== undefined);
    return [...first, ...drawn.map((each) => block(each, drawn))];
  } catch (problem) {
    if (problem instanceof TooLarge) return [...first, undrawn(`${WITHOUT_LIMIT}.`)];
    throw problem;
  }
}

const WITHOUT_LIMIT = 'Write it with the command line, "earloom sheets … --sheet signal-flow"';

function undrawn(cure: string): Block {
  return { kind: 'table', id: 'whole', title: TITLES.whole, columns: [], rows: [], empty: `This rig is too large to draw here. ${cure}` };
}

interface Drawn {
  readonly part: Part;
  readonly laid: Laid;
}

async function drawnParts(graph: Graph, { signal, layOut }: FlowOptions, outOnly: boolean): Promise<Drawn[]> {
  const parts = new Parts(graph);
  const lay = async (part: Part): Promise<Drawn> => ({ part, laid: await laidOut(part.nodes, part.edges, layOut, signal) });
  /** Of what is too high for a page, as many parts as it takes. */
  const paged = async (part: Part, edges: number): Promise<Drawn[]> => {
    const many = part.edges.length > edges ? parts.split(part, Math.ceil(part.edges.length / edges)) : [];
    const one = many.length > 1 ? undefined : await lay(part);
    const smaller = one ? parts.split(part, pagesHigh(one.laid)) : many;
    if (one && smaller.length < 2) return [one];
    const drawn: Drawn[] = [];
    for (const each of smaller) drawn.push(...(await paged(each, edges)));
    return drawn;
  };
  if (!outOnly && graph.edges.length <= MOST_ON_ONE_PAGE) {
    const one = await lay(parts.whole());
    if (fits(one.laid)) return [one];
  }
  const drawn: Drawn[] = [];
  for (const half of outOnly ? (['out'] as const) : (['in', 'out'] as const))
    for (const part of parts.half(half)) drawn.push(...(await paged(part, MOST_IN_A_HALF)));
  return drawn;
}

const TITLES = { whole: 'From sound to ears', in: 'What comes in', out: 'What goes to the ears' } as const;

function block({ part, laid }: Drawn, all: readonly Drawn[]): DrawingBlock {
  const alike = all.filter((each) => each.part.half === part.half);
  const index = alike.findIndex((each) => each.part === part);
  const drawing = picture(laid);
  return {
    kind: 'drawing',
    id: alike.length > 1 ? `${part.half}-${letters(index)}` : part.half,
    title: alike.length > 1 ? `${TITLES[part.half]}, ${index + 1} of ${alike.length}` : TITLES[part.half],
    remark: remark(drawing),
    drawing,
    description: description(part),
  };
}

/** What to know before it is printed. */
function remark({ width, height }: Drawing): string | undefined {
  const page = pageFor(width);
  if (width > page.width || height > page.height)
    return `Larger than A4, ${Math.ceil(width)} mm by ${Math.ceil(height)} mm: print it on A3.`;
  return undefined;
}

function description({ half, nodes, edges }: Part): string {
  const of = (kind: Node['kind']) => nodes.filter((node) => node.kind === kind).map((node) => node.title);
  const [players, mixes, listeners] = [of('player'), of('mix'), of('listener')];
  const sounds = nodes.flatMap((node) => (node.kind === 'player' ? node.right : [])).length;
  const says = [
    ...(half === 'out' ? [] : [`${counted(sounds, 'sound')} by ${named(players)}, through ${named(of('box'))}`]),
    ...(mixes.length > 0 ? [`mixes: ${named(mixes)}`] : []),
    ...(listeners.length > 0 ? [`heard by ${named(listeners)}`] : []),
    `${counted(edges.length, 'connection')} drawn from left to right; the patch list has each of them as a row`,
  ];
  return `${says.join('; ')}.`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}

/** A few by name, the others counted. */
function named(all: readonly string[]): string {
  if (all.length === 0) return 'nobody and nothing yet';
  return list(all.length > MOST_NAMED ? [...all.slice(0, MOST_NAMED), `${all.length - MOST_NAMED} more`] : all);
}

/** `a` to `z`, then `aa`. */
function letters(index: number): string {
  return (index >= 26 ? letters(Math.floor(index / 26) - 1) : '') + String.fromCharCode(97 + (index % 26));
}
