/** The leads of a rig in the order in which they are laid: this is also how they are numbered. */
import { type Joint, wholePath } from '#engine';
import type { Context } from './context';
import type { Draft } from './draft';
import { type LeadDraft, leadRows } from './leads';
import type { Row } from './model';

/** For each row of inputs, house lines and outputs, from the source on; what belongs to none of them comes last. */
export function laidLeads(context: Context, rows: readonly Draft<Row>[]): LeadDraft[] {
  const joints = new Set<Joint>();
  for (const row of rows) {
    for (const line of context.linesOf(row.place)) {
      for (const joint of line.run.kind === 'output' ? line.joints : wholePath(context.checked.network, line)) joints.add(joint);
    }
  }
  for (const joint of context.checked.network.joints) joints.add(joint);
  return leadRows(context.checked, [...joints]);
}
