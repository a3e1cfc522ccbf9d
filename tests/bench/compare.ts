/** Comparing two rigs that have been read, by their lines: both checked, moves, leads, findings, and the sheet. */
import { EmptyFileSystem, URI } from 'langium';
import { compare, type Input } from '#compare';
import { foundBy, RigLoader } from '#language';
import { changesSheet } from '#sheets';
import { generateRig } from '../generate';
import { type Times, timed } from './times';

const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///compare/'));
let count = 0;

async function read(text: string): Promise<Input> {
  const document = await loader.loadText(text, URI.parse(`memory:///compare/rig-${++count}.rig`));
  const analysis = loader.services.rig.Analyser.of(document);
  return { rig: analysis.lowered.rig, findings: foundBy(analysis) };
}

/** A generated rig, and the same with one level in ten another, and every fifth line of the house's gone. */
export async function pairOf(lines: number, seed: number): Promise<readonly [Input, Input]> {
  const text = generateRig(lines, seed);
  let [levels, house] = [0, 0];
  const other = text
    .replaceAll(/-\d+ dB(?=[ }])/g, (level) => (levels++ % 10 === 0 ? '-11 dB' : level))
    .replaceAll(/^house \d+.*\n/gm, (line) => (house++ % 5 === 0 ? '' : line));
  return [await read(text), await read(other)];
}

export function comparing([before, after]: readonly [Input, Input], times: number) {
  const compared = compare(before, after);
  const sheet = timed(times, 2, () => changesSheet(compared, { before: 'before', after: 'after' }));
  const whole: Times = timed(times, 2, () => compare(before, after));
  return { moves: compared.moves.moves.length, whole, sheet };
}
