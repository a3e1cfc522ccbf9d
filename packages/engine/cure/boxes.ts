/** A DI in between. */
import type { Port } from '#rig';
import type { Line, Network } from '../solve/network';
import { canTake, freeInputs, gives48V } from '../solve/ports';
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
