/** The preview: one sheet of one document with a switcher to the others, or how to start. */
import type { Place } from '#rig';
import type { SheetId } from '#sheets';
import { type Interaction, isEmpty, Sheet } from '#sheets/components';
import type { ToPreview } from './messages';
import { NoRig, Start, Waiting } from './Start';
import { PANEL, Tabs, tabOf } from './Tabs';

export type Shown = Omit<Extract<ToPreview, { type: 'sheet' }>, 'type'>;

interface AppProps {
  readonly shown?: Shown;
  /** The sheet that was chosen; the one in `shown` may still be another. */
  readonly chosen: SheetId;
  /** The places of the statement under the cursor. */
  readonly cursor: readonly Place[];
  jump(place: Place): void;
  choose(sheet: SheetId): void;
}

export function App({ shown, chosen, cursor, jump, choose }: AppProps) {
  if (!shown) return <Waiting says="Reading the rig …" />;
  const { sheet, title, lends, titled } = shown;
  if (!sheet && lends) return <NoRig title={title} />;
  const act: Interaction = { jump, isLit: (about) => isUnder(cursor, about) };
  return (
    <>
      <Tabs chosen={chosen} choose={choose} />
      <div role="tabpanel" id={PANEL} aria-labelledby={tabOf(chosen)} aria-busy={sheet !== undefined && sheet.id !== chosen}>
        {!sheet ? (
          <Start titled={titled} />
        ) : sheet.id === chosen ? (
          <>
            {canJump(sheet) && <p class="hint">{HINT}</p>}
            <Sheet key={sheet.id} sheet={sheet} act={act} nothing={<Start titled={titled} />} />
          </>
        ) : (
          <Waiting says="Making the sheet …" />
        )}
      </div>
    </>
  );
}

const HINT = 'Click a row, or press Enter on it, to go to its line.';

function canJump(sheet: NonNullable<Shown['sheet']>): boolean {
  return !isEmpty(sheet) && sheet.blocks.some((block) => block.kind === 'table' && block.rows.some((row) => row.place !== undefined));
}

/** Whether one of the cursor's places is one of these statements, or a part of one: `input:3/via.0` is a part of `input:3`. */
export function isUnder(cursor: readonly Place[], statements: readonly Place[]): boolean {
  return cursor.some((place) => statements.some((statement) => place === statement || place.startsWith(`${statement}/`)));
}
