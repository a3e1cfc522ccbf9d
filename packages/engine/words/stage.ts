import { metres } from './phrases';
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
  'stage/off-stage': problem<Off & { who: string }>('warning', (f) => ({
    what: `${f.who} stands ${off(f)}.`,
    why: 'Leads are reckoned to where it says, and would come out too long; the house reads the same figures.',
    cure: `Correct the place, or the size of the stage at the top of the rig. ${MEASURED}`,
  })),
  'stage/far-off': problem<Off & { what: string }>('note', (f) => ({
    what: `${f.what} is ${off(f)}.`,
    why: 'Leads are reckoned to there, and are as long.',
    cure: `If it is a slip, correct the place. ${MEASURED}`,
  })),
};

function off({ farM, where, width, depth }: Off): string {
  const side = { left: 'to the performers’ left of', right: 'to the performers’ right of', behind: 'behind', before: 'in front of' }[where];
  return `${metres(farM)} ${side} the stage, which is ${metres(width)} wide and ${metres(depth)} deep`;
}
