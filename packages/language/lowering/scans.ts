/** The scans that a rig names: as data where they can be read, and what is wrong with them where they cannot. */
import { AstUtils } from 'langium';
import { type AirScan, USUAL_ABOVE_DBM } from '#rig';
import type * as ast from '../generated/ast';
import { isScan, type Scans } from '../scans';
import { scanUri } from '../symbols';
import { EXAMPLES } from '../syntax/words';
import type { Workspace } from '../workspace';
import type { Context } from './context';
import { ordinals } from './identity';

export function scansIn(context: Context, clauses: readonly ast.Scan[], scans: Scans, workspace: Workspace): AirScan[] {
  const once = ordinals();
  return clauses.flatMap((clause): AirScan[] => {
    const level = clause.level && context.quantity(clause.level, 'level of a scan', ['radio-level']);
    // Without a path at all, the parser has said so.
    if (clause.path === undefined) return [];
    const mark = { node: clause, property: 'path' };
    const path = clause.path.trim();
    const uri = scanUri(clause);
    if (!uri) {
      const example = `${EXAMPLES.rig} scan "room.csv"`;
      context.report('text/unfinished', mark, { statement: 'rig', after: '"scan"', missing: 'the path of a file', example });
      return [];
    }
    if (/^([a-z]+:|[\\/])/i.test(path) || !workspace.isInside(uri.toString(), AstUtils.getDocument(clause).uri)) {
      context.report('scan/outside', mark, { path });
      return [];
    }
    if (!isScan(uri)) {
      context.report('scan/not-readable', mark, { path, reason: 'its name does not end in ".csv"' });
      return [];
    }
    const scan = scans.get(uri);
    if (!scan) {
      const reason = workspace.whyUnreadable(uri.toString());
      if (reason === undefined) context.report('scan/missing', mark, { path });
      else context.report('scan/not-readable', mark, { path, reason });
      return [];
    }
    if (scan.kind !== 'read') {
      const at =
        scan.kind === 'empty'
          ? { line: undefined, text: '', slip: 'no-numbers' as const }
          : { line: scan.line, text: scan.text, slip: scan.why };
      context.report('scan/no-figures', mark, { path, ...at });
      return [];
    }
    // What is not understood is kept clear of nothing, as it is told.
    if (clause.level && level === undefined) return [];
    const aboveDbm = level ?? USUAL_ABOVE_DBM;
    const place = context.marks.set(once(`rig/scan.${path}`), { node: clause });
    return [{ file: path, aboveDbm, points: scan.points, loud: scans.louderThan(scan, aboveDbm), place }];
  });
}
