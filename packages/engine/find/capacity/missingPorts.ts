/** Ports that a rig writes and its gear does not have. */
import type { InputRun, OutputRun, Piece, Port } from '#rig';
import type { Fix } from '../../cure/fix';
import { outOfRun } from '../../solve/arriving';
import { type Network, socket } from '../../solve/network';
import { canTake } from '../../solve/ports';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';

export function missingPorts(net: Network): Finding[] {
  return net.snags.flatMap((snag) => {
    if (snag.kind !== 'no-such-port' || snag.direction === 'any') return [];
    const direction = snag.direction;
    const of = snag.piece.model.ports.filter((port) => port.direction === direction);
    const used = direction === 'input' ? net.entering : net.leaving;
    const open = of.filter((port) => !used.has(socket(snag.piece, port).key)).map((port) => port.id);
    const run = runAt(net, snag.ref.place);
    const fitting = run ? fittingPorts(net, run, snag.piece, open) : open;
    // Who writes `iface.9` is not after a playback channel, usb3.
    const alike = fitting.filter((id) => stem(id) === stem(snag.ref.port ?? ''));
    const free = alike.length > 0 ? alike : fitting;
    return [
      finding(
        'capacity/no-such-port',
        snag.ref.place,
        {
          gear: snag.piece.label,
          direction,
          port: snag.ref.port ?? '',
          ports: of.map((port) => port.id),
          free,
          open: open.length > 0,
          source: snag.piece.kind === 'source',
        },
        {
          about: [snag.piece.id],
          related: [{ place: snag.piece.model.place, says: BESIDE.madeOf(snag.piece.label) }],
          fixes: otherPorts(run, snag.ref.place, snag.piece, free),
        },
      ),
    ];
  });
}

/** The line that a port was written for. */
function runAt({ rig }: Network, place: string): InputRun | OutputRun | undefined {
  return [...rig.inputs, ...rig.outputs].find((run) => `${run.id}/port` === place);
}

/** Of ports with no plug in them those that suit a line, and that no other line has written. */
function fittingPorts(net: Network, run: InputRun | OutputRun, piece: Piece, open: readonly string[]): string[] {
  const others =
    run.kind === 'input'
      ? net.rig.inputs.map((each) => ({ run: each.id, end: each.to }))
      : net.rig.outputs.map((each) => ({ run: each.id, end: each.from }));
  const written = new Set(others.flatMap((each) => (each.run !== run.id && each.end.piece === piece.id ? each.end.ports : [])));
  const demands = run.kind === 'input' ? outOfRun(net, run) : [];
  // Earphones with nothing on the way are plugged into a socket for them; what is on the way wants a line.
  const given = run.via.length === 0 ? ['line', 'phones'] : ['line'];
  const suits = (port: Port) =>
    run.kind === 'input' ? demands.some((demand) => canTake(port, demand)) : given.includes(port.modes[0]?.kind ?? '');
  return piece.model.ports
    .filter((port) => port.direction === run.kind && open.includes(port.id) && !written.has(port.id) && suits(port))
    .map((port) => port.id);
}

/** Ports of the same gear that would do instead of one that is not there. */
function otherPorts(run: InputRun | OutputRun | undefined, place: string, piece: Piece, free: readonly string[]): Fix[] {
  if (!run) return piece.name === undefined ? [] : free.slice(0, 3).map((id) => ({ kind: 'rewrite', place, with: `${piece.name}.${id}` }));
  const ports = run.kind === 'input' ? run.to.ports : run.from.ports;
  return ports.length === 1 ? free.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port })) : [];
}

const stem = (port: string) => port.replace(/\d+$/, '');
