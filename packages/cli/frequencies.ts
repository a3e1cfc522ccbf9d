/** `earloom frequencies`: a frequency for each set of ours, clear of each other, of the house's and of what they all make together. */
import path from 'node:path';
import { type Choosing, capital, chooseAll, count, hertz, louderThan, readScan, spoken, tidy } from '#engine';
import type { Span } from '#rig';
import { CLEAN, FOUND, Unusable } from './exit';
import { mention, oneRig } from './oneRig';
import { print } from './print';
import { readText } from './read';
import { visible } from './report/visible';
import { shownAs } from './wanted';

export interface FrequenciesOptions {
  /** A scan: CSV of MHz and dBm. */
  readonly scan?: string;
  /** As it was typed: a level in dBm. */
  readonly above: string;
}

/** Throws `Unusable`. */
export async function frequencies(word: string, { scan, above }: FrequenciesOptions): Promise<number> {
  const loud = scan === undefined ? [] : await loudIn(scan, levelOf(above));
  const rig = await oneRig(word, 'Frequencies are chosen');
  const chosen = chooseAll(rig.checked.rig, loud);
  if (chosen.choices.length + chosen.left.length === 0)
    throw new Unusable(
      `Nothing of ours in ${rig.wanted.shown} is to be set to a frequency.`,
      'Radio sets are written as in "gear tx is in-ear-transmitter".',
    );
  const lines = [...(scan === undefined ? [] : [scanLine(scan, loud, above)]), ...report(chosen)];
  await print(`${lines.map(visible).join('\n')}\n`);
  mention(rig);
  return chosen.choices.every(({ hz }) => hz !== undefined) ? CLEAN : FOUND;
}

function report({ choices, changes, proven, left }: Choosing): string[] {
  const clear = choices.filter(({ hz }) => hz !== undefined).length;
  const rows = choices.map(({ set, nowHz, hz }) => {
    const to = hz === undefined ? 'no clear frequency' : `on ${tidy(hz / 1e6, 6)} MHz`;
    const from = hz === nowHz ? 'stays' : nowHz === undefined ? '' : `now on ${hertz(nowHz)}`;
    return [to, set.piece.name ?? set.piece.label, set.piece.label, from];
  });
  const widths = [0, 1, 2].map((column) => Math.max(0, ...rows.map((row) => row[column]?.length ?? 0)));
  const all = clear === choices.length;
  return [
    all
      ? `${capital(count(clear, 'set'))}, clear of each other and of all that they make together, with ${count(changes, 'change')}.`
      : `${capital(spoken(clear))} of ${count(choices.length, 'set')} can be clear of each other and of all that they make together.`,
    all
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
    ...left.map(
      ({ piece }) => `  left as it is: ${piece.label}, of which it is not known what it tunes, or none of it comes into question here`,
    ),
    '',
    'It is no permission: the local radio regulator decides. Agree all frequencies with the house and the other bands.',
  ].filter((line, index, lines) => line !== '' || lines[index - 1] !== '');
}

function scanLine(file: string, loud: readonly Span[], above: string): string {
  return loud.length === 0
    ? `Nothing in ${shownAs(path.resolve(file))} is above ${above} dBm.`
    : `Kept clear of ${count(loud.length, 'range')} above ${above} dBm: ${loud
        .slice(0, 8)
        .map(({ low, high }) => `${tidy(low / 1e6, 4)} to ${tidy(high / 1e6, 4)} MHz`)
        .join(', ')}${loud.length > 8 ? ' and more' : ''}.`;
}

function levelOf(typed: string): number {
  const level = /^[-+\u2212]?\d+(\.\d+)?$/.test(typed) ? Number(typed.replace('\u2212', '-')) : Number.NaN;
  if (level >= -200 && level <= 60) return level;
  throw new Unusable(`"${typed}" is not a level in dBm.`, 'Give one from -200 to 60, as in "--above -85".');
}

async function loudIn(file: string, level: number): Promise<Span[]> {
  const shown = shownAs(path.resolve(file));
  const scan = readScan(await readText(path.resolve(file), shown));
  if (scan.kind === 'read') return louderThan(scan.points, level);
  if (scan.kind === 'empty')
    throw new Unusable(
      `There is no scan in ${shown}.`,
      'A scan has a frequency in MHz and a level in dBm in each line, as in "470.025, -98.5".',
    );
  const why = {
    'no-numbers': 'it is not a frequency in MHz and a level in dBm',
    'not-mhz': 'its first number is no frequency in MHz',
    'not-dbm': 'its second number is no level in dBm',
  }[scan.why];
  throw new Unusable(
    `Line ${scan.line} of ${shown} cannot be read: ${why} ("${scan.text}").`,
    'Correct it, or export the scan again as MHz and dBm.',
  );
}
