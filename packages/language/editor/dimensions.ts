/** What each figure of the language can be given in, by the rule of the grammar and the word that it stands behind. */
import type { Dimension } from '#rig';

const LOUDNESS: readonly Dimension[] = ['sound-level', 'voltage-level'];

const DIMENSIONS: Readonly<Record<string, readonly Dimension[]>> = {
  'Rate/rate': ['frequency'],
  'BufferSize/buffer': ['samples'],
  'Budget/budget': ['money'],
  'SetTime/set': ['time'],
  'Stage/stage': ['length'],
  'Headroom/headroom': ['relative-level'],
  'Margin/margin': ['relative-level'],
  'Lengths/lengths': ['length'],
  'PhantomBudget/phantom': ['current'],
  'Latency/latency': ['time'],
  'Power/power': ['time'],
  'Lowest/lowest': ['frequency'],
  'Highest/highest': ['frequency'],
  'Tunes/tunes': ['frequency'],
  'Tail/tail': ['length'],
  'TiePart/gain': ['relative-level'],
  'TiePart/pad': ['relative-level'],
  'Figure/impedance': ['resistance'],
  'Figure/capacitance': ['capacitance'],
  'Figure/inductance': ['inductance'],
  'Figure/max': ['voltage-level', 'sound-level'],
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
