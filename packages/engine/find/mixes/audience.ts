/** What must not reach the audience: a click or a talkback on its way to the house by itself, in a mix for it, or in somebody's mix that it takes. */
import { type HouseRun, isPrivate, type Mix, type Place, type Rig, type Source } from '#rig';
import type { Fix } from '../../cure/fix';
import { privatePart, runName } from '../../solve/naming';
import type { Line, Network } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function audience(net: Network): Finding[] {
  const { mixes, house, noHouse, sources, pieces } = net.rig;
  const of: unknown[] = [mixes, house, noHouse, sources, pieces];
  for (const { id, privateOutputs } of sources.values()) if (privateOutputs) of.push(net.linesOf(id));
  return net.kept.once('audience', undefined, of, () => reaching(net));
}

function reaching(net: Network): Finding[] {
  const { rig } = net;
  const findings: Finding[] = [];
  const byHouse = takenByHouse(rig);
  for (const mix of rig.mixes.values()) {
    const run = byHouse.get(mix.id);
    if (!mix.house && !run) continue;
    for (const { source: id, channel, place } of mix.sends) {
      const source = rig.sources.get(id);
      const comes = net.linesOf(id).filter((line) => line.run.kind === 'input');
      if (source && hasPrivate(source, channel, comes))
        findings.push(told(rig, source, place, { run, mix }, { kind: 'remove-send', send: place }));
    }
  }
  for (const run of rig.house) {
    const source = run.takes?.kind === 'source' ? rig.sources.get(run.takes.id) : undefined;
    if (
      !source ||
      !hasPrivate(
        source,
        run.takes?.port,
        net.linesOf(source.id).filter((line) => line.run === run),
      )
    )
      continue;
    findings.push(told(rig, source, `${run.id}/takes`, { run }, { kind: 'remove', statement: run.id }));
  }
  return findings;
}

/** Whether something private is in what is taken of a source: by the output that is named, or by those whose lines come there. */
function hasPrivate(source: Source, output: string | undefined, lines: readonly Line[]): boolean {
  if (output !== undefined || !source.privateOutputs) return isPrivate(source, output);
  return lines.some(({ channel }) => channel !== undefined && isPrivate(source, channel));
}

function told(rig: Rig, source: Source, place: Place, by: { run?: HouseRun; mix?: Mix }, out: Fix): Finding {
  const { run, mix } = by;
  const channels = rig.pieces
    .get(source.id)
    ?.model.ports.flatMap(({ direction, separate, id }) => (direction === 'output' && separate ? id : []));
  const figures = {
    source: privatePart(source),
    mix: mix?.label,
    run: run && runName(rig, run),
    ours: rig.noHouse !== undefined,
    channels: source.privateOutputs ? [] : (channels ?? []),
  };
  const related = [{ place: source.place, says: BESIDE.forBandAlone(figures.source) }];
  if (!source.soundsPrivate) return finding('mixes/private-to-house', place, figures, { related, fixes: [out] });
  return finding('mixes/may-be-private', place, figures, { fixes: [out, { kind: 'set-privacy', source: source.id, to: 'public' }] });
}

/** The house line that takes each mix. */
export function takenByHouse(rig: Rig): ReadonlyMap<string, HouseRun> {
  const taken = new Map<string, HouseRun>();
  for (const run of rig.house) if (run.takes?.kind === 'mix' && !taken.has(run.takes.id)) taken.set(run.takes.id, run);
  return taken;
}
