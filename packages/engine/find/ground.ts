/** Whether metal joins our ground and the house's, and hums. */
import type { Fix } from '../cure/fix';
import type { MetalPath } from '../solve/metalPaths';
import { plugName } from '../solve/naming';
import { type Network, stepOf } from '../solve/network';
import { wholePath } from '../solve/path';
import { canSupply, type Needy, type Supplies } from '../solve/supply';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

/**
 * One for the whole rig, unless it says that one mains distribution feeds all. One balanced lead between the two is no reason to
 * speak: what flows in its shield is no part of the signal. Common practice, no source.
 */
export function ground(net: Network, paths: readonly MetalPath[], supplies: Supplies): Finding[] {
  const [first] = paths;
  if (!first || net.rig.settings.sharedMains) return [];
  if (paths.length < 2 && !first.unbalanced) return [];
  const cures = paths.map((path) => isolated(net, path, supplies));
  const all = [...new Map(cures.flatMap((fix) => (fix ? [[fix.step, fix] as const] : []))).values()];
  const { run } = first.line;
  return [
    finding(
      paths.some(({ unbalanced }) => unbalanced) ? 'ground/unbalanced-path' : 'ground/metal-path',
      `${run.id}/${run.kind === 'output' ? 'carries' : 'takes'}`,
      {
        paths: paths.map((path) => ({
          house: metAt(path),
          earth: path.earth.label,
          lead: `${plugName(path.isolate.from)} to ${plugName(path.isolate.to)}`,
          mix: path.line.run.kind === 'output',
          feeds: fedBy(net, path, supplies)?.piece.label,
          piezo: piezoAt(net, path),
          unbalanced: path.unbalanced,
        })),
      },
      {
        related: paths.slice(1).map(({ line, earth }) => ({ place: line.run.place, says: BESIDE.metalToo(earth.label) })),
        fixes: cures.every((fix) => fix) ? (all.length === 1 ? all : [{ kind: 'several', fixes: all }]) : [],
      },
    ),
  ];
}

/** What of the house's a path starts at: `house 3`, its feed, the plug at its desk. */
function metAt({ at }: MetalPath): string {
  return at.piece.kind === 'source' ? at.piece.label : plugName(at);
}

/** Our side behind a transformer instead of copper, where that is all there is to it and the house can give the phantom power. */
export function isolated(net: Network, path: MetalPath, supplies: Supplies): Extract<Fix, { kind: 'replace-step' }> | undefined {
  const { line: theirs, joints, isolate } = path;
  const { piece } = isolate.from;
  const ours = net.linesThrough(isolate).find(({ run }) => run.kind === 'input');
  const step = ours ? stepOf(ours.run, piece) : -1;
  if (!ours || step !== ours.run.via.length - 1 || step < 0 || piece.kind !== 'fresh' || piece.model.id !== 'y-lead') return undefined;
  // What comes out of it on their side has to be the side that is left.
  if (theirs.run.kind !== 'house' || theirs.run.via.length > 0 || joints.length !== 2) return undefined;
  if (fedBy(net, path, supplies)) return undefined;
  return { kind: 'replace-step', step: `${ours.run.id}/via.${step}`, with: 'transformer-split.iso' };
}

/** The piezo whose signal the lead at which a path would be isolated carries as it comes: a passive DI there would load it. */
function piezoAt(net: Network, { isolate }: MetalPath): string | undefined {
  const line = net.linesThrough(isolate)[0];
  const path = line ? wholePath(net, line) : [];
  const start = path[0]?.from;
  const before = path.slice(0, path.indexOf(isolate) + 1);
  const bare = before.every(({ from }, index) => index === 0 || from.port.modes.length === 0);
  return bare && start?.port.modes.some(({ capacitanceF }) => capacitanceF !== undefined) ? start.piece.label : undefined;
}

/** What has its phantom power over the lead at which a path would be isolated, and nobody else to give it. */
function fedBy(net: Network, { line: theirs, isolate }: MetalPath, supplies: Supplies): Needy | undefined {
  const ours = net.linesThrough(isolate).find(({ run }) => run.kind === 'input');
  const needy = ours && supplies.needyOn(ours);
  const fed = needy?.suppliers.some((way) => way.line === ours);
  return fed && !needy?.ways.some((way) => way.line === theirs && canSupply(way)) ? needy : undefined;
}
