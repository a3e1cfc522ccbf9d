/** How the things of a rig are called in a sentence. */
import type { Rig, Run, Source } from '#rig';
import { findPort, type Socket, sidesOf } from './network';

/** `Interface 3`, `house 8`, `Bass DI thru`. */
export function socketName(socket: Socket): string {
  if (socket.piece.kind === 'house') return socket.piece.label;
  const { inputs, outputs } = sidesOf(socket.piece.model);
  const alike = socket.port.direction === 'input' ? inputs : outputs;
  return alike.length === 1 ? socket.piece.label : `${socket.piece.label} ${socket.port.id}`;
}

/** As `socketName`, where input 1 and output 1 of the same gear can stand side by side: `Interface in 1`. */
export function plugName(socket: Socket): string {
  const { piece, port } = socket;
  const twin = findPort(piece, port.id, port.direction === 'input' ? 'output' : 'input') !== undefined;
  return twin && piece.kind !== 'house' ? `${piece.label} ${port.direction === 'input' ? 'in' : 'out'} ${port.id}` : socketName(socket);
}

/** As it is written in a rig: `iface.3`. Fresh pieces have no name to write. */
export function socketText(socket: Socket): string {
  return `${socket.piece.name ?? socket.piece.model.id}.${socket.port.id}`;
}

export function runName(rig: Rig, run: Run): string {
  if (run.kind === 'house') return `house ${run.number}`;
  const end = run.kind === 'input' ? run.to : run.from;
  const label = rig.pieces.get(end.piece)?.label ?? '';
  return `${label} ${run.kind} ${end.ports.length > 1 ? `${end.ports[0]}..${end.ports.at(-1)}` : (end.ports[0] ?? '')}`.trim();
}

export function signalLabel(rig: Rig, id: string | undefined): string {
  if (id === undefined) return '';
  return rig.sources.get(id)?.label ?? rig.mixes.get(id)?.label ?? rig.pieces.get(id)?.label ?? '';
}

/** What of a source is for the band alone: `Click`, `the click of Player`. */
export function privatePart({ label, privateOutputs }: Source): string {
  return privateOutputs ? `the ${privateOutputs.join(' and ')} of ${label}` : label;
}
