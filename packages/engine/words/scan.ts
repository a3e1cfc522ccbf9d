/** Scans of what is on the air, which a rig names: what is wrong with their files. */
import type { ScanSlip } from '../solve/radio/scan';
import { decibels } from './phrases';
import { problem } from './problem';
import { OFFERED, range, type Told, told } from './radio';

const SO_NOTHING = 'So nothing is known of what is on the air in the room, and no frequency is kept clear of it.';

/** `470.025, -98.5` */
const A_LINE = 'A scan has a frequency in MHz and a level in dBm in each line, as in "470.025, -98.5".';

/** Why a line cannot be read, after "Line 3 of room.csv cannot be read:". */
export const SLIPS: Readonly<Record<ScanSlip, string>> = {
  'no-numbers': 'it is not a frequency in MHz and a level in dBm',
  'not-mhz': 'its first number is no frequency in MHz',
  'not-dbm': 'its second number is no level in dBm',
};

export const SCANS = {
  'scan/missing': problem<{ path: string }>('error', (f) => ({
    what: `There is no file ${f.path}.`,
    why: SO_NOTHING,
    cure: 'The path starts from the folder of this file. Correct it, or save the scan there.',
  })),
  'scan/outside': problem<{ path: string }>('error', (f) => ({
    what: `${f.path} lies outside the folder that is open.`,
    why: 'On another computer it would not be there, so it is not read.',
    cure: 'Copy the scan into the folder, and name it by a path from this file.',
  })),
  /** `reason` goes on after "cannot be read:". */
  'scan/not-readable': problem<{ path: string; reason: string }>('error', (f) => ({
    what: `${f.path} cannot be read: ${f.reason}.`,
    why: SO_NOTHING,
    cure: 'A scan is plain text in UTF-8, in a file whose name ends in ".csv". Export it again as that, or name another file.',
  })),
  /** `line` counts from 1; nothing where no line has figures at all. */
  'scan/no-figures': problem<{ path: string; line: number | undefined; text: string; slip: ScanSlip }>('error', (f) =>
    f.line === undefined
      ? { what: `There are no figures in ${f.path}.`, why: SO_NOTHING, cure: `${A_LINE} Export it again as that.` }
      : {
          what: `Line ${f.line} of ${f.path} cannot be read: ${SLIPS[f.slip]} (${f.text}).`,
          why: SO_NOTHING,
          cure: `${A_LINE} Correct the line, or export the scan again.`,
        },
  ),
  'scan/occupied': problem<{ carrier: Told; low: number; high: number; mostDbm: number; file: string; aboveDbm: number }>(
    'warning',
    (f) => ({
      what: `${told(f.carrier)} is where the scan ${f.file} is loud: ${decibels(f.mostDbm, 'dBm')} at most from ${range(f.low, f.high)}.`,
      why: `Somebody was on the air there: this rig keeps clear of all above ${decibels(f.aboveDbm, 'dBm')}.`,
      cure: `Set it elsewhere. ${OFFERED} If it is your own set that the scan shows, scan again with all of yours off.`,
    }),
    { restsOn: ['settings'] },
  ),
  'scan/beside': problem<{ file: string; low: number; high: number }>('note', (f) => ({
    what: `The scan ${f.file} is of ${range(f.low, f.high)}, and nothing of yours sends there.`,
    why: 'Of the frequencies that matter here it tells nothing.',
    cure: 'Scan where your sets tune, or delete this.',
  })),
};
