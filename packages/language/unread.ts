/** How much of a rig's text says something that nobody understands: what is made of the rest lacks it. */
import type { Analysis } from './analysis';

/** Mistakes in the text, in names, units and models, and in the files that it uses. */
export function unreadIn({ located }: Pick<Analysis, 'located'>): number {
  return located.filter(({ finding: { code, severity } }) => severity === 'error' && /^(text|names|units|models|use)\//.test(code)).length;
}
