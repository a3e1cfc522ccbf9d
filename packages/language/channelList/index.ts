/** A rig from the channel list that somebody has: decoded, read as a table, written as sources and lines of the house's. */
export { decodeList, UnusableList } from './decode';
export { type Imported, rigOfList } from './rig';
export {
  columnsOf,
  type ListColumn,
  type ListTable,
  ROLE_NAMES,
  ROLES,
  type Role,
  type Roles,
  type Row,
  rolesFrom,
  tableOf,
} from './table';
