/** A sheet on screen and on paper: the same components make both, so that they agree. */
import type { ComponentChildren } from 'preact';
import { type Block, isEmpty, type Sheet as SheetData } from '../../sheet';
import { pageClasses } from '../pages';
import { CAUTION_RULE, countWords, draftWords, headFacts, NOTHING, unbroken } from '../words';
import { allBoxes } from './boxes';
import { NOT_KEPT } from './doneWords';
import { Frame } from './Frame';
import type { Interaction } from './interaction';
import { Notes } from './Notes';
import { Table } from './Table';
import { TickBar } from './TickBar';

interface SheetProps {
  readonly sheet: SheetData<string>;
  readonly act?: Interaction;
  /** Said where there is nothing of a rig yet. */
  readonly nothing?: ComponentChildren;
}

export function Sheet({ sheet, act, nothing = <p class="empty">{NOTHING}</p> }: SheetProps) {
  const boxes = act ? 0 : allBoxes(sheet).length;
  return (
    <article
      class={['sheet', ...pageClasses(sheet)].join(' ')}
      id={act ? undefined : sheet.id}
      data-rig={boxes > 0 ? sheet.fingerprint : undefined}
    >
      <Draft sheet={sheet} />
      <Head sheet={sheet} live={act !== undefined} />
      {boxes > 0 && (
        <>
          <TickBar done={0} of={boxes} hidden />
          <noscript>
            <p class="tick-bar">{NOT_KEPT}</p>
          </noscript>
        </>
      )}
      {isEmpty(sheet) && nothing}
      {sheet.blocks.map((block) => (
        <AnyBlock key={block.id} block={block} id={`${sheet.id}-${block.id}`} dense={sheet.dense} act={act} />
      ))}
    </article>
  );
}

export function Draft({ sheet }: Pick<SheetProps, 'sheet'>) {
  const words = draftWords(sheet);
  return words === undefined ? null : (
    <p class="draft" role="note">
      {words}
    </p>
  );
}

interface HeadProps {
  readonly sheet: Pick<SheetData<string>, 'name' | 'title' | 'occasion' | 'facts' | 'fingerprint' | 'counts'>;
  /** What was found is told again when it changes. */
  readonly live?: boolean;
}

export function Head({ sheet, live }: HeadProps) {
  return (
    <header class="sheet-head">
      {/* One heading, which says of which rig this is which sheet. */}
      <h1>
        <span class="sheet-kind">{sheet.name}</span>
        <span class="between">: </span>
        <span class="sheet-title">{sheet.title}</span>
      </h1>
      {/* biome-ignore lint/a11y/noRedundantRoles: without its dots Safari takes it for no list. */}
      <ul class="sheet-facts" role="list">
        {headFacts(sheet).map((fact) => (
          <li key={fact}>{unbroken(fact)}</li>
        ))}
      </ul>
      {sheet.counts && (
        <p class="sheet-count" role={live ? 'status' : undefined} aria-live={live ? 'polite' : undefined}>
          {countWords(sheet.counts)}
        </p>
      )}
    </header>
  );
}

interface BlockProps<B> {
  readonly block: B;
  /** Unique in its document. */
  readonly id: string;
  readonly dense?: boolean;
  readonly act?: Interaction;
}

export function AnyBlock({ block, id, dense, act }: BlockProps<Block>) {
  if (block.kind === 'table') return <Table block={block} id={id} dense={dense} act={act} />;
  return (
    // Without a name of its own it is no landmark: headings are enough of these, and several sheets on a page have some alike.
    <section class={`block block-${block.kind}`}>
      <h2 id={id}>{block.title}</h2>
      {block.remark && <p class="remark">{unbroken(block.remark)}</p>}
      <Content block={block} act={act} />
    </section>
  );
}

function Content({ block, act }: { readonly block: Exclude<Block, { kind: 'table' }>; readonly act?: Interaction }) {
  switch (block.kind) {
    case 'drawing':
      return <Frame block={block} act={act} />;
    case 'form':
      return (
        <dl class="lines">
          {block.fields.map(({ title, value }) => (
            <div key={title}>
              <dt>{title}</dt>
              <dd>{value && unbroken(value)}</dd>
            </div>
          ))}
        </dl>
      );
    case 'notes':
      return <Notes notes={block.notes} jump={act?.jump} />;
    case 'cautions':
      return (
        <>
          <p class="remark">{CAUTION_RULE}</p>
          <dl>
            {block.cautions.map(({ subject, text }) => (
              <div key={subject}>
                <dt>{subject}</dt>
                <dd>{unbroken(text)}</dd>
              </div>
            ))}
          </dl>
        </>
      );
  }
}
