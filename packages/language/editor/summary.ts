/** A rig in a few words: who and what, how much of it is used, what is to be put right, what is to be paid for. */
import { type Checked, list, type Severity, say } from '#engine';
import { counts, countWords, paidInAll } from '#sheets';
import type { Analysis } from '../analysis';
import { inputsUsed, type Tally } from './inputsUsed';
import { paragraphs, plain } from './markdown';

export interface Summary {
  /** The gravest that was found; nothing where nothing is wrong. */
  readonly gravest?: Exclude<Severity, 'note'>;
  /** How many findings are to be put right: all but notes. */
  readonly wrong: number;
  /** Of the gear that our lines end at, all together; nothing where none is taken. */
  readonly inputs?: Tally;
  /** All of it, as Markdown. */
  readonly text: string;
}

/** How many of what is to be put right are told one by one. */
const MOST_TOLD = 5;

/** In the order in which they are told. */
const GRAVE = ['danger', 'error', 'warning'] as const;

/** Nothing for a file that has no rig of its own. */
export function summaryOf({ checked, located }: Analysis): Summary | undefined {
  if (!checked) return undefined;
  const findings = located.map(({ finding }) => finding);
  const wrong = GRAVE.flatMap((severity) => findings.filter((each) => each.severity === severity));
  const found = counts(findings);
  const told = wrong.slice(0, MOST_TOLD).map((each) => plain(say(each).what));
  const more = wrong.length - told.length;
  const paid = paidInAll(checked);
  const text = paragraphs(
    checked.rig.label && `**${plain(checked.rig.label)}**`,
    whole(checked),
    plain(usedWords(checked)),
    `${wrong.length > 0 ? `To be put right: ${countWords({ ...found, note: 0 })}` : countWords(found)}.`,
    told.length > 0 ? `- ${told.join('\n- ')}${more > 0 ? `\n- and ${more} more` : ''}` : '',
    paid && plain(`To buy and hire: ${paid}.`),
  );
  return { gravest: wrong[0]?.severity as Summary['gravest'], wrong: wrong.length, inputs: together(checked), text };
}

/** `3 people, 4 sources, 3 mixes, 2 house lines`. */
function whole({ rig, impact }: Checked): string {
  const some = (number: number, one: string, many = `${one}s`) => (number > 0 ? [`${number} ${number === 1 ? one : many}`] : []);
  return [
    ...some(rig.performers.size, 'person', 'people'),
    ...some(rig.sources.size, 'source'),
    ...some(rig.mixes.size, 'mix', 'mixes'),
    ...some(impact.count, 'house line'),
  ].join(', ');
}

/** `Inputs used: 3 of 8 of Interface and 2 of 8 of Expander.` */
function usedWords(checked: Checked): string {
  const each = tallies(checked).map(({ label, used, of }) => `${used} of ${of} of ${label}`);
  return each.length > 0 ? `Inputs used: ${list(each)}.` : '';
}

function together(checked: Checked): Tally | undefined {
  const all = tallies(checked);
  const sum = (key: 'used' | 'of') => all.reduce((total, each) => total + each[key], 0);
  return all.length > 0 ? { used: sum('used'), of: sum('of') } : undefined;
}

/** What comes in digitally is counted where it was plugged in. */
function tallies(checked: Checked): (Tally & { label: string })[] {
  return inputsUsed(checked).flatMap(({ piece, end, analogue }) => (end && analogue.of > 0 ? [{ ...analogue, label: piece.label }] : []));
}
