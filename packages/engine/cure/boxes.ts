/** A DI in between. */
import type { Piece, Port } from '#rig';
import { socketText } from '../solve/naming';
import { type Line, type Network, type Socket, stepOf } from '../solve/network';
import { canTake, freeInputs, gives48V, needsPhantom } from '../solve/ports';
import type { Fix } from './fix';

/** What a DI or a split gives on: an XLR at microphone level. */
export const FROM_A_BOX: Port = { id: '', direction: 'output', connector: 'xlr', modes: [], separate: false, bank: 0, place: '' };

/** A DI at the end of a run, where its input is one for microphones; else together with a move to one that is. */
export function boxed(net: Network, line: Line | undefined, where: 'first' | 'last'): Fix[] {
  const end = line?.end;
  if (!line || !end || line.run.kind === 'output') return [];
  const { run } = line;
  const here = boxFor(end.port, run.kind === 'input' ? run.to.ports.length : 1);
  if (here) return [{ kind: 'add-step', run: run.id, model: here, where }];
  if (run.kind !== 'input' || run.to.ports.length !== 1) return [];
  const free = freeInputs(net, end.piece).filter((port) => boxFor(port) === 'active-di');
  return free.slice(0, 2).map((port) => ({
    kind: 'several',
    fixes: [
      { kind: 'move', run: run.id, port: port.id },
      { kind: 'add-step', run: run.id, model: 'active-di', where },
    ],
  }));
}

/** The DI to put before as many inputs: one that needs phantom power only where there is some. None before a line input. */
function boxFor(port: Port, channels = 1): string | undefined {
  if (!canTake(port, { output: FROM_A_BOX, kinds: ['mic'], phantom: false })) return undefined;
  if (channels > 1) return channels === 2 ? 'stereo-di' : undefined;
  return gives48V(port) ? 'active-di' : 'passive-di';
}

/** Whether gear has an input for what a DI gives on. */
export function takesFromBox({ model }: Piece, { port: output }: Socket): boolean {
  return model.ports.some((port) => takesFrom(port, output));
}

function takesFrom(port: Port, output: Port): boolean {
  return canTake(port, { output, kinds: ['mic'], phantom: needsPhantom(output) });
}

/** The balanced output of a DI instead of its thru; behind a split where another line has it, which then takes the side that is left. */
export function notByThru(net: Network, line: Line | undefined, output: Socket): Fix[] {
  const end = line?.end;
  if (!line || !end || line.run.kind !== 'input' || line.run.to.ports.length !== 1) return [];
  const { run } = line;
  const step = stepOf(run, output.piece);
  const others = [...new Set((net.leaving.get(output.key) ?? []).flatMap(({ runs }) => runs))];
  if (step < 0 || others.some(({ via }) => via.length > 1)) return [];
  const way: Fix[] = [
    { kind: 'replace-step', step: `${run.id}/via.${step}`, with: `${socketText(output)}${others.length > 0 ? ', y-lead' : ''}` },
    ...others.flatMap((other): Fix[] => (other.via.length > 0 ? [{ kind: 'remove-step', step: `${other.id}/via.0` }] : [])),
  ];
  if (takesFrom(end.port, output.port)) return [{ kind: 'several', fixes: way }];
  const free = freeInputs(net, end.piece).filter((port) => takesFrom(port, output.port));
  return free.slice(0, 2).map(({ id }) => ({ kind: 'several', fixes: [{ kind: 'move', run: run.id, port: id }, ...way] }));
}
