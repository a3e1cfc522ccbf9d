/** `earloom check --format sarif`: with the cures of what is found, and the page of each code. */
import { isDeepStrictEqual } from 'node:util';
import type { Located } from '#language';
import { curesFor } from '#language/cures';
import { type CheckOptions, check } from './check';
import { pagesOfCodes } from './pages';
import { sarifReport } from './report/sarif';

export function checkSarif(words: readonly string[], options: CheckOptions): Promise<number> {
  return check(words, options, async (files, session, documents) => {
    const cures = curesFor(session.services);
    return sarifReport(files, {
      pathOf: (uri) => session.pathOf(uri),
      pages: await pagesOfCodes(),
      curesOf: (file, located) => {
        const document = documents.get(file);
        const analysis = document && session.analyse(document);
        // A file whose tree was let go has findings of another reading, alike in all that can be seen of them.
        const same = analysis?.located.find((each) => each === located || isAlike(each, located));
        return analysis && same ? cures(analysis, same) : [];
      },
    });
  });
}

function isAlike(a: Located, b: Located): boolean {
  return a.finding.code === b.finding.code && a.finding.place === b.finding.place && isDeepStrictEqual(a.range, b.range);
}
