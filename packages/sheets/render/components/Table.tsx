// biome-ignore-all lint/a11y/noRedundantRoles: a narrow screen lays rows and cells out as blocks, which would take the roles away.
/** A table with a caption; each row with its findings is a body of its own. */
import type { JSX } from 'preact';
import type { Place } from '#rig';
import { type Column, type Field, groupAt, heading, placed, standsOut, stepOf, type TableBlock, type TableRow } from '../../sheet';
import { nameOf, printed, unbroken } from '../words';
import { boxesOf } from './boxes';
import type { Interaction, Ticks } from './interaction';
import { Notes } from './Notes';
import { cardsBelow, isMoved, isNumber, isSmall, TICKS, UNBROKEN, widths } from './widths';

interface TableProps {
  readonly block: TableBlock;
  /** Unique in its document. */
  readonly id: string;
  /** Set close, on one page. */
  readonly dense?: boolean;
  readonly act?: Interaction;
}

export function Table({ block, id, dense, act }: TableProps) {
  const { title, remark, columns, rows, ticks } = block;
  if (rows.length === 0) {
    return (
      <section class="block table-of">
        <h2 id={id}>{title}</h2>
        <p class="empty">{unbroken(block.empty)}</p>
      </section>
    );
  }
  const shares = widths(block, dense);
  const boxes = boxesOf(block);
  // What may have to be moved sideways can be reached by the keyboard (WCAG 2.1.1): by something in it, or else by itself.
  const reached = act || ticks ? {} : { role: 'group', 'aria-label': `Table: ${title}`, tabIndex: 0 };
  return (
    <div class={`room cards${cardsBelow(block)}${isMoved(block) ? ' moved' : ''}`} {...reached}>
      <table class={`block table-of table-${block.id}${isSmall(block) ? ' small' : ''}`}>
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
        {rows.map((row, index) => (
          <Entry
            key={row.key}
            row={row}
            group={groupAt(rows, index)}
            step={stepOf(block, index)}
            box={boxes[index]}
            block={block}
            act={act}
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

const LONG_WORD = new RegExp(`(\\S{${UNBROKEN + 1},})`);

/** A long word may be broken wherever it has to be; all others stay whole. */
function Words({ text: words }: { readonly text: string }) {
  const text = unbroken(words);
  if (!LONG_WORD.test(text)) return <>{text}</>;
  return (
    <>
      {text.split(LONG_WORD).map((part, index) =>
        index % 2 === 0 ? (
          // What holds fast to a word that is broken itself would be broken with it.
          part.replace(/^\u00a0/, index === 0 ? '$&' : ' ')
        ) : (
          <span key={index} class="long">
            {part}
          </span>
        ),
      )}
    </>
  );
}

interface EntryProps {
  readonly row: TableRow;
  /** What begins with this row. */
  readonly group?: string;
  readonly step: number;
  /** The name of its box, where it has one. */
  readonly box?: string;
  readonly block: TableBlock;
  readonly act?: Interaction;
}

function Entry({ row, group, step, box, block, act }: EntryProps) {
  const { columns, ticks } = block;
  const { findings, place } = row;
  const lit = act && row.about.length > 0 && act.isLit(row.about) ? true : undefined;
  const classes = [
    'entry',
    lit && 'lit',
    row.unfinished && 'unfinished',
    row.strong && 'strong',
    row.change && 'changes',
    findings[0] && `worst-${findings[0].severity}`,
  ];
  const parts = placed(columns);
  return (
    <tbody role="rowgroup" class={classes.filter(Boolean).join(' ')}>
      {group !== undefined && (
        <tr role="row" class="group">
          <td role="cell" colSpan={columns.length + (ticks ? 1 : 0)}>
            <strong>{unbroken(group)}</strong>
          </td>
        </tr>
      )}
      <tr role="row" {...(act && place !== undefined ? goTo(place, act) : {})} aria-current={lit}>
        {ticks && box !== undefined && (
          <td role="cell" class="cell tick">
            <span class="main" data-label={TICKS[ticks]}>
              <Tick box={box} ticks={act?.ticks} step={ticks === 'numbers' ? step : undefined} name={nameOf(row, block)} />
            </span>
          </td>
        )}
        {columns.map((column, index) => (
          <Cell key={column.title} row={row} column={column} at={parts[index]?.[0]?.index ?? 0} acted={standsOut(column, block)} />
        ))}
      </tr>
      {findings.length > 0 && (
        <tr role="row" class="row-notes">
          <td role="cell" colSpan={columns.length + (ticks ? 1 : 0)}>
            <Notes notes={findings} act={act} />
          </td>
        </tr>
      )}
    </tbody>
  );
}

interface TickProps {
  readonly box: string;
  readonly ticks?: Ticks;
  readonly step?: number;
  /** Of its row. */
  readonly name: string;
}

/** It is named by its row: whoever hears the page meets it by itself. */
function Tick({ box, ticks, step, name }: TickProps) {
  return (
    <label class="tickable">
      <input
        type="checkbox"
        value={box}
        checked={ticks?.has(box)}
        aria-label={step === undefined ? `Done: ${name}` : `${step} done: ${name}`}
        onChange={ticks && ((event) => ticks.set(box, event.currentTarget.checked))}
      />
      {step}
    </label>
  );
}

function goTo(place: Place, act: Interaction): JSX.HTMLAttributes<HTMLTableRowElement> {
  return {
    tabIndex: 0,
    onClick: ({ target }) => {
      if (!(target as Element).closest('.tickable')) act.jump(place);
    },
    onKeyDown: (event) => {
      if (event.key !== 'Enter' || event.target !== event.currentTarget) return;
      event.preventDefault();
      act.jump(place);
    },
  };
}

interface CellProps {
  readonly row: TableRow;
  readonly column: Column;
  readonly at: number;
  readonly acted: boolean;
}

function Cell({ row, column, at, acted }: CellProps) {
  const main = printed(row.cells[at]);
  const under = column.under && printed(row.cells[at + 1]);
  const content = (
    <>
      {main !== '' && (
        <span class="main" data-label={heading(column)}>
          <Words text={main} />
        </span>
      )}
      {main === '' && under && (
        // Keeps the second line a second line.
        <span class="main none" aria-hidden="true">
          –
        </span>
      )}
      {column.under && under && (
        <span class="under" data-label={heading(column.under)}>
          <Words text={under} />
        </span>
      )}
    </>
  );
  const classes = `${cellClass(column, acted)}${main === '' && !under ? ' nothing' : ''}`;
  if (column.names) {
    return (
      <th role="rowheader" scope="row" class={classes}>
        {content}
      </th>
    );
  }
  return (
    <td role="cell" class={classes}>
      {content}
    </td>
  );
}

function cellClass(column: Column, acted: boolean): string {
  return ['cell', column.names && 'names', isNumber(column) && 'number', acted && 'acted'].filter(Boolean).join(' ');
}
