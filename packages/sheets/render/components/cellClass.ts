import type { Column } from '../../sheet';
import { isNumber } from './widths';

export function cellClass(column: Column, acted: boolean): string {
  return ['cell', column.names && 'names', isNumber(column) && 'number', acted && 'acted'].filter(Boolean).join(' ');
}
