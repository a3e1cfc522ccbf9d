/** What the extension's host and the preview say to each other. Plain data, sent as JSON. */
import type { Place } from '#rig';
import type { PatchList } from '#sheets';

export type ToPreview =
  /** The sheets of a document as it is now. No sheet: the file has no rig of its own, such as one that only lends its gear. */
  | { readonly type: 'sheets'; readonly uri: string; readonly title: string; readonly sheet?: PatchList }
  /** The places of the statement under the cursor; none where the cursor is in no statement. */
  | { readonly type: 'cursor'; readonly places: readonly Place[] };

export type FromPreview =
  /** The preview can take messages: sent once, when it has loaded. Answer with `sheets`. */
  | { readonly type: 'ready' }
  /** Go to this place in the text. */
  | { readonly type: 'jump'; readonly place: Place };
