/** What a published source says of a range of frequencies for radio microphones and in-ear sets. It is read, not judged: the local regulator decides. */

export interface RadioRange {
  readonly lowHz: number;
  readonly highHz: number;
  /** Its ends are frequencies that a carrier may be set to; otherwise it has to lie inside with all of its width. */
  readonly centres?: boolean;
  /** `varies`: from country to country. */
  readonly licence: 'none' | 'needed' | 'varies';
  /** The most that may be radiated without a licence, as the source has it. */
  readonly power?: string;
  readonly remark?: string;
  readonly source: string;
  /** The day on which the source was read, `yyyy-mm-dd`; nothing where it is quoted from memory. */
  readonly read?: string;
}

export interface RadioRegion {
  /** As it is written in a rig. */
  readonly code: string;
  readonly name: string;
  readonly regulator: string;
  readonly ranges: readonly RadioRange[];
}

type Facts = Pick<RadioRange, 'licence' | 'source'> & Partial<Pick<RadioRange, 'power' | 'remark' | 'centres'>>;

const FROM_MEMORY = /from memory/;

/** All sources so far were read on one day. */
export function range(lowMHz: number, highMHz: number, facts: Facts): RadioRange {
  return {
    lowHz: Math.round(lowMHz * 1e6),
    highHz: Math.round(highMHz * 1e6),
    read: FROM_MEMORY.test(facts.source) ? undefined : '2026-11-29',
    ...facts,
  };
}
