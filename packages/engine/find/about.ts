/** What findings are about, by ids. Two things may have one label, so a label never says which of them is meant. */
import type { Place, Rig, Run } from '#rig';
import { statementOf } from '../solve/ids';
import { type Finding, toldIn } from './finding';

/** Findings with the ids of what stands at their places, besides those that they were made with, and told in the rig's unit of length. */
export function identified(rig: Rig, findings: readonly Finding[]): Finding[] {
  if (findings.length === 0) return [];
  const runs = new Map<string, Run>();
  for (const all of [rig.inputs, rig.house, rig.outputs]) for (const run of all) runs.set(run.id, run);
  return toldIn(rig.settings, findings).map((finding) => {
    const about = [...new Set(finding.about)];
    for (const id of standingAt(rig, runs, finding.place)) if (!about.includes(id)) about.push(id);
    return { ...finding, about };
  });
}

function standingAt(rig: Rig, runs: ReadonlyMap<string, Run>, place: Place): readonly string[] {
  const statement = statementOf(place);
  const part = place.slice(statement.length + 1);
  const run = runs.get(statement);
  if (run) return [run.id, ...inRun(run, part)];
  const mix = rig.mixes.get(statement);
  if (mix) return [mix.id, ...mix.sends.flatMap((send) => (send.place === place ? [send.source] : []))];
  const piece = rig.pieces.get(statement);
  if (piece) return [piece.id, ...piece.for, ...(part === 'hears' && piece.hears ? [piece.hears.piece] : [])];
  return rig.performers.has(statement) ? [statement] : [];
}

/** The signal of a run; with it the step or the gear at its end, where the part is one of these. */
function inRun(run: Run, part: string): readonly string[] {
  const signal = (run.kind === 'output' ? run.carries : run.takes?.id) ?? [];
  const step = part.startsWith('via.') ? (run.via[Number(part.slice(4))]?.piece ?? []) : [];
  const end = run.kind === 'house' ? { piece: run.piece, ports: [] } : run.kind === 'input' ? run.to : run.from;
  const gear = step.length > 0 || part === 'takes' || part === 'carries' ? [] : [end.piece, ...end.ports.map((id) => `${end.piece}.${id}`)];
  return [signal, step, gear].flat();
}
