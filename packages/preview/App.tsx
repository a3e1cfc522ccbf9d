/** The preview: the sheets of one document, or how to start. */
import type { Place } from '#rig';
import { type Interaction, isEmpty, Sheet } from '#sheets/components';
import type { ToPreview } from './messages';
import { NoRig, Start, Waiting } from './Start';

export type Shown = Extract<ToPreview, { type: 'sheets' }>;

interface AppProps {
  readonly shown?: Shown;
  /** The places of the statement under the cursor. */
  readonly cursor: readonly Place[];
  jump(place: Place): void;
}

export function App({ shown, cursor, jump }: AppProps) {
  if (!shown) return <Waiting />;
  if (!shown.sheet) return <NoRig title={shown.title} />;
  const act: Interaction = { jump, isLit: (about) => isUnder(cursor, about) };
  const empty = isEmpty(shown.sheet);
  return (
    <>
      {!empty && <p class="hint">Click a row, or press Enter on it, to go to its line.</p>}
      <Sheet list={shown.sheet} act={act} />
      {empty && <Start />}
    </>
  );
}

/** Whether one of the cursor's places is one of these statements, or a part of one: `input:3/via.0` is a part of `input:3`. */
export function isUnder(cursor: readonly Place[], statements: readonly Place[]): boolean {
  return cursor.some((place) => statements.some((statement) => place === statement || place.startsWith(`${statement}/`)));
}
