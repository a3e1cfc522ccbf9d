import { list } from './phrases';
import { problem } from './problem';

/** Problems of the comments that let a finding stand. */
export const ALLOWING = {
  'allow/no-reason': problem<{ code: string }>('note', (f) => ({
    what: `This does not say why ${f.code} may stand.`,
    why: 'Whoever is handed the sheets has to know, so without a reason it is told as before.',
    cure: `Write the reason after a colon, as in "# allow ${f.code}: why it does not matter here".`,
  })),
  /** `kind` of what is not let stand. */
  'allow/not-this': problem<{ code: string; kind: 'danger' | 'unread' | 'allow' }>('warning', (f) => ({
    what: `${f.code} cannot be allowed.`,
    why:
      f.kind === 'danger'
        ? 'It can hurt somebody, or ruin gear, whatever the reason.'
        : f.kind === 'unread'
          ? 'It says that the text is not understood, and nothing can be found in what is not.'
          : 'It is about such a comment itself.',
    cure: f.kind === 'allow' ? 'Delete this comment, and mend the other.' : 'Delete this comment, and mend what is found.',
  })),
  'allow/no-such-code': problem<{ code: string; near: readonly string[] }>('warning', (f) => ({
    what: `Nothing that can be found is called ${f.code}.`,
    why: 'So nothing is allowed by this.',
    cure: f.near.length > 0 ? `Did you mean ${list(f.near, 'or')}?` : 'Write the code that stands behind the finding.',
  })),
  /** `above`: it stands above what it is about; else behind it. */
  'allow/nothing-here': problem<{ code: string; above: boolean }>('note', (f) => ({
    what: `Nothing to allow here: ${f.code} is not found ${f.above ? 'in what stands below' : 'on this line'}.`,
    why: 'Left here, it would keep silent about the next that comes.',
    cure: 'Delete this comment, or put it where the finding is.',
  })),
};
