/** What every section of the sheet looks things up in. */
import { type Checked, type Joint, type JointLead, type Line, type Supplies, supplies } from '#engine';

export interface Context {
  readonly checked: Checked;
  readonly supplies: Supplies;
  readonly leads: ReadonlyMap<Joint, JointLead>;
  /** The lines of a run, by its id. */
  linesOf(run: string): readonly Line[];
}

export function contextOf(checked: Checked): Context {
  const byRun = new Map<string, Line[]>();
  for (const line of checked.network.lines) {
    const lines = byRun.get(line.run.id);
    if (lines) lines.push(line);
    else byRun.set(line.run.id, [line]);
  }
  return {
    checked,
    supplies: supplies(checked.network),
    leads: new Map(checked.leads.map((each) => [each.joint, each])),
    linesOf: (run) => byRun.get(run) ?? [],
  };
}
