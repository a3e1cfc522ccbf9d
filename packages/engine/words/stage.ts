import { type Lengths, lengthText } from './lengths';
import { problem } from './problem';

interface Off {
  readonly farM: number;
  readonly where: 'left' | 'right' | 'behind' | 'before';
  readonly width: number;
  readonly depth: number;
}

const MEASURED =
  'The first figure after "at" is across from the middle, minus to the performers’ right; the second is back from the front edge.';

export const STAGE = {
  'stage/off-stage': problem<Off & { who: string }>('warning', (f, lengths) => ({
    what: `${f.who} stands ${off(f, lengths)}.`,
    why: 'Leads are reckoned to where it says, and would come out too long; the house reads the same figures.',
    cure: `Correct the place, or the size of the stage at the top of the rig. ${MEASURED}`,
  })),
  'stage/far-off': problem<Off & { what: string }>('note', (f, lengths) => ({
    what: `${f.what} is ${off(f, lengths)}.`,
    why: 'Leads are reckoned to there, and are as long.',
    cure: `If it is a slip, correct the place. ${MEASURED}`,
  })),
};

function off({ farM, where, width, depth }: Off, lengths: Lengths): string {
  const side = { left: 'to the performers’ left of', right: 'to the performers’ right of', behind: 'behind', before: 'in front of' }[where];
  return `${lengthText(farM, lengths)} ${side} the stage, which is ${lengthText(width, lengths)} wide and ${lengthText(depth, lengths)} deep`;
}
