/** What is wrong with the files a rig uses. */
import { AstUtils, type LangiumDocuments, type URI, UriUtils } from 'langium';
import type { Use } from '../generated/ast';
import { usedUri } from '../symbols';
import { EXAMPLES } from '../syntax/words';
import { isRig } from '../used';
import type { Context } from './context';

/** Whether a file may be used at all: it has to lie inside the folder that is open. */
export type Boundary = (uri: string) => boolean;

/** Why a file that is there cannot be read, where somebody knows. */
export type Reason = (uri: string) => string | undefined;

export function checkUses(
  context: Context,
  uses: readonly Use[],
  documents: LangiumDocuments,
  inside: Boundary,
  reasonOf: Reason,
  isWholeRig: (uri: URI) => boolean,
): void {
  const before = new Map<string, Use>();
  for (const use of uses) {
    const mark = { node: use, property: 'path' };
    // Without a path at all, the parser has said so.
    if (use.path === undefined) continue;
    const path = use.path.trim();
    const uri = usedUri(use);
    if (!uri) {
      context.report(
        'text/unfinished',
        { node: use },
        { statement: 'use', after: '"use"', missing: 'the path of a file', example: EXAMPLES.use },
      );
    } else if (UriUtils.equals(uri, AstUtils.getDocument(use).uri)) {
      context.report('use/itself', mark, { path });
    } else if (/^([a-z]+:|[\\/])/i.test(path) || !inside(uri.toString())) {
      context.report('use/outside', mark, { path });
    } else if (!isRig(uri)) {
      context.report('text/not-readable', mark, { path, reason: 'its name does not end in ".rig"' });
    } else if (!documents.hasDocument(uri)) {
      const reason = reasonOf(uri.toString());
      if (reason === undefined) context.report('use/missing', mark, { path });
      else context.report('text/not-readable', mark, { path, reason });
    } else {
      const first = before.get(uri.toString());
      if (first) {
        const place = context.marks.set(`use:${path}`, { node: first, property: 'path' });
        context.report('use/twice', mark, { path }, { related: [{ place, says: 'it is used here' }] });
      } else before.set(uri.toString(), use);
      if (use.whole && !isWholeRig(uri)) context.report('use/no-rig', mark, { path });
    }
  }
}
