/**
 * A comparison for other programs. The shape is stable: within one `version` fields may be added, and none changes or goes. `moves` made in
 * the old rig give the new one; all else follows from them, and is there to be read.
 */
import { type Compared, type ComparedLead, changeLines, isSame } from '#compare';
import { endLabel, type Finding, say } from '#engine';
import type { Unusable } from '../exit';

/** Of a rig that both have. */
export interface Pair {
  readonly path: string;
  readonly before: string;
  readonly after: string;
  readonly compared: Compared;
}

/** What became of the rigs of two folders; of two rigs, the one pair. */
export interface Paired {
  readonly pairs: readonly Pair[];
  readonly come: readonly string[];
  readonly gone: readonly string[];
  /** Rigs that cannot be read on one side; the others are compared all the same. */
  readonly unusable: readonly { readonly path: string; readonly problem: Unusable }[];
}

export function changesReport(before: string, after: string, { pairs, come, gone, unusable }: Paired) {
  return {
    version: 1,
    before,
    after,
    rigs: pairs.map(rigReport),
    come,
    gone,
    unusable: unusable.map(({ path, problem: { what, cure } }) => ({ path, what, cure })),
  };
}

function rigReport({ path, before, after, compared }: Pair) {
  const { moves, leads, leadCounts, things, findings } = compared;
  return {
    path,
    before,
    after,
    same: isSame(compared),
    moves,
    changes: changeLines(compared).map(({ group, subject, what, before: was, after: is }) => ({
      group,
      subject,
      what,
      before: was,
      after: is,
    })),
    leads: leads.map((change) => ({
      what: change.what,
      before: 'before' in change ? leadReport(change.before) : undefined,
      after: 'after' in change ? leadReport(change.after) : undefined,
    })),
    leadCounts: leadCounts.map(({ lead, more }) => ({ ...leadReport(lead), more })),
    things: things.map(({ model, ...rest }) => ({ model: model.id, label: model.label, ...rest })),
    findings: { new: findings.come.map(findingReport), cured: findings.gone.map(findingReport), still: findings.still.map(findingReport) },
  };
}

function leadReport({ from, to, lead, lengthM, ownM, signals }: ComparedLead) {
  return { from: from.name, to: to.name, plugs: lead.ends.map(endLabel), balanced: lead.balanced, lengthM, ownM, signals };
}

function findingReport(finding: Finding) {
  return { code: finding.code, severity: finding.severity, message: say(finding) };
}
