/** The whole engine by the number of a rig's lines, which are its runs: what is plugged in, what the house gets, what goes out. */
import { EmptyFileSystem, URI } from 'langium';
import { check } from '#engine';
import { RigLoader } from '#language';
import type { Rig } from '#rig';
import { generateRig } from '../generate';
import { type Times, timed } from './times';

const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///bench/'));

let texts = 0;

/** Measures so many checks of a rig after half as many to warm up, so that what is measured has been compiled. */
export function engineOn(rig: Rig, times: number): { readonly findings: number; readonly times: Times } {
  return { findings: check(rig).findings.length, times: timed(times, times / 2, () => check(rig)) };
}

/** Many bands, each with gear of its own, with exactly so many runs. */
export async function severalBays(runs: number, seed: number): Promise<Rig> {
  for (let lines = runs * 3; ; lines += 60) {
    const rig = await rigOf(generateRig(lines, seed));
    if (runsOf(rig) >= runs) return shortened(rig, runs);
  }
}

/** One band on one desk: three lines in four are inputs, of which each mix has a dozen. All invented. */
export async function deskRig(runs: number): Promise<Rig> {
  const outputs = Math.floor(runs / 8);
  const house = Math.floor(runs / 8);
  const inputs = runs - outputs - house;
  const models = ['dynamic-mic', 'condenser-mic', 'modeller', 'clip-on-mic'];
  const text = [
    'rig "One desk" # Invented.',
    'model big-desk is interface {',
    ...ranges(1, inputs).flatMap((range) => [
      `  input ${range} combo {`,
      '    mic   impedance 2 kohm   max 8 dBu   gain 0..60 dB   noise -128 dBu  phantom each',
      '    line  impedance 10 kohm  max 22 dBu  gain -10..20 dB',
      '  }',
    ]),
    ...ranges(1, outputs).map((range) => `  output ${range} trs line impedance 150 ohm max 18 dBu`),
    `  phantom ${inputs * 10} mA`,
    `  mixes ${outputs} mono`,
    '}',
    'gear desk is big-desk at 1 m, 5 m',
    ...count(outputs).map((index) => `performer p${index} at ${index % 9} m, 2 m`),
    ...count(inputs).map((index) => `source s${index} is ${models[index % 4]} by p${(index % outputs) + 1}`),
    // What the house gets as well goes through a split.
    ...count(inputs).map(
      (index) => `input desk.${index} takes s${index}${index % 4 === 1 && index / 4 < house ? ' via transformer-split.iso' : ''}`,
    ),
    ...count(house).map((index) => `house ${index} takes s${index * 4 - 3}`),
    ...count(outputs).map((index) => {
      const sends = count(12).map((send) => `s${((index * 5 + send) % inputs) + 1} -12 dB`);
      return `mix m${index} mono for p${index} { ${[...new Set(sends)].join('  ')} }`;
    }),
    ...count(outputs).map((index) => `output desk.${index} carries m${index} via headphone-amp`),
  ].join('\n');
  return exactly(runs, text);
}

/**
 * One microphone that everybody takes: half of the lines are inputs of one desk, every fourth of them made for line level, and
 * half are the house's. Each goes through a Y-lead of its own, which hangs on the one before. All invented.
 */
export const yLeadsRig = (runs: number): Promise<Rig> => sharedRig(runs, [], () => 'y-lead');

/** The same, with all lines on the legs of a single splitter. */
export function splitterRig(runs: number): Promise<Rig> {
  const splitter = [
    'model wide-split "Wide split" is splitter {',
    '  input in xlr',
    ...ranges(1, runs).map((range) => `  output ${range} xlr from in parallel`),
    '}',
    'gear split is wide-split',
  ];
  return sharedRig(runs, splitter, (leg) => `split.${leg}`);
}

/** `via`: what the line goes through that is the `leg`th, from 1. */
function sharedRig(runs: number, splits: readonly string[], via: (leg: number) => string): Promise<Rig> {
  const house = Math.floor(runs / 2);
  const inputs = runs - house;
  const line = Math.floor(inputs / 4);
  const text = [
    'rig "One microphone" # Invented.',
    'model big-desk is interface {',
    ...ranges(1, inputs - line).map(
      (range) => `  input ${range} xlr mic impedance 2 kohm max 8 dBu gain 0..60 dB noise -128 dBu phantom each`,
    ),
    ...ranges(inputs - line + 1, inputs).map((range) => `  input ${range} trs line impedance 10 kohm max 22 dBu gain -10..20 dB`),
    '}',
    ...splits,
    'gear desk is big-desk at 1 m, 5 m',
    'performer p at 3 m, 2 m',
    'source s is dynamic-mic by p',
    ...count(inputs).map((index) => `input desk.${index} takes s via ${via(index)}`),
    ...count(house).map((index) => `house ${index} takes s via ${via(inputs + index)}`),
  ].join('\n');
  return exactly(runs, text);
}

/** Ports in ranges that are no longer than a model may write. */
function ranges(first: number, last: number): string[] {
  const starts = count(Math.ceil((last - first + 1) / 250)).map((index) => first + (index - 1) * 250);
  return starts.map((start) => `${start}..${Math.min(start + 249, last)}`);
}

const count = (length: number) => Array.from({ length }, (_, index) => index + 1);

async function exactly(runs: number, text: string): Promise<Rig> {
  const rig = await rigOf(text);
  if (runsOf(rig) !== runs) throw new Error(`The rig has ${runsOf(rig)} lines instead of ${runs}.`);
  return rig;
}

async function rigOf(text: string): Promise<Rig> {
  // Another file each time, so that nothing is kept from the last.
  const uri = URI.parse(`memory:///bench/engine-${texts++}.rig`);
  const document = await loader.loadText(text, uri);
  const { rig } = loader.services.rig.Analyser.of(document).lowered;
  loader.services.shared.workspace.LangiumDocuments.deleteDocument(uri);
  return rig;
}

const runsOf = ({ inputs, house, outputs }: Rig) => inputs.length + house.length + outputs.length;

/** Without the last runs, of each kind in turn. */
function shortened(rig: Rig, runs: number): Rig {
  const [inputs, house, outputs] = [[...rig.inputs], [...rig.house], [...rig.outputs]];
  const kinds = [inputs, house, outputs];
  for (let turn = 0; inputs.length + house.length + outputs.length > runs; turn++) kinds[turn % 3]?.pop();
  return { ...rig, inputs, house, outputs };
}
