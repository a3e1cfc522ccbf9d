/** What is written to be set at inputs that have no such knob or switch, whatever comes in. */
import type { InputRun, Mode } from '#rig';
import type { Levels } from '../../solve/levels';
import { signalLabel, socketName } from '../../solve/naming';
import { findPort, type Line, type Network, socket } from '../../solve/network';
import { type Finding, finding } from '../finding';

export function settings(net: Network, levels: Levels): Finding[] {
  const set = net.rig.inputs.filter(({ pad, gainDb }) => pad || gainDb !== undefined);
  if (set.length === 0) return [];
  const lines = new Map<InputRun, Line>();
  for (const line of net.lines) if (line.run.kind === 'input' && !lines.has(line.run)) lines.set(line.run, line);
  return set.flatMap((run) => {
    const piece = net.rig.pieces.get(run.to.piece);
    const [port] = run.to.ports.flatMap((id) => (piece && findPort(piece, id, 'input')) ?? []);
    if (!piece || !port || port.modes.length === 0) return [];
    const line = lines.get(run);
    const arrival = line && levels.of(line);
    const at = { source: (run.takes && signalLabel(net.rig, run.takes.id)) ?? '', port: socketName(socket(piece, port)) };
    const about = run.takes ? [run.takes.id] : [];
    const modes = arrival?.mode ? [arrival.mode] : port.modes;
    const found: Finding[] = [];
    if (run.pad && modes.every(({ padDb }) => padDb === undefined)) {
      const place = `${run.id}/pad`;
      found.push(finding('levels/no-pad', place, at, { about, fixes: [{ kind: 'rewrite', place, with: '' }] }));
    }
    // Where it is known what comes in, `gains.ts` knows what would suit.
    if (run.gainDb !== undefined && !arrival?.gain) found.push(...gain(run, run.gainDb, modes, at, about));
    return found;
  });
}

function gain(run: InputRun, written: number, modes: readonly Mode[], at: { source: string; port: string }, about: string[]): Finding[] {
  const ranges = modes.flatMap(({ gainDb }) => gainDb ?? []);
  const low = Math.min(...ranges.map((range) => range.low));
  const high = Math.max(...ranges.map((range) => range.high));
  if (written >= low && written <= high) return [];
  const figures = ranges.length === 0 ? { low: 0, high: 0 } : { low, high };
  const place = `${run.id}/gain`;
  const fixes = figures.low === figures.high ? [{ kind: 'rewrite' as const, place, with: '' }] : [];
  return [finding('levels/gain-out-of-range', place, { ...at, ...figures, written, setDb: undefined }, { about, fixes })];
}
