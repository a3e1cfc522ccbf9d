/**
 * How long a sound level may be listened to by what is published for noise at work, and how much of a day some hours of it are. Levels are
 * A-weighted, in dB; times in seconds. It says what is published, and nothing of what an ear bears: that differs from one to the next.
 */
import type { Settings } from '#rig';
import { isEuropeanUnion, isUnitedKingdom } from './radio/regions';

export type Rule = 'niosh' | 'osha';

const DAY_S = 8 * 3600;

/**
 * The time that fills a day's exposure. NIOSH publication 98-126: 85 dB(A) for 8 h, 3 dB for half of it. 29 CFR 1910.95, Table G-16 and its
 * Appendix A: 90 dB(A) for 8 h, 5 dB for half of it.
 */
export function allowedS(rule: Rule, dbA: number): number {
  return rule === 'niosh' ? DAY_S / 2 ** ((dbA - 85) / 3) : DAY_S / 2 ** ((dbA - 90) / 5);
}

/** 29 CFR 1910.95, Table G-16 ends here: no time is given for more. */
export const OSHA_MOST_DBA = 115;

/** As a share of a day's exposure: 1 is all of it. */
export function dose(rule: Rule, dbA: number, seconds: number): number {
  return seconds / allowedS(rule, dbA);
}

/** The level which, kept up for eight hours, is as much: the daily exposure of laws that follow ISO 1999. */
export function dailyExposureDb(dbA: number, seconds: number): number {
  return dbA + 10 * Math.log10(seconds / DAY_S);
}

/** The time after which a level has come to that daily exposure. */
export function untilDailyS(dailyDbA: number, dbA: number): number {
  return DAY_S * 10 ** ((dailyDbA - dbA) / 10);
}

/** At work: from the first two on an employer has to act, the last is not to be exceeded. */
interface DailyLaw {
  /** As it is cited. */
  readonly name: string;
  readonly lower: DailyAndPeak;
  readonly upper: DailyAndPeak;
  readonly limit: DailyAndPeak;
}

/** A daily exposure in dB(A), and a peak in dB(C). */
interface DailyAndPeak {
  readonly dbA: number;
  readonly peakDbC: number;
}

/**
 * Directive 2003/10/EC, Article 3: 80, 85 and 87 dB(A) with peaks of 112, 140 and 200 Pa, which are 135, 137 and 140 dB. The United Kingdom has
 * the same in Regulation 4 of the Control of Noise at Work Regulations 2005 (SI 2005/1643). Both as others quote them; decibels of the peaks by
 * arithmetic.
 */
const DAILY = {
  lower: { dbA: 80, peakDbC: 135 },
  upper: { dbA: 85, peakDbC: 137 },
  limit: { dbA: 87, peakDbC: 140 },
} as const;

/** The law on noise at work that holds there, as far as it is known here; nothing where the rig does not say enough. */
export function dailyLawOf(settings: Pick<Settings, 'region' | 'country'>): DailyLaw | undefined {
  if (isEuropeanUnion(settings)) return { name: 'Directive 2003/10/EC', ...DAILY };
  if (isUnitedKingdom(settings)) return { name: 'SI 2005/1643', ...DAILY };
  return undefined;
}

/** The highest peak that 29 CFR 1910.95(b) and Directive 2003/10/EC (200 Pa) put up with, in dB. */
export const PEAK_LIMIT_DB = 140;

/** A steady tone's peaks are so far above its level: 20 log10 √2. */
export const CREST_OF_A_TONE_DB = 20 * Math.log10(Math.SQRT2);
