/** Gear that is there to bring its inputs to another device, or the mixes of another to its outputs, and is not linked to any. */
import type { InputRun, Piece, Port, Rig } from '#rig';
import type { Fix } from '../../cure/fix';
import { outAt } from '../../solve/arriving';
import { openInputs, unfed } from '../../solve/links';
import { signalLabel, socketText } from '../../solve/naming';
import { type Network, socket } from '../../solve/network';
import { canTake } from '../../solve/ports';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

/**
 * Told once for the gear, with all that is plugged into it and sent to a mix, and only where that is plugged in nowhere else.
 * Gear that makes mixes itself needs no link.
 */
export function withoutLink(net: Network): Finding[] {
  return net.rig.mixes.size === 0 ? [] : [...goingNowhere(net), ...gettingNothing(net)];
}

/** What mixes leave by, and none comes to. */
function gettingNothing(net: Network): Finding[] {
  return [...unfed(net)].flatMap(([id, { runs, input, from }]) => {
    const piece = net.rig.pieces.get(id);
    if (!piece?.name) return [];
    const port = `${piece.name}.${input.id}`;
    const names = from.map((each) => socketText(socket(each.piece, each.output)));
    const mixes = [...new Set(runs.flatMap(({ carries }) => carries ?? []))];
    return [
      finding(
        'capacity/no-link',
        piece.place,
        {
          gear: piece.label,
          name: piece.name,
          socket: input.id,
          brings: names,
          names: [],
          sources: [],
          mixes: mixes.map((mix) => signalLabel(net.rig, mix)),
          free: [port],
        },
        {
          about: mixes,
          related: runs.slice(0, 8).map((run) => ({ place: `${run.id}/port`, says: BESIDE.leavesHere(signalLabel(net.rig, run.carries)) })),
          fixes: names.slice(0, 3).map((source): Fix => ({ kind: 'add-input', source, port })),
        },
      ),
    ];
  });
}

function goingNowhere(net: Network): Finding[] {
  const { rig, kept } = net;
  const linked = new Set<string>();
  for (const { takes } of rig.inputs) if (takes?.kind === 'gear') linked.add(takes.id);
  const loose = kept
    .ofRig('hands on', rig, ['pieces'], handingOn)
    .filter(({ piece, ways }) => !linked.has(piece.id) && !ways.some((port) => net.leaving.has(socket(piece, port).key)));
  if (loose.length === 0) return [];
  const sent = new Map<string, Set<string>>();
  for (const mix of net.rig.mixes.values()) {
    for (const { source } of mix.sends) sent.set(source, (sent.get(source) ?? new Set()).add(mix.id));
  }
  const onGear = new Map<string, InputRun[]>();
  const landings = new Map<string, Set<string>>();
  for (const run of net.rig.inputs) {
    if (run.takes?.kind !== 'source') continue;
    const there = onGear.get(run.to.piece);
    if (there) there.push(run);
    else onGear.set(run.to.piece, [run]);
    landings.set(run.takes.id, (landings.get(run.takes.id) ?? new Set()).add(run.to.piece));
  }
  return loose.flatMap(({ piece, output }) => {
    const runs = (onGear.get(piece.id) ?? []).filter(({ takes }) => sent.has(takes?.id ?? '') && landings.get(takes?.id ?? '')?.size === 1);
    const wanted = [...new Set(runs.flatMap(({ takes }) => takes?.id ?? []))];
    if (wanted.length === 0) return [];
    const sources = wanted.flatMap((id) => net.rig.sources.get(id) ?? []);
    const places = wayIn(net, piece, output);
    return [
      finding(
        'capacity/no-link',
        piece.place,
        {
          gear: piece.label,
          name: piece.name ?? '',
          socket: output.id,
          brings: undefined,
          names: sources.map(({ name }) => name),
          sources: sources.map(({ label }) => label),
          mixes: [...new Set(wanted.flatMap((id) => [...(sent.get(id) ?? [])]))].map((id) => signalLabel(net.rig, id)),
          free: places,
        },
        {
          about: wanted,
          related: runs
            .slice(0, 8)
            .map((run) => ({ place: `${run.id}/port`, says: BESIDE.pluggedHere(signalLabel(net.rig, run.takes?.id)) })),
          fixes: places.slice(0, 3).map((port): Fix => ({ kind: 'add-input', source: piece.name ?? '', port })),
        },
      ),
    ];
  });
}

interface HandingOn {
  readonly piece: Piece;
  readonly output: Port;
  /** All outputs by which the same comes out: by others, mixes leave. */
  readonly ways: readonly Port[];
}

/** Gear that makes no mixes and hands on what comes in. */
function handingOn({ pieces }: Pick<Rig, 'pieces'>): readonly HandingOn[] {
  return [...pieces.values()].flatMap((piece) => {
    const output = piece.kind === 'gear' && !piece.model.mixes ? passingOn(piece) : undefined;
    if (!output) return [];
    const ways = piece.model.ports.filter(({ tie }) => tie?.inputs.some((id) => output.tie?.inputs.includes(id)));
    return [{ piece, output, ways }];
  });
}

/** The output by which gear hands on what comes in, as numbers. */
function passingOn(piece: Piece): Port | undefined {
  return piece.model.ports.find(
    ({ direction, tie, modes }) => direction === 'output' && tie !== undefined && modes.some((mode) => mode.kind === 'digital'),
  );
}

/** Free inputs for a link, on what makes mixes: `iface.optical`. */
function wayIn(net: Network, from: Piece, output: Port): string[] {
  return [...net.rig.pieces.values()].flatMap((device) =>
    device.kind === 'gear' && device.model.mixes && device !== from
      ? openInputs(net, device).flatMap((port) =>
          port.connector !== undefined && canTake(port, outAt(output)) ? [`${device.name}.${port.id}`] : [],
        )
      : [],
  );
}
