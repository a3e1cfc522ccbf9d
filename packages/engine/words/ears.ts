import { count, daysWorth, decibels, inside, list, ohms } from './phrases';
import { hoursText } from './power';
import { problem, resting } from './problem';

export const EARS_PROBLEMS = resting(['settings'], {
  'ears/too-loud': problem<{
    performer: string;
    driver: string;
    earphones: string;
    assumed: boolean;
    highestDbSpl: number;
    peakDb: number;
    limitDb: number;
    limited: boolean;
    others: number;
  }>('warning', (f) => ({
    what: `${f.driver} can drive ${f.performer}’s ${inside(f.earphones)} to about ${decibels(Math.round(f.highestDbSpl), 'dB SPL')}${f.limited ? ', with its limiter on' : ''}${f.others > 0 ? ', once nothing else is plugged into it' : ''}, with peaks of ${decibels(Math.round(f.peakDb), 'dB SPL')}. That is an estimate of the highest possible${f.assumed ? ', for earphones of a usual kind' : ''}.`,
    why: `Of peaks above ${decibels(f.limitDb, 'dB SPL')} a single one can harm hearing for good: a plug pulled, a microphone dropped, feedback. That is the most the rules for noise at work put up with.`,
    cure: `${f.limited ? 'Set the limiter lower' : 'Use one with a limiter, switched on, and write it into its model ("limiter -6 dBu")'}; turn it down and mark where the knob may go; or take earphones that are less sensitive. Plug and switch with nobody’s ears in.`,
  })),
  'ears/too-quiet': problem<{
    performer: string;
    driver: string;
    earphones: string;
    highestDbSpl: number;
    wantedDbSpl: number;
    limited: boolean;
    others: number;
  }>('warning', (f) => ({
    what: `${f.driver} drives ${f.performer}’s ${inside(f.earphones)} to ${decibels(Math.round(f.highestDbSpl), 'dB SPL')} at most${f.limited ? ' with its limiter on' : ''}${f.others > 0 ? `, with ${count(f.others, 'other pair')} on it` : ''}; peaks of ${decibels(Math.round(f.wantedDbSpl), 'dB SPL')} are wanted.`,
    why: 'Turned up all the way it is still too quiet, or it distorts; an ear comes out, and what is on stage is louder in it.',
    cure: 'Use an amplifier or a pack that gives more, or earphones that are more sensitive and shut out more of the stage: what is quiet outside needs little inside.',
  })),
  /** `people`: all whose earphones are on it; `riseDb`: what whoever is left has more of as soon as the others are unplugged. */
  'ears/low-impedance': problem<{
    performer: string;
    driver: string;
    earphones: string;
    people: readonly string[];
    assumed: boolean;
    driveOhm: number;
    loadOhm: number;
    lossDb: number;
    riseDb: number;
  }>('note', (f) =>
    f.people.length > 1
      ? {
          what: `The earphones of ${list(f.people)} are ${f.people.length === 2 ? 'both' : 'all'} on ${f.driver}: together they have ${ohms(f.loadOhm)}${f.assumed ? ' if they are of a usual kind' : ''}, and it drives them through ${ohms(f.driveOhm)} of its own, in which ${decibels(f.lossDb)} are lost.`,
          why: `Each pair takes from the others: all are quieter and duller, and there is one knob for all. Whoever is left when the others pull theirs out has it ${decibels(f.riseDb)} louder at once, in the ear.`,
          cure: 'Give each an amplifier with a knob of its own, and split the mix before those ("via splitter.1, amp-a" and "via splitter.2, amp-b"). Turn it down before anybody unplugs.',
        }
      : {
          what: `${f.performer}’s ${inside(f.earphones)} have ${ohms(f.loadOhm)}, and ${f.driver} drives them through ${ohms(f.driveOhm)} of its own: ${decibels(f.lossDb)} are lost in those.`,
          why: 'Earphones have more ohms at some tones than at others, so some come out weaker: they sound dull, or boomy, and quieter.',
          cure: `Drive them from an output with a tenth of their ohms or so (${ohms(f.loadOhm / 10)}), such as a headphone amplifier or a pack; or take earphones with more ohms.`,
        },
  ),
  'ears/too-long': problem<{
    dbA: number;
    checkS: number;
    setS: number;
    /** So many days' worth. */
    days: { readonly niosh: number; readonly osha: number };
    /** Where a law that has a daily exposure is known. */
    daily?: { readonly exposureDb: number; readonly limitDb: number; readonly law: string };
  }>('warning', (f) => ({
    what: `${f.checkS > 0 ? 'Sound check and set' : 'The set'} of ${hoursText(f.checkS + f.setS)} at ${decibels(f.dbA, 'dB(A)')} ${
      f.daily === undefined
        ? `${f.checkS > 0 ? 'are' : 'is'} ${daysWorth(f.days.osha)} of what 29 CFR 1910.95 allows at work in the United States`
        : `${f.checkS > 0 ? 'are' : 'is'} as much as ${decibels(f.daily.exposureDb, 'dB(A)')} for eight hours, and at work ${decibels(f.daily.limitDb, 'dB(A)')} is not to be exceeded (${f.daily.law})`
    }.`,
    why: `By what NIOSH recommends (publication 98-126: 85 dB(A) for 8 h, 3 dB more for half of it) it is ${daysWorth(f.days.niosh)}. Hearing that goes this way goes unnoticed, and does not come back.`,
    cure: 'Listen lower: 3 dB less is half as much. Earphones that shut out more of the stage need less; shorten the sound check, and rest your ears where it is quiet. If the level is a slip, put it right ("listening 90 dB SPL"). What is known of a level in somebody’s ears is an estimate.',
  })),
});
