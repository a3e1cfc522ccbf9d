/** A sheet on screen and on paper: the same components make both, so that they agree. */
import type { ComponentChildren } from 'preact';
import { type Block, isEmpty, type Sheet as SheetData } from '../../sheet';
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
  const draft = draftWords(sheet);
  const boxes = act ? 0 : allBoxes(sheet).length;
  return (
    <article
      class={['sheet', isWide(sheet) && 'wide', sheet.dense && 'dense', isTight(sheet) && 'tight'].filter(Boolean).join(' ')}
      id={act ? undefined : sheet.id}
      data-rig={boxes > 0 ? sheet.fingerprint : undefined}
    >
      {draft && (
        <p class="draft" role="note">
          {draft}
        </p>
      )}
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
          <p class="sheet-count" role={act ? 'status' : undefined} aria-live={act ? 'polite' : undefined}>
            {countWords(sheet.counts)}
          </p>
        )}
      </header>
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

/** On paper, what is wider than a page that stands lies. */
const UPRIGHT_MM = 186;

function isWide({ blocks }: SheetData<string>): boolean {
  return blocks.some((block) => block.kind === 'drawing' && block.drawing.width > UPRIGHT_MM);
}

/** What is meant for one page, and is more than fits with any white between its rows. In rows. */
const ROOMY = 38;
const ROW_MM = 3.6;

function isTight({ dense, blocks }: SheetData<string>): boolean {
  const rows = blocks.map((block) => {
    if (block.kind === 'table') return block.rows.reduce((sum, { findings }) => sum + 1 + 2 * findings.length, 0);
    return block.kind === 'drawing' ? Math.min(block.drawing.height, DRAWN_MM) / ROW_MM : 0;
  });
  return dense === true && rows.reduce((a, b) => a + b, 0) > ROOMY;
}

/** So high is a drawing on such a page at the most, as the style sheet says. */
const DRAWN_MM = 108;

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
      return <Notes notes={block.notes} act={act} />;
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
