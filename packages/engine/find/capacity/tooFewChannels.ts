/** Lines on an expander that its link has no channel for, at the rig's sample rate. */
import type { Piece } from '#rig';
import type { Fix } from '../../cure/fix';
import { isMovable } from '../../cure/move';
import { channelsAt, type Link, linksOf, openInputs } from '../../solve/links';
import { signalLabel } from '../../solve/naming';
import { inputsInto, type Line, type Network } from '../../solve/network';
import { canTake, demandOf } from '../../solve/ports';
import { BESIDE } from '../../words/beside';
import { hertz } from '../../words/phrases';
import { type Finding, finding } from '../finding';

export function tooFewChannels(net: Network): Finding[] {
  const byGear = new Map<Piece, Link[]>();
  for (const link of linksOf(net)) {
    const there = byGear.get(link.from);
    if (there) there.push(link);
    else byGear.set(link.from, [link]);
  }
  return [...byGear].flatMap(([from, links]) =>
    net.kept.unlessNone('too few channels', from, [...links, ...inputsInto(net, from)], () => ofGear(net, from, links)),
  );
}

function ofGear(net: Network, from: Piece, links: readonly Link[]): Finding[] {
  const [first] = links;
  const carried = new Set(links.flatMap((link) => link.carried));
  const offered = new Set(links.flatMap((link) => link.offered));
  const landed = inputsInto(net, from).filter(({ end }) => offered.has(end?.port.id ?? ''));
  const beyond = landed.filter(({ end }) => !carried.has(end?.port.id ?? ''));
  if (!first || beyond.length === 0) return [];
  const free = openInputs(net, from).filter(({ id }) => carried.has(id));
  const slower = lowerRate(net, links, new Set(landed.map(({ end }) => end?.port.id ?? '')));
  const fixes: Fix[] = slower === undefined ? [] : [{ kind: 'rewrite', place: 'rig/rate', with: `rate ${hertz(slower.rateHz)}` }];
  const figures = {
    gear: from.label,
    to: first.to.label,
    rateHz: net.rig.settings.rateHz,
    carried: [...carried],
    sources: beyond.map((line) => signalLabel(net.rig, line.signal)),
    ports: beyond.map(({ end }) => end?.port.id ?? ''),
    free: free.map(({ id }) => id),
    lower: slower,
  };
  return [
    finding('capacity/too-few-channels', `${first.run.id}/port`, figures, {
      related: beyond
        .slice(0, 8)
        .map((line) => ({ place: `${line.run.id}/port`, says: BESIDE.pluggedHere(signalLabel(net.rig, line.signal)) })),
      fixes: [...fixes, ...moved(net, beyond, from, first.to, carried)],
    }),
  ];
}

/** The highest of the lower rates of the same family at which the links carry all that lands there. */
function lowerRate(
  net: Network,
  links: readonly Link[],
  used: ReadonlySet<string>,
): { readonly rateHz: number; readonly channels: number } | undefined {
  for (const share of [2, 4]) {
    const rateHz = net.rig.settings.rateHz / share;
    if (rateHz < 44_100) return undefined;
    const carried = new Set<string>();
    for (const link of links) {
      const more = link.offered.filter((id) => !carried.has(id)).slice(0, channelsAt(link.output, link.input, rateHz));
      for (const id of more) carried.add(id);
    }
    if ([...used].every((id) => carried.has(id))) return { rateHz, channels: carried.size };
  }
  return undefined;
}

/** All of them onto inputs that the link carries, or onto the device that it leads to. */
function moved(net: Network, lines: readonly Line[], from: Piece, to: Piece, carried: ReadonlySet<string>): Fix[] {
  const places = [
    ...openInputs(net, from).flatMap((port) => (carried.has(port.id) ? [{ port, gear: undefined }] : [])),
    ...openInputs(net, to).map((port) => ({ port, gear: to.name })),
  ];
  const moves: Fix[] = [];
  for (const line of lines) {
    const { run } = line;
    const demand = demandOf(net, line);
    const at = run.kind === 'input' && isMovable(run) ? places.findIndex(({ port }) => canTake(port, demand)) : -1;
    const [place] = at < 0 ? [] : places.splice(at, 1);
    if (!place) return [];
    moves.push({ kind: 'move', run: run.id, port: place.port.id, gear: place.gear });
  }
  return moves.length === 1 ? moves : [{ kind: 'several', fixes: moves }];
}
