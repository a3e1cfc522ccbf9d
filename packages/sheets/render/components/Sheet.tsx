/** The patch list on screen and on paper: the same components make both, so that they agree. */
import type { Place } from '#rig';
import type { LeadTotal, Note, PatchList, Row } from '../../model';
import { houseSection, inputSection, isEmpty, leadSection, outputSection, packingSection } from '../sections';
import { CAUTION_RULE, CAUTIONS, countWords, ELSEWHERE, SHEET_NAME } from '../words';
import { Notes } from './Notes';
import { Table } from './Table';

/** What a reader can do with the sheet where there is an editor behind it. On paper there is none. */
export interface Interaction {
  jump(place: Place): void;
  /** Whether the cursor is in one of the statements that a row is about. */
  isLit(about: readonly Place[]): boolean;
}

export function Sheet({ list, act }: { readonly list: PatchList; readonly act?: Interaction }) {
  return (
    <article class="sheet">
      <header class="sheet-head">
        <p class="sheet-kind">{SHEET_NAME}</p>
        <h1>{list.title}</h1>
        <ul class="sheet-facts">
          {list.facts.map((fact) => (
            <li key={fact}>{fact}</li>
          ))}
        </ul>
        <p class="sheet-count" role={act ? 'status' : undefined} aria-live={act ? 'polite' : undefined}>
          {countWords(list.counts)}
        </p>
      </header>
      {!isEmpty(list) && (
        <>
          <Table section={inputSection(list)} partOf={itself} act={act} />
          <Table section={outputSection(list)} partOf={itself} act={act} />
          <Table section={houseSection(list)} partOf={itself} act={act} />
          <Table section={leadSection(list)} partOf={itself} act={act} />
          <Table section={packingSection(list)} partOf={nothing} />
        </>
      )}
      <Elsewhere notes={list.elsewhere} act={act} />
      <Cautions list={list} />
    </article>
  );
}

const itself = (row: Row) => row;
const nothing = (_: LeadTotal) => undefined;

function Elsewhere({ notes, act }: { readonly notes: readonly Note[]; readonly act?: Interaction }) {
  if (notes.length === 0) return null;
  return (
    <section class="elsewhere">
      <h2>{ELSEWHERE}</h2>
      <Notes notes={notes} act={act} />
    </section>
  );
}

function Cautions({ list }: { readonly list: PatchList }) {
  if (list.cautions.length === 0) return null;
  return (
    <section class="cautions">
      <h2>{CAUTIONS}</h2>
      <p>{CAUTION_RULE}</p>
      <dl>
        {list.cautions.map((caution) => (
          <div key={caution.subject}>
            <dt>{caution.subject}</dt>
            <dd>{caution.text}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
