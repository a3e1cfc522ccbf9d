// biome-ignore-all lint/a11y/noRedundantRoles: a narrow screen lays rows and cells out as blocks, which would take the roles away.
/** A row of a table with its findings, in a body of its own. */
import { Component, type JSX } from 'preact';
import type { Place } from '#rig';
import { type Column, heading, placed, standsOut, type TableBlock, type TableRow } from '../../sheet';
import { nameOf, printed, unbroken } from '../words';
import { cellClass } from './cellClass';
import { Notes } from './Notes';
import { Words } from './Words';
import { TICKS } from './widths';

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
  /** Left out on paper; always the same function. */
  jump?(place: Place): void;
  /** Left out where the page keeps its ticks by itself; always the same function. */
  tick?(box: string, on: boolean): void;
}

/** Drawn again only where it says or shows something else: of a large table a letter changes a row or two. */
export class Entry extends Component<EntryProps> {
  override shouldComponentUpdate({ row, group, step, box, ticked, lit, block }: EntryProps): boolean {
    const now = this.props;
    return !(
      row === now.row &&
      group === now.group &&
      step === now.step &&
      box === now.box &&
      ticked === now.ticked &&
      lit === now.lit &&
      hasSameHead(now.block, block)
    );
  }

  override render() {
    const { row, group, step, box, ticked, lit, block, jump, tick } = this.props;
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
        <tr
          role="row"
          {...(jump && place !== undefined ? { 'data-row': row.key, ...goTo(place, jump) } : {})}
          aria-current={lit || undefined}
        >
          {ticks && box !== undefined && (
            <td role="cell" class="cell tick">
              <span class="main" data-label={TICKS[ticks]}>
                <Tick
                  box={box}
                  ticked={ticked}
                  tick={tick && ((on) => tick(box, on))}
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
              <Notes notes={findings} jump={jump} />
            </td>
          </tr>
        )}
      </tbody>
    );
  }
}

/** Whether all of two tables is the same by which a row is drawn besides what it says itself. */
export function hasSameHead(one: TableBlock, other: TableBlock): boolean {
  return one.title === other.title && one.columns === other.columns && one.ticks === other.ticks;
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

function goTo(place: Place, jump: (place: Place) => void): JSX.HTMLAttributes<HTMLTableRowElement> {
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
