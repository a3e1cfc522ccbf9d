/** `earloom frequencies`: a frequency for each set of ours, clear of each other, of the house's and of what they all make together. */
import path from 'node:path';
import { type Choosing, capital, chooseAll, count, hertz, louderThan, readScan, SLIPS, spoken, tidy } from '#engine';
import { writeFrequencies } from '#language';
import type { ScanPoint, Span } from '#rig';
import { CLEAN, FOUND, Unusable } from './exit';
import { mention, type OneRig, oneRig } from './oneRig';
import { print } from './print';
import { readText } from './read';
import { visible } from './report/visible';
import { shownAs } from './wanted';
import { writeRig } from './writeRig';

export interface FrequenciesOptions {
  /** A scan: CSV of MHz and dBm. */
  readonly scan?: string;
  /** As it was typed: a level in dBm. */
  readonly above: string;
  /** The rig with the frequencies in it. */
  readonly output?: string;
}

/** Throws `Unusable`. */
export async function frequencies(word: string, { scan, above, output }: FrequenciesOptions): Promise<number> {
  if (output !== undefined && path.extname(output).toLowerCase() !== '.rig')
    throw new Unusable(`${output} is not called a rig: such a file ends in ".rig".`, 'Name a file to write, as in "-o club.rig".');
  const own = scan === undefined ? undefined : await scanIn(scan);
  const loud = own ? louderThan(own, levelOf(above)) : [];
  const rig = await oneRig(word, 'Frequencies are chosen');
  const chosen = chooseAll(rig.checked.rig, loud);
  if (chosen.choices.length + chosen.left.length === 0)
    throw new Unusable(
      `Nothing of ours in ${rig.wanted.shown} is to be set to a frequency.`,
      'Radio sets are written as in "gear tx is in-ear-transmitter".',
    );
  const lines = [
    ...rig.checked.rig.settings.scans.map(({ file, loud: there, aboveDbm }) => scanLine(file, there, tidy(aboveDbm, 1))),
    ...(scan === undefined ? [] : [scanLine(shownAs(path.resolve(scan)), loud, above)]),
    ...report(chosen, [...rig.checked.rig.settings.scans.map(({ points }) => points), ...(own ? [own] : [])].flatMap(spanOf)),
  ];
  if (output !== undefined) lines.push(...(await written(rig, chosen, output)));
  await print(`${lines.map(visible).join('\n')}\n`);
  // Of what has just been mended nothing is said.
  if (output === undefined) mention(rig);
  const unset = chosen.choices.some(({ hz }) => hz === undefined) || chosen.left.some(({ why }) => why === 'not-clear');
  return unset ? FOUND : CLEAN;
}

/** From its lowest to its highest frequency: of what is outside of that it says nothing. `points` in rising order. */
function spanOf(points: readonly ScanPoint[]): Span[] {
  const [first] = points;
  const last = points.at(-1);
  return first && last ? [{ low: first.hz, high: last.hz }] : [];
}

/** `scanned`: what the scans reach over; nothing where there is none. */
function report({ choices, changes, proven, left }: Choosing, scanned: readonly Span[]): string[] {
  const clear = choices.filter(({ hz }) => hz !== undefined).length;
  const rows = choices.map(({ set, nowHz, hz }) => {
    const to = hz === undefined ? 'no clear frequency' : `on ${tidy(hz / 1e6, 6)} MHz`;
    const from = hz === nowHz ? 'stays' : nowHz === undefined ? '' : `instead of ${hertz(nowHz)}`;
    const unseen = hz !== undefined && scanned.length > 0 && !scanned.some(({ low, high }) => low <= hz && hz <= high);
    return [to, set.piece.name ?? set.piece.label, set.piece.label, [from, unseen ? NOT_SCANNED : ''].filter(Boolean).join(', ')];
  });
  const widths = [0, 1, 2].map((column) => Math.max(0, ...rows.map((row) => row[column]?.length ?? 0)));
  const all = clear === choices.length;
  return [
    choices.length === 0
      ? 'There is nothing to choose from.'
      : all
        ? `${capital(count(clear, 'set'))}, clear of each other and of all that they make together, with ${count(changes, 'change')}.`
        : `${capital(spoken(clear))} of ${count(choices.length, 'set')} can be clear of each other and of all that they make together.`,
    choices.length === 0
      ? ''
      : all
        ? proven.fewest
          ? changes > 0
            ? 'Fewer changes do not do: tried out.'
            : ''
          : 'Fewer changes may do: the search was stopped.'
        : proven.most
          ? 'More cannot: tried out.'
          : 'More may: the search was stopped.',
    '',
    ...rows.map((row) => `  ${row.map((cell, column) => cell.padEnd(widths[column] ?? 0)).join('  ')}`.trimEnd()),
    ...left.map(({ set, why }) => `  left as it is: ${set.piece.label}, ${WHY_LEFT[why]}`),
    '',
    'It is no permission: the local radio regulator decides. Agree all frequencies with the house and the other bands.',
  ].filter((line, index, lines) => line !== '' || lines[index - 1] !== '');
}

const NOT_SCANNED = 'outside the scan, which does not say whether it is free: scan there too';

const WHY_LEFT = {
  'not-stated': 'of which its model does not say what it tunes',
  'not-here': 'which tunes no range that is known to come into question here',
  'not-clear': 'for all that it tunes is to be avoided here, or loud in the scan',
} as const;

/** Throws `Unusable`. */
async function written(rig: OneRig, { choices }: Choosing, output: string): Promise<string[]> {
  const moved = choices.flatMap(({ set, nowHz, hz }) => (hz === undefined || hz === nowHz ? [] : [{ piece: set.piece.id, hz }]));
  const shown = shownAs(path.resolve(output));
  await writeRig(rig, writeFrequencies(rig.analysis, moved), output, (many) => (many === 1 ? 'One frequency' : `${many} frequencies`));
  return [
    '',
    moved.length === 0
      ? `Written to ${shown}: nothing had to be changed.`
      : `Written to ${shown}, with ${count(moved.length, 'frequency', 'frequencies')} set.`,
  ];
}

function scanLine(file: string, loud: readonly Span[], above: string): string {
  return loud.length === 0
    ? `Nothing in ${file} is above ${above} dBm.`
    : `Kept clear of ${count(loud.length, 'range')} above ${above} dBm in ${file}: ${loud
        .slice(0, 8)
        .map(({ low, high }) => `${tidy(low / 1e6, 4)} to ${tidy(high / 1e6, 4)} MHz`)
        .join(', ')}${loud.length > 8 ? ' and more' : ''}.`;
}

function levelOf(typed: string): number {
  const level = /^[-+\u2212]?\d+(\.\d+)?$/.test(typed) ? Number(typed.replace('\u2212', '-')) : Number.NaN;
  if (level >= -200 && level <= 60) return level;
  throw new Unusable(`"${typed}" is not a level in dBm.`, 'Give one from -200 to 60, as in "--above -85".');
}

async function scanIn(file: string): Promise<readonly ScanPoint[]> {
  const shown = shownAs(path.resolve(file));
  const scan = readScan(await readText(path.resolve(file), shown));
  if (scan.kind === 'read') return scan.points;
  if (scan.kind === 'empty')
    throw new Unusable(
      `There is no scan in ${shown}.`,
      'A scan has a frequency in MHz and a level in dBm in each line, as in "470.025, -98.5".',
    );
  throw new Unusable(
    `Line ${scan.line} of ${shown} cannot be read: ${SLIPS[scan.why]} ("${scan.text}").`,
    'Correct it, or export the scan again as MHz and dBm.',
  );
}
