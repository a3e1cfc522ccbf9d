// biome-ignore-all lint/a11y/noRedundantRoles: a narrow screen lays the table out as blocks, which would take the roles away.
/** A section of the sheet as a table with a caption; each row with its findings is a body of its own. */
import type { JSX } from 'preact';
import type { Row } from '../../model';
import { type Column, type Field, heading, type Section } from '../sections';
import { Notes } from './Notes';
import type { Interaction } from './Sheet';

interface TableProps<R> {
  readonly section: Section<R>;
  /** What of a row can be gone to and have findings. */
  readonly partOf: (row: R) => Row | undefined;
  readonly act?: Interaction;
}

export function Table<R extends { readonly key: string }>({ section, partOf, act }: TableProps<R>) {
  const title = `sheet-${section.id}`;
  if (section.rows.length === 0) {
    return (
      <section class="table-of" aria-labelledby={title}>
        <h2 id={title}>{section.title}</h2>
        <p class="empty">{section.empty}</p>
      </section>
    );
  }
  return (
    <table role="table" class={`table-of table-${section.id}`}>
      <caption>
        <h2 id={title}>{section.title}</h2>
        {section.remark && <p class="remark">{section.remark}</p>}
      </caption>
      <colgroup>
        {section.columns.map((column) => (
          <col key={column.title} class={`col-${slug(column)}`} />
        ))}
      </colgroup>
      <thead role="rowgroup">
        <tr role="row">
          {section.columns.map((column) => (
            <th key={column.title} role="columnheader" scope="col" class={cellClass(column)}>
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
      {section.rows.map((row) => (
        <Entry key={row.key} row={row} part={partOf(row)} columns={section.columns} act={act} />
      ))}
    </table>
  );
}

function Heading({ field }: { readonly field: { readonly title: string; readonly unit?: string } }) {
  return (
    <span class="main">
      {field.title}
      {field.unit && <span class="unit"> {field.unit}</span>}
    </span>
  );
}

interface EntryProps<R> {
  readonly row: R;
  readonly part: Row | undefined;
  readonly columns: readonly Column<R>[];
  readonly act?: Interaction;
}

function Entry<R>({ row, part, columns, act }: EntryProps<R>) {
  const findings = part?.findings ?? [];
  const lit = part && act?.isLit(part.about) ? true : undefined;
  const classes = ['entry', lit && 'lit', part?.unfinished && 'unfinished', findings[0] && `worst-${findings[0].severity}`];
  return (
    <tbody role="rowgroup" class={classes.filter(Boolean).join(' ')}>
      <tr role="row" {...(part && act ? goTo(part, act) : {})} aria-current={lit}>
        {columns.map((column) => (
          <Cell key={column.title} row={row} column={column} />
        ))}
      </tr>
      {findings.length > 0 && (
        <tr role="row" class="row-notes">
          <td role="cell" colSpan={columns.length}>
            <Notes notes={findings} act={act} />
          </td>
        </tr>
      )}
    </tbody>
  );
}

function goTo(part: Row, act: Interaction): JSX.HTMLAttributes<HTMLTableRowElement> {
  return {
    tabIndex: 0,
    onClick: () => act.jump(part.place),
    onKeyDown: (event) => {
      if (event.key !== 'Enter' || event.target !== event.currentTarget) return;
      event.preventDefault();
      act.jump(part.place);
    },
  };
}

function Cell<R>({ row, column }: { readonly row: R; readonly column: Column<R> }) {
  const main = shown(column.of(row));
  const under = column.under && shown(column.under.of(row));
  const content = (
    <>
      {main !== '' && (
        <span class="main" data-label={heading(column)}>
          {main}
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
          {under}
        </span>
      )}
    </>
  );
  const classes = `${cellClass(column)}${main === '' && !under ? ' nothing' : ''}`;
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

/** Numbers with a minus sign as it is printed. */
function shown(value: ReturnType<Field<never>['of']>): string {
  return typeof value === 'number' ? String(value).replace('-', '\u2212') : (value ?? '');
}

function cellClass<R>(column: Column<R>): string {
  return column.number ? 'cell number' : 'cell';
}

function slug(column: { readonly title: string }): string {
  return column.title.toLowerCase().replace(/[^a-z]+/g, '-');
}
