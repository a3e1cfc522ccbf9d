/** A channel list as a table: rows of cells, and what each column is. */
import Papa from 'papaparse';
import { UnusableList } from './decode';

export const ROLES = ['number', 'name', 'mic', 'stand', 'phantom', 'player'] as const;
export type Role = (typeof ROLES)[number];

/** What each column is; nothing where it is of no use here. */
export type Roles = readonly (Role | undefined)[];

export interface Row {
  /** Where it stands in the list, from 1, headings and blank lines counted. */
  readonly line: number;
  readonly cells: readonly string[];
}

export interface ListTable {
  /** What stands above the headings: a title, as a rule. */
  readonly above: readonly Row[];
  /** Nothing where the list has none. */
  readonly headings?: Row;
  readonly rows: readonly Row[];
  /** As they are headed, or as their cells look. */
  readonly roles: Roles;
  /** The column that its cells alone show to be the numbers of the lines: its heading is not known here. */
  readonly numbersIn?: number;
  /** Why somebody has to say what the columns are; nothing where it is clear. */
  readonly unsure?: string;
}

/** More rows than any desk has channels. */
const MOST_ROWS = 20_000;
const MOST_COLUMNS = 60;

/** The usual headings, in plain letters. Common practice, no source. */
const HEADINGS: Readonly<Record<Role, RegExp>> = {
  number:
    /^(#|no|nr|num|number|ch|chan|channel|channel (no|nr|number)|ch (no|nr|number)|line|line (no|number)|input|input (no|number)|in)$/,
  name: /^(name|source|instrument|label|what|description|channel name|input name|signal|source name|input source)$/,
  mic: /^(mic|mics|microphone|mic type|microphone type|mic di|mic or di|mic or line|di|type|mic line|pick ?up|transducer|input type|connection)$/,
  stand: /^(stand|stands|mic stand|stand type|mount|clip or stand|stand or clip)$/,
  phantom: /^(\+?48( ?v)?|48 volts?|phantom|phantom power|phantom \+?48 ?v|\+?48 ?v phantom|p48|ph|pp)$/,
  player: /^(player|musician|who|performer|by|person|played by)$/,
};

/** Throws `UnusableList`. */
export function tableOf(text: string): ListTable {
  // A mark, and a first line that only names the separator, are no part of the list.
  const marked = text.replace(/^\uFEFF/, '');
  const [named = '', said] = /^"?sep=(.)"?(?:\r\n|\r|\n)/i.exec(marked) ?? [];
  const plain = marked.slice(named.length);
  if (plain.trim() === '') throw new UnusableList('There is nothing in the list.', 'Take one with a row for each channel.');
  const { data, errors } = Papa.parse<string[]>(plain, { delimiter: said ?? delimiterOf(plain) });
  const quote = errors.find(({ type }) => type === 'Quotes');
  if (quote)
    throw new UnusableList(
      `A quotation mark in row ${(quote.row ?? 0) + 1} of the list is never closed, or stands inside a word.`,
      'Put it right there: what follows would be taken for one long cell.',
    );
  const rows = data
    .map((cells, index): Row => ({ line: index + 1, cells: cells.map((cell) => cell.replace(/\s+/g, ' ').trim()) }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  if (rows.length > MOST_ROWS)
    throw new UnusableList(`The list has ${rows.length} rows.`, `Up to ${MOST_ROWS} can be taken: no desk has so many channels.`);
  if (rows.some(({ cells }) => cells.length > MOST_COLUMNS))
    throw new UnusableList(`A row of the list has more than ${MOST_COLUMNS} cells.`, 'Take a list with a row for each channel.');
  // A title or the like may stand above the headings.
  const at = rows.slice(0, MOST_ABOVE).findIndex(({ cells }) => isHeadings(cells));
  if (at >= 0) {
    const headings = rows[at] as Row;
    const below = rows.slice(at + 1);
    const headed = headings.cells.map(roleOf);
    const numbersIn = headed.includes('number') ? undefined : onlyNumbers(below, headed);
    const roles = headed.map((role, column): Role | undefined => (column === numbersIn ? 'number' : role));
    const twice = ROLES.find((role) => roles.filter((each) => each === role).length > 1);
    const unsure = twice
      ? `Two columns look like the ${ROLE_NAMES[twice]}.`
      : roles.includes('name')
        ? undefined
        : 'No column is headed as the name of what sounds.';
    return {
      above: rows.slice(0, at),
      headings,
      rows: below,
      roles,
      ...(numbersIn === undefined ? {} : { numbersIn }),
      ...(unsure === undefined ? {} : { unsure }),
    };
  }
  return { above: [], rows, roles: guessed(rows), unsure: 'The list has no headings that are known here.' };
}

/** The one by which there are headings; else the one by which rows have equally many cells. */
function delimiterOf(text: string): string {
  // Blank lines would be counted as rows of one cell.
  const read = (wanted: { delimiter?: string; delimitersToGuess?: string[] }, preview: number) =>
    Papa.parse<string[]>(text, { ...wanted, skipEmptyLines: true, preview });
  const headed = DELIMITERS.find((delimiter) => read({ delimiter }, MOST_ABOVE).data.some(isHeadings));
  return headed ?? read({ delimitersToGuess: [...DELIMITERS] }, 50).meta.delimiter;
}

const DELIMITERS = [',', ';', '\t', '|'] as const;

/** Of a title or the like above the headings, with them. */
const MOST_ABOVE = 10;

function isHeadings(cells: readonly string[]): boolean {
  return cells.filter((cell) => roleOf(cell) !== undefined).length >= 2;
}

export interface ListColumn {
  readonly heading: string;
  /** A few of its cells. */
  readonly samples: readonly string[];
  readonly role: Role | undefined;
}

/** The columns, for whoever is asked what they are. */
export function columnsOf({ headings, rows, roles }: ListTable): ListColumn[] {
  const width = rows.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  return Array.from({ length: width }, (_, index) => ({
    heading: headings?.cells[index] || `column ${index + 1}`,
    samples: rows.flatMap(({ cells }) => cells[index] || []).slice(0, 3),
    role: roles[index],
  }));
}

export const ROLE_NAMES: Readonly<Record<Role, string>> = {
  number: 'number of the line',
  name: 'name of what sounds',
  mic: 'microphone or DI',
  stand: 'stand',
  phantom: '48 V',
  player: 'name of who plays it',
};

function roleOf(heading: string): Role | undefined {
  const plain = heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N}#+]+/gu, ' ')
    .trim();
  return ROLES.find((role) => HEADINGS[role].test(plain));
}

/** The one column of no known heading in which nearly all cells are whole numbers, each another; nothing where there is none, or more than one. */
function onlyNumbers(rows: readonly Row[], headed: Roles): number | undefined {
  const found = headed.flatMap((role, column) => {
    const numbers = rows.flatMap(({ cells }) => (/^\d+$/.test(cells[column] ?? '') ? Number(cells[column]) : []));
    return role === undefined && numbers.length > rows.length * 0.8 && new Set(numbers).size === numbers.length ? [column] : [];
  });
  return found.length === 1 ? found[0] : undefined;
}

/** What columns without headings look like. */
function guessed(rows: readonly Row[]): Roles {
  const width = rows.reduce((most, { cells }) => Math.max(most, cells.length), 0);
  const share = (column: number, is: (cell: string) => boolean) => rows.filter(({ cells }) => is(cells[column] ?? '')).length / rows.length;
  const columns = Array.from({ length: width }, (_, column) => column);
  const number = columns.find((column) => share(column, (cell) => /^\d+$/.test(cell)) > 0.8);
  const name = columns.find((column) => column !== number && share(column, (cell) => /\p{L}{2}/u.test(cell)) > 0.8);
  return columns.map((column) => (column === number ? 'number' : column === name ? 'name' : undefined));
}

/** `number,name,-,mic`: what somebody says that the columns are. Throws `UnusableList`. */
export function rolesFrom(words: string): Roles {
  return words.split(',').map((word) => {
    const said = word.trim().toLowerCase();
    if (said === '' || said === '-') return undefined;
    const role = ROLES.find((each) => each === said);
    if (!role)
      throw new UnusableList(`"${word.trim()}" is no kind of column.`, `There are ${ROLES.join(', ')}, and - for one that is not needed.`);
    return role;
  });
}
