/** Mixes that leave a device, against those that it can make. */
import type { Mix, OutputRun } from '#rig';
import type { Fix } from '../../cure/fix';
import { runName } from '../../solve/naming';
import type { Network } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

/** How many of a mixer's mixes, all of one width, so many take. Two mono mixes fit on one stereo mix, one on each side. */
export function mixesNeeded(width: 'mono' | 'stereo', stereo: number, mono: number): number {
  return width === 'stereo' ? stereo + Math.ceil(mono / 2) : stereo * 2 + mono;
}

/** Whoever hears the last mix hears another instead. */
function shared({ rig }: Network, run: OutputRun, mixes: readonly Mix[]): Fix[] {
  const mix = rig.mixes.get(run.carries ?? '');
  const [performer, ...more] = (mix?.for ?? []).flatMap((id) => rig.performers.get(id) ?? []);
  if (!mix || !performer || more.length > 0 || mix.house) return [];
  return mixes
    .filter((other) => other !== mix && other.stereo === mix.stereo && !other.house && other.for.length > 0)
    .slice(0, 3)
    .map((other) => ({
      kind: 'several',
      fixes: [
        { kind: 'add-listener', mix: other.id, performer: performer.name },
        { kind: 'rewrite', place: `${run.id}/carries`, with: other.name },
        { kind: 'remove', statement: mix.id },
      ],
    }));
}

/** From one up. */
const counting = (to: number) => Array.from({ length: to }, (_, index) => index + 1);

export function tooManyMixes(net: Network): readonly Finding[] {
  const { outputs, pieces, mixes, performers } = net.rig;
  return net.kept.once('too many mixes', undefined, [outputs, pieces, mixes, performers], () => findTooMany(net));
}

function findTooMany(net: Network): Finding[] {
  const findings: Finding[] = [];
  const byPiece = new Map<string, OutputRun[]>();
  for (const run of net.rig.outputs) {
    const runs = byPiece.get(run.from.piece);
    if (runs) runs.push(run);
    else byPiece.set(run.from.piece, [run]);
  }
  for (const [id, runs] of byPiece) {
    const piece = net.rig.pieces.get(id);
    const mixer = piece?.model.mixes;
    if (!piece || !mixer) continue;
    const mixes = [...new Set(runs.flatMap((run) => run.carries ?? []))].flatMap((mix) => net.rig.mixes.get(mix) ?? []);
    const stereo = mixes.filter((mix) => mix.stereo).length;
    const mono = mixes.length - stereo;
    const needed = mixesNeeded(mixer.width, stereo, mono);
    if (needed <= mixer.count) continue;
    const last = runs.at(-1) as OutputRun;
    const toMono = counting(stereo).find((n) => mixesNeeded(mixer.width, stereo - n, mono + n) <= mixer.count);
    const fixes: Fix[] =
      toMono === 1
        ? mixes
            .filter((mix) => mix.stereo)
            .reverse()
            .slice(0, 3)
            .map((mix) => ({ kind: 'set-width', mix: mix.id, width: 'mono' }))
        : shared(net, last, mixes);
    findings.push(
      finding(
        'capacity/too-many-mixes',
        `${last.id}/carries`,
        { gear: piece.label, stereo, mono, needed, count: mixer.count, width: mixer.width, toMono },
        {
          about: [piece.id],
          related: [
            ...runs.slice(0, -1).map((run) => ({ place: `${run.id}/carries`, says: BESIDE.carriesOne(runName(net.rig, run)) })),
            { place: piece.model.place, says: BESIDE.madeOf(piece.label) },
          ],
          fixes,
        },
      ),
    );
  }
  return findings;
}
