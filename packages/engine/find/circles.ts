/** What is plugged round in a circle. */
import type { Place, Run } from '#rig';
import type { Fix } from '../cure/fix';
import { circles, intoItself, type Return } from '../solve/circles';
import { plugName, signalLabel } from '../solve/naming';
import { type Joint, type Network, stepOf } from '../solve/network';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

/** Gear that gets what it gives. */
export function inCircles(net: Network): Finding[] {
  const runs: readonly Run[] = [...net.rig.inputs, ...net.rig.house, ...net.rig.outputs];
  return [...circles(net), ...intoItself(net)].map((joints) => {
    const pieces = [...new Set(joints.map(({ from }) => from.piece))];
    const lines = [...new Set(joints.flatMap((joint) => joint.runs[0] ?? []))].sort((a, b) => runs.indexOf(a) - runs.indexOf(b));
    const last = lines.at(-1) as Run;
    const joint = joints.findLast((each) => each.runs[0] === last) as Joint;
    return finding(
      'splits/circle',
      placeOf(joint, last),
      { gear: pieces.map(({ label }) => label), driven: joints.some(({ from }) => from.port.tie?.how === 'active') },
      {
        about: pieces.map(({ id }) => id),
        related: lines.slice(0, -1).map(({ place }) => ({ place, says: BESIDE.ofCircle })),
        fixes: last.kind === 'input' ? [{ kind: 'remove', statement: last.id }] : [],
      },
    );
  });
}

/** Mixes that come back into the gear that makes them. */
export function comingBack(net: Network, returns: readonly Return[]): Finding[] {
  return returns.map(({ mix, line, from, by, sources }) => {
    const run = by.runs[0] as Run;
    const figures = { mix: mix.label, from: plugName(from), into: plugName(by.to) };
    const more = {
      about: [mix.id, from.piece.id, ...sources],
      related: run === line.run ? [] : [{ place: line.run.place, says: BESIDE.goesOut(mix.label) }],
      fixes: cures(run, line.run, by, mix.for.length > 0),
    };
    const place = placeOf(by, run);
    return sources.length > 0
      ? finding('mixes/feedback', place, { ...figures, sources: sources.map((id) => signalLabel(net.rig, id)) }, more)
      : finding('mixes/into-own-input', place, figures, more);
  });
}

/** To ears instead, where somebody is to hear it. */
function cures(run: Run, carrying: Run, by: Joint, heard: boolean): Fix[] {
  const step = stepOf(run, by.to.piece);
  if (run.kind === 'output') {
    if (step < 0) return [];
    const place = `${run.id}/via.${step}`;
    return heard && step === 0 && run.via.length === 1 ? [{ kind: 'replace-step', step: place, with: 'headphone-amp' }] : [];
  }
  if (run.kind !== 'input') return [];
  const removed: Fix = { kind: 'remove', statement: run.id };
  const instead: Fix = { kind: 'replace-step', step: `${carrying.id}/via.0`, with: 'headphone-amp' };
  // What it is plugged into instead of ears keeps what else goes through it.
  if (heard && carrying.via.length === 1 && carrying.via[0]?.piece === by.from.piece.id) return [instead];
  if (!heard || carrying.via.length > 0) return [removed];
  return [{ kind: 'several', fixes: [removed, { kind: 'add-step', run: carrying.id, model: 'headphone-amp', where: 'first' }] }];
}

function placeOf(joint: Joint, run: Run): Place {
  const step = stepOf(run, joint.to.piece);
  if (step >= 0) return `${run.id}/via.${step}`;
  return run.kind === 'output' ? `${run.id}/carries` : `${run.id}/takes`;
}
