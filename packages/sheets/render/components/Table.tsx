// biome-ignore-all lint/a11y/noRedundantRoles: a narrow screen lays rows and cells out as blocks, which would take the roles away.
/** A table with a caption. */
import { useMemo, useRef } from 'preact/hooks';
import type { Field, TableBlock } from '../../sheet';
import { unbroken } from '../words';
import { boxesOf } from './boxes';
import { cellClass } from './cellClass';
import type { Interaction } from './interaction';
import { Part } from './Part';
import { inParts, type RowPart } from './parts';
import { Words } from './Words';
import { layoutOf, TICKS } from './widths';

interface TableProps {
  readonly block: TableBlock;
  /** Unique in its document. */
  readonly id: string;
  /** Set close, on one page. */
  readonly dense?: boolean;
  readonly act?: Interaction;
}

/** So many rows are laid out each by itself, where the page is drawn again and again. */
const LONG = 128;

export function Table(props: TableProps) {
  const { block, id } = props;
  if (block.rows.length > 0) return <Rows {...props} />;
  return (
    <section class="block table-of">
      <h2 id={id}>{block.title}</h2>
      <p class="empty">{unbroken(block.empty)}</p>
    </section>
  );
}

function Rows({ block, id, dense, act }: TableProps) {
  const { title, remark, columns, rows, ticks } = block;
  // For a table that is drawn again because something else has changed, all of that stays.
  const { shares, tracks, small, cardsBelow, moved } = useMemo(() => layoutOf(block, dense), [rows, columns, ticks, dense]);
  const boxes = useMemo(() => boxesOf(block), [rows, ticks]);
  const table = useRef<HTMLTableElement>(null);
  const before = useRef<readonly RowPart[]>([]);
  const parts = useMemo(() => inParts(rows, before.current), [rows]);
  before.current = parts;
  const near = useMemo(() => (table.current ? act?.near?.(table.current) : undefined), [block]);
  // Of a table the browser lays all rows out again where one comes or goes.
  const long = act !== undefined && !moved && rows.length > LONG;
  // What may have to be moved sideways can be reached by the keyboard (WCAG 2.1.1): by something in it, or else by itself.
  const reached = act || ticks ? {} : { role: 'group', 'aria-label': `Table: ${title}`, tabIndex: 0 };
  return (
    <div class={`room cards${cardsBelow}${moved ? ' moved' : ''}`} {...reached}>
      <table
        ref={table}
        class={`block table-of table-${block.id}${small ? ' small' : ''}${long ? ' long-table' : ''}`}
        style={long ? { '--columns': tracks } : undefined}
      >
        <caption>
          <h2 id={id}>{title}</h2>
          {remark && <p class="remark">{unbroken(remark)}</p>}
        </caption>
        <colgroup>
          {shares.map((share, index) => (
            <col key={index} class={`w${share}`} />
          ))}
        </colgroup>
        <thead role="rowgroup">
          <tr role="row">
            {ticks && (
              <th role="columnheader" scope="col" class="cell tick">
                <span class="main">{TICKS[ticks]}</span>
              </th>
            )}
            {columns.map((column) => (
              <th key={column.title} role="columnheader" scope="col" class={cellClass(column, false)}>
                <Heading field={column} />
                {column.under && (
                  <span class="under">
                    <Heading field={column.under} />
                  </span>
                )}
              </th>
            ))}
          </tr>
        </thead>
        {parts.map(({ id, rows, first }) => (
          <Part
            key={id}
            rows={rows}
            first={first}
            boxes={boxes.slice(first, first + rows.length)}
            block={block}
            act={act}
            isNear={near === undefined || (first <= near.to && near.from < first + rows.length)}
          />
        ))}
      </table>
    </div>
  );
}

function Heading({ field }: { readonly field: Field }) {
  return (
    <span class="main">
      <Words text={field.title} />
      {field.unit && <span class="unit"> {field.unit}</span>}
    </span>
  );
}
