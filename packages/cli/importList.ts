/** `earloom import`: a rig from the channel list that somebody has. */
import { stat } from 'node:fs/promises';
import path from 'node:path';
import { createInterface } from 'node:readline/promises';
import { EmptyFileSystem } from 'langium';
import { createRigCore } from '#language';
import {
  columnsOf,
  decodeList,
  type ListTable,
  ROLE_NAMES,
  ROLES,
  type Roles,
  rigOfList,
  rolesFrom,
  tableOf,
  UnusableList,
} from '#language/list';
import { CLEAN, Unusable } from './exit';
import { print, tell } from './print';
import { readBytes } from './read';
import { visible } from './report/visible';
import { shownAs } from './wanted';
import { writeWhole } from './write';

export interface ImportOptions {
  readonly output?: string;
  /** `number,name,-,mic`. */
  readonly columns?: string;
  readonly title?: string;
}

/** Nothing that is there is written over. Throws `Unusable`. */
export async function importList(word: string, { output, columns, title }: ImportOptions): Promise<number> {
  const shown = word === '-' ? 'standard input' : shownAs(path.resolve(word));
  const target = output === undefined || output === '-' ? undefined : path.resolve(output);
  if (target !== undefined) await refuseThere(target);
  const bytes = await readBytes(word, shown);
  try {
    const table = tableOf(decodeList(bytes));
    const roles = columns === undefined ? await sureRoles(table, shown) : checkedRoles(columns, table);
    const name = title ?? (word === '-' ? 'Channel list' : path.basename(word, path.extname(word)));
    const { Rig } = createRigCore(EmptyFileSystem);
    const { text, lines, left, remarks } = rigOfList(Rig, title === undefined ? table : { ...table, above: [] }, roles, name);
    if (target === undefined) await print(process.stdout.isTTY ? visible(text) : text);
    else await writeWhole(target, text, shownAs(target));
    const count = (number: number, what: string) => `${number} ${what}${number === 1 ? '' : 's'}`;
    const said = remarks.map(({ row, says }) => `\n  row ${row}: ${says}`).join('');
    const where = target === undefined ? '' : ` in ${shownAs(target)}`;
    tell({
      what: `${count(table.rows.length, 'row')}: ${count(lines, 'line')} of the house’s${where}, ${left === 0 ? 'none' : left} left out.${said}`,
      cure: `${remarks.length > 0 ? '\nAll of this stands at the end of it as comments. ' : ''}Say next what you plug in, and who hears what.`,
    });
    return CLEAN;
  } catch (problem) {
    throw problem instanceof UnusableList ? new Unusable(`${shown}: ${problem.what}`, problem.cure, problem) : problem;
  }
}

async function refuseThere(file: string): Promise<void> {
  const there = await stat(file).then(
    () => true,
    () => false,
  );
  if (there) throw new Unusable(`${shownAs(file)} is there already, and stays as it is.`, 'Name a new file, as in "-o from-list.rig".');
}

function checkedRoles(columns: string, table: ListTable): Roles {
  const roles = rolesFrom(columns);
  const width = columnsOf(table).length;
  if (roles.length > width) throw new UnusableList(`--columns names ${roles.length} columns, and the list has ${width}.`, 'Name as many.');
  return roles;
}

/** Whoever sits there is asked what is not clear; a program is told how to say it. */
async function sureRoles(table: ListTable, shown: string): Promise<Roles> {
  if (table.unsure === undefined) return table.roles;
  const columns = columnsOf(table);
  const shownColumns = columns.map(({ heading, samples }) => `\n  ${heading}: ${samples.join(', ')}`).join('');
  const known = columns.some(({ role }) => role) ? columns.map(({ role }) => role ?? '-').join(',') : 'number,name,mic,stand,phantom';
  if (!process.stdin.isTTY || !process.stderr.isTTY)
    throw new Unusable(
      `${shown}: ${table.unsure} It has these columns:${shownColumns}\n`,
      `Say what each is, as in "--columns ${known}": ${ROLES.join(', ')}, or - for one that is not needed.`,
    );
  const lines = createInterface({ input: process.stdin, output: process.stderr });
  try {
    process.stderr.write(
      `${table.unsure} What is each column? (${ROLES.join(', ')}; Enter alone takes what is in brackets, - leaves it out)\n`,
    );
    const roles: string[] = [];
    for (const { heading, samples, role } of columns) {
      for (;;) {
        const said = await lines.question(
          `${visible(`${heading} (${samples.join(', ')})`)} [${role ? `${role}: ${ROLE_NAMES[role]}` : '-'}]: `,
        );
        const answer = said.trim() === '' ? (role ?? '-') : said.trim().toLowerCase();
        if (answer === '-' || (ROLES as readonly string[]).includes(answer)) {
          roles.push(answer);
          break;
        }
        process.stderr.write(`There are ${ROLES.join(', ')} and -.\n`);
      }
    }
    return rolesFrom(roles.join(','));
  } finally {
    lines.close();
  }
}
