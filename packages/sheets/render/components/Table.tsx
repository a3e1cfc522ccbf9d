// biome-ignore-all lint/a11y/noRedundantRoles: a narrow screen lays rows and cells out as blocks, which would take the roles away.
/** A table with a caption; each row with its findings is a body of its own. */
import { Component, type JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { Place } from '#rig';
import { type Column, type Field, groupAt, heading, placed, standsOut, stepOf, type TableBlock, type TableRow } from '../../sheet';
import { nameOf, printed, unbroken } from '../words';
import { boxesOf } from './boxes';
import type { Interaction } from './interaction';
import { Notes } from './Notes';
import { isNumber, layoutOf, TICKS, UNBROKEN } from './widths';

interface TableProps {
  readonly block: TableBlock;
  /** Unique in its document. */
  readonly id: string;
  /** Set close, on one page. */
  readonly dense?: boolean;
  readonly act?: Interaction;
}

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
  const { shares, small, cardsBelow, moved } = useMemo(() => layoutOf(block, dense), [block, dense]);
  const boxes = useMemo(() => boxesOf(block), [block]);
  // What may have to be moved sideways can be reached by the keyboard (WCAG 2.1.1): by something in it, or else by itself.
  const reached = act || ticks ? {} : { role: 'group', 'aria-label': `Table: ${title}`, tabIndex: 0 };
  return (
    <div class={`room cards${cardsBelow}${moved ? ' moved' : ''}`} {...reached}>
      <table class={`block table-of table-${block.id}${small ? ' small' : ''}`}>
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
        {rows.map((row, index) => {
          const box = boxes[index];
          return (
            <Entry
              key={row.key}
              row={row}
              group={groupAt(rows, index)}
              step={stepOf(block, index)}
              box={box}
              ticked={box !== undefined && act?.ticks?.has(box)}
              lit={row.about.length > 0 && act?.isLit(row.about)}
              block={block}
              act={act}
            />
          );
        })}
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
  readonly ticked?: boolean;
  readonly lit?: boolean;
  readonly block: TableBlock;
  readonly act?: Interaction;
}

/** Drawn again only where it says or shows something else: of a large table a letter changes a row or two. */
class Entry extends Component<EntryProps> {
  override shouldComponentUpdate({ row, group, step, box, ticked, lit, block }: EntryProps): boolean {
    const now = this.props;
    const { title, columns, ticks } = now.block;
    return !(
      row === now.row &&
      group === now.group &&
      step === now.step &&
      box === now.box &&
      ticked === now.ticked &&
      lit === now.lit &&
      title === block.title &&
      columns === block.columns &&
      ticks === block.ticks
    );
  }

  private readonly jump = (place: Place) => this.props.act?.jump(place);
  private readonly tick = (on: boolean) => {
    const { act, box } = this.props;
    if (box !== undefined) act?.ticks?.set(box, on);
  };

  override render() {
    const { row, group, step, box, ticked, lit, block, act } = this.props;
    const { columns, ticks } = block;
    const { findings, place } = row;
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
        <tr role="row" {...(act && place !== undefined ? goTo(place, this.jump) : {})} aria-current={lit || undefined}>
          {ticks && box !== undefined && (
            <td role="cell" class="cell tick">
              <span class="main" data-label={TICKS[ticks]}>
                <Tick
                  box={box}
                  ticked={ticked}
                  tick={act?.ticks && this.tick}
                  step={ticks === 'numbers' ? step : undefined}
                  name={nameOf(row, block)}
                />
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
              <Notes notes={findings} jump={act && this.jump} />
            </td>
          </tr>
        )}
      </tbody>
    );
  }
}

interface TickProps {
  readonly box: string;
  readonly ticked?: boolean;
  tick?(on: boolean): void;
  readonly step?: number;
  /** Of its row. */
  readonly name: string;
}

/** It is named by its row: whoever hears the page meets it by itself. */
function Tick({ box, ticked, tick, step, name }: TickProps) {
  return (
    <label class="tickable">
      <input
        type="checkbox"
        value={box}
        checked={ticked}
        aria-label={step === undefined ? `Done: ${name}` : `${step} done: ${name}`}
        onChange={tick && ((event) => tick(event.currentTarget.checked))}
      />
      {step}
    </label>
  );
}

function goTo(place: Place, jump: Interaction['jump']): JSX.HTMLAttributes<HTMLTableRowElement> {
  return {
    tabIndex: 0,
    onClick: ({ target }) => {
      if (!(target as Element).closest('.tickable')) jump(place);
    },
    onKeyDown: (event) => {
      if (event.key !== 'Enter' || event.target !== event.currentTarget) return;
      event.preventDefault();
      jump(place);
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
