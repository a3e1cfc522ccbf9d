/** The labels of a rig, laid out and ready to be written in one way or another. */
import type { Checked } from '#engine';
import { titleOf } from '../shared/facts';
import { toldApart } from '../shared/toldApart';
import { labelsOf } from './labels';
import { type LabelOptions, type LabelPage, labelPages } from './pages';

export interface LabelSet {
  /** The rig's. */
  readonly title: string;
  /** None where the rig has no leads yet, or none that are asked for. */
  readonly pages: readonly LabelPage[];
}

export interface LabelSetOptions extends LabelOptions {
  /** Those of the leads that the house brings as well. */
  readonly all?: boolean;
}

/** Pure: the same rig gives the same labels. */
export function labelSet(checked: Checked, options: LabelSetOptions): LabelSet {
  return { title: titleOf(checked.rig), pages: labelPages(labelsOf(toldApart(checked), options), options) };
}
