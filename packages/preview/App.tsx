/** The preview: one sheet of one document with a switcher to the others, or how to start. */
import type { Place } from '#rig';
import type { Sheet } from '#sheets';
import type { Interaction, TabId, Zooms } from '#sheets/components';
import { Drawn } from './Drawn';
import type { ToPreview } from './messages';
import { PlanState } from './PlanState';
import { NoRig, Start, Waiting } from './Start';
import { PANEL, Tabs, tabOf } from './Tabs';

export type Shown = Omit<Extract<ToPreview, { type: 'sheet' }>, 'type' | 'ticked' | 'update'>;

interface AppProps {
  readonly shown?: Shown;
  /** The sheet that was chosen; the one in `shown` may still be another. */
  readonly chosen: TabId;
  /** The places of the statement under the cursor. */
  readonly cursor: readonly Place[];
  /** The boxes that are ticked on the sheet that was chosen. */
  readonly ticked: readonly string[];
  /** Of the drawings of the sheet that was chosen. */
  readonly zooms: Zooms;
  /** Which rows are in sight. */
  readonly near?: Interaction['near'];
  jump(place: Place): void;
  choose(sheet: TabId): void;
  /** What is planned is to be written. */
  write(): void;
  /** From now on these boxes are ticked. */
  mark(ticked: readonly string[]): void;
}

export function App({ shown, chosen, cursor, ticked, zooms, near, jump, choose, write, mark }: AppProps) {
  if (!shown) return <Waiting says="Reading the rig …" />;
  const { sheet, title, lends, titled, plan } = shown;
  if (!sheet && !plan && lends) return <NoRig title={title} />;
  const act = interaction({ cursor, ticked, zooms, near, jump, mark });
  return (
    <>
      <Tabs chosen={chosen} choose={choose} />
      <div role="tabpanel" id={PANEL} aria-labelledby={tabOf(chosen)} aria-busy={sheet !== undefined && sheet.id !== chosen}>
        {plan && chosen === 'plan' && <PlanState plan={plan} sheet={sheet} write={write} />}
        {!sheet ? (
          !plan && <Start titled={titled} />
        ) : sheet.id === chosen ? (
          <Drawn key={`${shown.uri} ${sheet.id}`} sheet={sheet} act={act} titled={titled} ticked={ticked} mark={mark} />
        ) : (
          <Waiting says="Making the sheet …" />
        )}
      </div>
    </>
  );
}

interface AloneProps extends Pick<AppProps, 'cursor' | 'ticked' | 'zooms' | 'near' | 'jump' | 'mark'> {
  readonly uri: string;
  readonly sheet: Sheet<string>;
}

/** A sheet that stands by itself: what changes between two rigs. */
export function Alone({ uri, sheet, cursor, ticked, zooms, near, jump, mark }: AloneProps) {
  return (
    <Drawn
      key={`${uri} ${sheet.id}`}
      sheet={sheet}
      act={interaction({ cursor, ticked, zooms, near, jump, mark })}
      titled
      ticked={ticked}
      mark={mark}
    />
  );
}

function interaction({
  cursor,
  ticked,
  zooms,
  near,
  jump,
  mark,
}: Pick<AppProps, 'cursor' | 'ticked' | 'zooms' | 'near' | 'jump' | 'mark'>): Interaction {
  const boxes = new Set(ticked);
  return {
    jump,
    near,
    isLit: (about) => isUnder(cursor, about),
    ticks: { has: (box) => boxes.has(box), set: (box, on) => mark([...ticked.filter((each) => each !== box), ...(on ? [box] : [])]) },
    zooms,
  };
}

/** Whether one of the cursor's places is one of these statements, or a part of one: `input:iface.3/via.0` is a part of `input:iface.3`. */
export function isUnder(cursor: readonly Place[], statements: readonly Place[]): boolean {
  return cursor.some((place) => statements.some((statement) => place === statement || place.startsWith(`${statement}/`)));
}
