/** Ports that a rig writes and its gear does not have. */
import type { Piece, Port } from '#rig';
import { outOfRun } from '../arriving';
import { type Finding, type Fix, finding } from '../findings';
import { type Network, socket } from '../network';
import { canTake } from '../ports';

export function missingPorts(net: Network): Finding[] {
  return net.snags.flatMap((snag) => {
    if (snag.kind !== 'no-such-port' || snag.direction === 'any') return [];
    const direction = snag.direction;
    const of = snag.piece.model.ports.filter((port) => port.direction === direction);
    const used = direction === 'input' ? net.entering : net.leaving;
    const open = of.filter((port) => !used.has(socket(snag.piece, port).key)).map((port) => port.id);
    // Who writes `iface.9` is not after a playback channel, usb3.
    const alike = open.filter((id) => stem(id) === stem(snag.ref.port ?? ''));
    const free = alike.length > 0 ? alike : open;
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
          source: snag.piece.kind === 'source',
        },
        {
          about: [snag.piece.id],
          related: [{ place: snag.piece.model.place, says: `what ${snag.piece.label} is made of` }],
          fixes: otherPorts(net, snag.ref.place, snag.piece, open),
        },
      ),
    ];
  });
}

/** Ports of the same gear that would do instead of one that is not there. `open` are those of its direction with no plug in them. */
function otherPorts(net: Network, place: string, piece: Piece, open: readonly string[]): Fix[] {
  const input = net.rig.inputs.find((run) => `${run.id}/port` === place);
  const output = net.rig.outputs.find((run) => `${run.id}/port` === place);
  const run = input ?? output;
  if (!run) return piece.name === undefined ? [] : open.slice(0, 3).map((id) => ({ kind: 'rewrite', place, with: `${piece.name}.${id}` }));
  const wanted = input ? input.to.ports : (output?.from.ports ?? []);
  if (wanted.length !== 1) return [];
  const others = input
    ? net.rig.inputs.map((each) => ({ run: each.id, end: each.to }))
    : net.rig.outputs.map((each) => ({ run: each.id, end: each.from }));
  const written = new Set(others.flatMap((each) => (each.run !== run.id && each.end.piece === piece.id ? each.end.ports : [])));
  const demands = input ? outOfRun(net, input) : [];
  const suits = (port: Port) => (input ? demands.some((demand) => canTake(port, demand)) : port.modes[0]?.kind === 'line');
  const fitting = piece.model.ports.filter(
    (port) => port.direction === (input ? 'input' : 'output') && open.includes(port.id) && !written.has(port.id) && suits(port),
  );
  return fitting.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port: port.id }));
}

const stem = (port: string) => port.replace(/\d+$/, '');
