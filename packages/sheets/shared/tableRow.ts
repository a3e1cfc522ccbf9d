/** Rows of tables that are made of statements, or of none. */
import type { Place } from '#rig';
import type { Cell, TableRow } from '../sheet';
import { unique } from './draft';

export type RowOptions = Partial<Pick<TableRow, 'name' | 'about' | 'tells' | 'unfinished' | 'strong' | 'findings' | 'group'>> & {
  readonly place?: Place;
};

export function tableRow(key: string, cells: readonly Cell[], options: RowOptions = {}): TableRow {
  const { place, about = [], findings = [], name, tells, unfinished, strong, group } = options;
  return {
    key,
    ...(name === undefined ? {} : { name }),
    ...(place === undefined ? {} : { place }),
    about: unique(place === undefined ? about : [place, ...about]),
    ...(tells === undefined ? {} : { tells }),
    ...(unfinished ? { unfinished } : {}),
    ...(group === undefined ? {} : { group }),
    ...(strong ? { strong } : {}),
    findings,
    cells,
  };
}
