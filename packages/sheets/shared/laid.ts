/** The leads of a rig in the order in which they are laid: this is also how they are numbered. */
import { arrives, type Joint, type Line, wholePath } from '#engine';
import type { Context } from './context';
import type { Draft } from './draft';
import { extensionRows } from './extensions';
import { type LeadDraft, leadRows } from './leads';
import type { Row } from './model';

/** Before the leads have their numbers. */
export const UNNUMBERED = { leads: '' };

/** The leads of a row by their numbers, `3, 4`, in the order in which the signal goes through them. */
export function leadNumbers(context: Context, line: Line | undefined, numbers: ReadonlyMap<Joint, number | undefined>): string {
  if (!arrives(line)) return '';
  const joints = line.run.kind === 'output' ? line.joints : wholePath(context.checked.network, line);
  return joints.flatMap((joint) => numbers.get(joint) ?? []).join(', ');
}

/** For each row of inputs, house lines and outputs, from the source on; what belongs to none of them comes last. */
export function laidLeads(context: Context, rows: readonly Draft<Row>[]): LeadDraft[] {
  const joints = new Set<Joint>();
  for (const row of rows) {
    for (const line of context.linesOf(row.place)) {
      for (const joint of line.run.kind === 'output' ? line.joints : wholePath(context.checked.network, line)) joints.add(joint);
    }
  }
  for (const joint of context.checked.network.joints) joints.add(joint);
  return [...leadRows(context.checked, [...joints]), ...extensionRows(context)];
}
