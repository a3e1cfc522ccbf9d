/** Makes a mono mix stereo, on a pair of outputs where one is free, and a stereo mix mono, where nothing else is the worse for it. */
import { GrammarUtils } from 'langium';
import type { TextEdit } from 'vscode-languageserver';
import type { Network } from '#engine';
import type { OutputRun } from '#rig';
import type { Analysis } from '../../analysis';
import type * as ast from '../../generated/ast';
import { analyseWith, canTry, isWorse } from '../trial';
import type { Here, Refactoring } from './here';

/** A try costs as much as a keystroke. */
const MOST_TRIES = 3;

const known = new WeakMap<Analysis, Map<ast.Mix, Refactoring[]>>();

export function mixWidth(here: Here): Refactoring[] {
  const { statement, analysis } = here;
  if (statement?.$type !== 'Mix' || !here.isSound(statement) || !canTry(here.document)) return [];
  const before = known.get(analysis) ?? new Map<ast.Mix, Refactoring[]>();
  known.set(analysis, before);
  const found = before.get(statement) ?? changed(here, statement);
  before.set(statement, found);
  return found;
}

function changed(here: Here, mix: ast.Mix): Refactoring[] {
  const { checked } = here.analysis;
  const id = `mix:${mix.name}`;
  const now = checked?.rig.mixes.get(id);
  // What the house gets is plugged in at its end as well.
  if (!checked || !now || now.house || here.analysis.lowered.marks.markOf(id)?.node !== mix) return [];
  const width = now.stereo ? 'mono' : 'stereo';
  const writing = widthEdit(here, mix, width);
  const runs = checked.rig.outputs.filter(({ carries }) => carries === id);
  if (!writing || runs.length === 0) return [];
  const tries: { title: string; edits: TextEdit[] }[] = [{ title: `Make ${mix.label ?? mix.name} ${width}`, edits: [writing] }];
  const [run, more] = runs;
  if (run && !more) {
    for (const port of now.stereo ? firstOf(run) : pairsFor(checked.network, run)) {
      const moved = portEdit(here, run, port);
      if (moved) tries.push({ title: `Make ${mix.label ?? mix.name} ${width}, on output ${port}`, edits: [writing, moved] });
    }
  }
  // To leave a pair of outputs to a mono mix would change nothing that is plugged in, so the smaller change is not the better one.
  if (now.stereo && tries.length > 1) tries.shift();
  const good = tries.slice(0, MOST_TRIES).find(({ edits }) => !isWorse(analyseWith(here.services, here.document, edits), here.analysis));
  const changes = good && { [here.document.uri.toString()]: good.edits };
  return good ? [{ title: good.title, kind: 'refactor.rewrite.width', edit: { changes } }] : [];
}

function widthEdit(here: Here, mix: ast.Mix, width: 'mono' | 'stereo'): TextEdit | undefined {
  const part = (property: string) => GrammarUtils.findNodeForProperty(mix.$cstNode, property);
  const there = part('width');
  if (there) return here.layout.replace(there.offset, there.end, width);
  const after = part('label') ?? part('name');
  return after && here.layout.append(mix, after.end, 'mono', width);
}

/** The pairs that a line could leave by: its own port with the next one, or two that are free. */
function pairsFor(net: Network, run: OutputRun): string[] {
  const piece = net.rig.pieces.get(run.from.piece);
  const [own] = run.from.ports;
  if (!piece || own === undefined || run.from.ports.length > 1) return [];
  const ports = piece.model.ports.filter(({ direction }) => direction === 'output');
  const at = ports.findIndex(({ id }) => id === own);
  const used = new Set(net.rig.outputs.filter((each) => each !== run && each.from.piece === piece.id).flatMap((each) => each.from.ports));
  return ports
    .flatMap((left, index) => {
      const right = ports[index + 1];
      const alike = right && left.connector === ports[at]?.connector && right.connector === left.connector && right.bank === left.bank;
      return alike && !used.has(left.id) && !used.has(right.id)
        ? [{ pair: `${left.id}..${right.id}`, far: Math.abs(index - at), odd: index % 2 }]
        : [];
    })
    .sort((a, b) => a.odd - b.odd || a.far - b.far)
    .map(({ pair }) => pair);
}

function firstOf({ from: { ports } }: OutputRun): string[] {
  return ports.length === 2 && ports[0] !== undefined ? [ports[0]] : [];
}

function portEdit(here: Here, run: OutputRun, port: string): TextEdit | undefined {
  const node = here.analysis.lowered.marks.markOf(run.place)?.node;
  if (node?.$type !== 'Output' || !here.isSound(node as ast.Output)) return undefined;
  const written = (node as ast.Output).port;
  const first = GrammarUtils.findNodeForProperty(written.$cstNode, 'first');
  const last = GrammarUtils.findNodeForProperty(written.$cstNode, 'last') ?? first;
  return first && last && here.layout.replace(first.offset, last.end, port);
}
