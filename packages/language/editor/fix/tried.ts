/** Cures that are guessed and then tried: only what takes the finding away and brings nothing new is offered. */
import type { TextEdit } from 'vscode-languageserver';
import { type Code, chooseAll, chooseOne, type Fix, isTheirs, socket, statementOf as statementIn } from '#engine';
import type { Model } from '#rig';
import type { Analysis, Located } from '../../analysis';
import type * as ast from '../../generated/ast';
import { Layout } from '../../layout';
import type { Cure, Curing } from '../edits';
import { statementOf } from '../refactor/here';
import { gearLine, kindOf, nameFor, rename, whereFrom } from '../refactor/newGear';
import type { RigEditorServices } from '../services';
import { analyseWith, isWorse, tally } from '../trial';

const SHORT_OF_SOCKETS: ReadonlySet<Code> = new Set<Code>(['capacity/no-such-port', 'capacity/too-few-inputs']);

/** How many are tried, the smallest first. */
const MOST_BIGGER = 4;

export function triedCures(services: RigEditorServices, analysis: Analysis, curing: Curing, located: Located): Cure[] {
  const { code } = located.finding;
  const cures =
    code === 'splits/second-piece'
      ? oneForBoth(services, analysis, located)
      : code === 'mixes/no-way-to-house'
        ? intoBox(analysis, curing, located)
        : code.startsWith('radio/') || code === 'scan/occupied'
          ? clearFrequencies(analysis, curing, located)
          : [];
  const here = analysis.document.uri.toString();
  const cured = ({ changes }: Cure) => {
    const edits = changes[here];
    if (!edits || Object.keys(changes).length > 1) return false;
    const after = analyseWith(services, analysis.document, edits);
    return (tally(after).get(code) ?? 0) < (tally(analysis).get(code) ?? 0) && !isWorse(after, analysis);
  };
  const least = SHORT_OF_SOCKETS.has(code) ? bigger(services, analysis, curing, located).find(cured) : undefined;
  return least ? [least] : cures.filter(cured);
}

/** What takes something out of the rig is for the user to choose, even where it is the only cure. */
export function takesAway(fix: Fix): boolean {
  if (fix.kind === 'several') return fix.fixes.every(takesAway);
  return fix.kind === 'remove' || fix.kind === 'remove-send';
}

/** Gear of the same kind with more sockets, the smallest first; where it is said whose it is, or what it cost, that would be said of another. */
function bigger(services: RigEditorServices, { document, lowered: { rig } }: Analysis, curing: Curing, { finding }: Located): Cure[] {
  const run = [...rig.inputs, ...rig.outputs].find(({ id }) => `${id}/port` === finding.place);
  const piece = run && rig.pieces.get(run.kind === 'input' ? run.to.piece : run.from.piece);
  if (piece?.kind !== 'gear' || piece.holding || !finding.fixes.every(takesAway)) return [];
  const sockets = ({ ports }: Model) => ports.filter(({ direction }) => direction === run?.kind).length;
  const nodes = new Map(
    services.rig.Symbols.all(document, 'Model').map((node) => [services.editor.Shelf.of(node as ast.Model), node as ast.Model]),
  );
  return [...nodes.keys()]
    .filter((model) => model.lineage.at(-1) === piece.model.lineage.at(-1) && sockets(model) > sockets(piece.model))
    .sort((one, other) => sockets(one) - sockets(other))
    .slice(0, MOST_BIGGER)
    .flatMap((model) => {
      const cure = curing.cure({ kind: 'set-model', piece: piece.id, model: model.id });
      return cure ? [{ ...cure, title: `Bring a bigger ${piece.label}: ${nodes.get(model)?.label ?? model.id}` }] : [];
    });
}

/** One box in both lines: gear that lies unused, or a new one with a name. */
function oneForBoth(services: RigEditorServices, analysis: Analysis, { finding }: Located): Cure[] {
  const { checked, lowered, document } = analysis;
  const second = checked?.rig.pieces.get(finding.place);
  const first = second?.model.ports
    .flatMap((port) => checked?.network.entering.get(socket(second, port).key) ?? [])
    .find(({ from }) => from.piece.kind === 'fresh' && from.piece.model.id === second.model.id)?.from.piece;
  const [one, other] = [first, second].map((piece) => piece && lowered.marks.markOf(piece.place)?.node);
  if (one?.$type !== 'Step' || other?.$type !== 'Step' || one === other || !first) return [];
  const steps = [one as ast.Step, other as ast.Step];
  const model = steps[0]?.target?.ref;
  const statement = statementOf(one);
  if (model?.$type !== 'Model' || !statement || statementOf(other) === statement) return [];
  const file = document.parseResult.value;
  const layout = new Layout(document.textDocument, file);
  const uri = document.uri.toString();
  const cure = (title: string, name: string, more: readonly TextEdit[]): Cure[] => {
    const edits = steps.flatMap((step) => rename(layout, step, name) ?? []);
    return edits.length === steps.length ? [{ title, changes: { [uri]: [...more, ...edits] } }] : [];
  };
  const used = new Set(checked?.network.lines.flatMap((line) => line.joints.flatMap(({ from, to }) => [from.piece.id, to.piece.id])));
  const idle = [...(checked?.rig.pieces.values() ?? [])].find(
    (piece) => piece.kind === 'gear' && piece.model.id === first.model.id && !used.has(piece.id),
  );
  const named = nameFor(services, steps[0] as ast.Step, statement);
  return [
    ...(idle?.name ? cure(`Go through ${idle.label} in both lines`, idle.name, []) : []),
    ...cure(`Go through one ${kindOf(model)} in both lines: ${named.name}`, named.name, [
      gearLine(layout, file, named, model, whereFrom(analysis, first)),
    ]),
  ];
}

/** The output that carries a mix for the house ends in a DI, behind what is there or instead of it. */
function intoBox({ lowered: { rig } }: Analysis, curing: Curing, { finding }: Located): Cure[] {
  const fixes = rig.outputs
    .filter(({ carries }) => carries !== undefined && finding.about.includes(carries))
    .flatMap(({ id, via }): Fix[] => [
      { kind: 'add-step', run: id, model: 'passive-di', where: 'last' },
      ...(via.length > 0 ? [{ kind: 'replace-step', step: `${id}/via.${via.length - 1}`, with: 'passive-di' } as const] : []),
    ]);
  return fixes.flatMap((fix) => curing.cure(fix) ?? []);
}

/** Another frequency for the set that a finding is at, or for another of ours that has a share in it, or for all of ours at once. */
function clearFrequencies({ lowered: { rig } }: Analysis, curing: Curing, { finding }: Located): Cure[] {
  const here = statementIn(finding.place);
  const sets = [here, ...finding.about].flatMap((id) => rig.pieces.get(id) ?? []).filter((piece) => !isTheirs(piece));
  const each = [...new Set(sets)].slice(0, 3).flatMap((piece): Fix[] => {
    const hz = chooseOne(rig, piece.id);
    return hz === undefined || hz === piece.onHz ? [] : [{ kind: 'set-frequency', piece: piece.id, hz }];
  });
  const all = chooseAll(rig).choices.flatMap(({ set, nowHz, hz }): Fix[] =>
    hz === undefined || hz === nowHz ? [] : [{ kind: 'set-frequency', piece: set.piece.id, hz }],
  );
  return [...each, ...(all.length > 1 ? [{ kind: 'several', fixes: all } as const] : [])].flatMap((fix) => curing.cure(fix) ?? []);
}
