/** What each figure of the language can be given in, by the rule of the grammar and the word that it stands behind. */
import type { Dimension } from '#rig';

const LOUDNESS: readonly Dimension[] = ['sound-level', 'voltage-level'];

const DIMENSIONS: Readonly<Record<string, readonly Dimension[]>> = {
  'Rate/rate': ['frequency'],
  'BufferSize/buffer': ['samples'],
  'Budget/budget': ['money'],
  'SetTime/set': ['time'],
  'SoundCheck/check': ['time'],
  'Listening/listening': ['sound-level'],
  'Stage/stage': ['length'],
  'Headroom/headroom': ['relative-level'],
  'Margin/margin': ['relative-level'],
  'Lengths/lengths': ['length'],
  'LeadHad/': ['length'],
  'Circuit/circuit': ['current'],
  'Avoid/avoid': ['frequency'],
  'Scan/above': ['radio-level'],
  'GuardDistance/': ['frequency'],
  'PhantomBudget/phantom': ['current'],
  'Latency/latency': ['time'],
  'Rates/rates': ['frequency'],
  'Power/power': ['time', 'cells', 'power'],
  'Lowest/lowest': ['frequency'],
  'Highest/highest': ['frequency'],
  'Tunes/tunes': ['frequency'],
  'Tunes/step': ['frequency'],
  'CarrierKind/': ['frequency'],
  'Tail/tail': ['length'],
  'TiePart/gain': ['relative-level'],
  'TiePart/pad': ['relative-level'],
  'Figure/impedance': ['resistance'],
  'Figure/capacitance': ['capacitance'],
  'Figure/inductance': ['inductance'],
  'Figure/max': ['voltage-level', 'sound-level'],
  'Figure/limiter': ['voltage-level'],
  'Figure/level': ['voltage-level'],
  'Figure/sensitivity': ['sensitivity', 'earphone-sensitivity'],
  'Figure/gain': ['relative-level'],
  'Figure/noise': ['voltage-level'],
  'Figure/self-noise': ['sound-level'],
  'Figure/dynamic-range': ['relative-level'],
  'Figure/pad': ['relative-level'],
  'Figure/draws': ['current'],
  'OnFrequency/on': ['frequency'],
  'Holding/': ['money'],
  'At/at': ['length'],
  'Typical/typical': LOUDNESS,
  'Peak/peak': LOUDNESS,
  'InputClause/gain': ['relative-level'],
  'Send/': ['relative-level'],
};

export function dimensionsOf(rule: string, keyword: string): readonly Dimension[] {
  return DIMENSIONS[`${rule}/${keyword}`] ?? DIMENSIONS[`${rule}/`] ?? [];
}

/** The places that take a figure, as `rule/keyword`. */
export const FIGURES: readonly string[] = Object.keys(DIMENSIONS);
