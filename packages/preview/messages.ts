/** What the extension's host and the preview say to each other. Plain data, sent as JSON. */
import type { Place } from '#rig';
import type { Sheet } from '#sheets';
import type { TabId } from '#sheets/components';
import type { SheetUpdate } from '#sheets/update';

/** The boxes that are ticked on each sheet of a rig. */
export type Ticked = Readonly<Partial<Record<TabId, readonly string[]>>>;

/** Of a plan: whether it is being made, so that its sheet is of an earlier text or not there yet; why it could not be. */
export interface PlanNow {
  readonly making: boolean;
  readonly problem?: string;
}

export type ToPreview =
  /**
   * The sheet that is shown, of a document as it is now. No sheet: the file has no rig of its own. Then it `lends` its gear to others, or
   * nothing is written yet. It is `titled` where a `rig` stands in it.
   */
  | {
      readonly type: 'sheet';
      readonly uri: string;
      readonly title: string;
      readonly sheet?: Sheet<TabId>;
      /** In its place, where it is the last one that was sent: what is other in it now. */
      readonly update?: SheetUpdate<TabId>;
      readonly plan?: PlanNow;
      readonly lends: boolean;
      readonly titled: boolean;
      /** What was kept; a preview that has this rig's ticks already knows better. */
      readonly ticked?: Ticked;
    }
  /** A sheet that stands by itself, without the others of its rig. */
  | { readonly type: 'alone'; readonly uri: string; readonly sheet: Sheet<string> }
  /** The places of the statement under the cursor; none where the cursor is in no statement. */
  | { readonly type: 'cursor'; readonly places: readonly Place[] };

export type FromPreview =
  /** The preview can take messages: sent when it has loaded, with the sheet that it showed last; or it has not what an update is of. Answer with `sheet`. */
  | { readonly type: 'ready'; readonly sheet: TabId }
  /** Show this sheet. Answer with `sheet`. */
  | { readonly type: 'show'; readonly sheet: TabId }
  /** Go to this place in the text. */
  | { readonly type: 'jump'; readonly place: Place }
  /** Show what is planned as a difference, to be written. */
  | { readonly type: 'plan' }
  /** Keep what is ticked on the sheets of this rig now. */
  | { readonly type: 'ticked'; readonly uri: string; readonly ticked: Ticked };
