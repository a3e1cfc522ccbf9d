/** Which findings may be let stand. */
import { type Code, type FiguresOf, PROBLEMS } from '../words';

/** Subjects that are about the text: it is not understood, so that there is nothing to have an opinion on. */
const OF_THE_TEXT = /^(text|names|units|models|use|rig)\//;

/** Why findings of this code cannot be let stand. Undefined where they can. */
export function whyNotAllowed(code: Code): FiguresOf<'allow/not-this'>['kind'] | undefined {
  if (code.startsWith('allow/')) return 'allow';
  const { severity } = PROBLEMS[code];
  if (severity === 'danger') return 'danger';
  return severity === 'error' && OF_THE_TEXT.test(code) ? 'unread' : undefined;
}

export function isCode(written: string): written is Code {
  return Object.hasOwn(PROBLEMS, written);
}
