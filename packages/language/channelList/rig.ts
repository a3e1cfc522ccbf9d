/** A channel list as a rig: a source and a line of the house's for each row, and word of every row that is none. */
import type { LangiumCoreServices } from 'langium';
import { capital } from '#engine';
import { MOST_COUNTED } from '#rig';
import { format } from '../format';
import { isClick } from '../lowering/privacy';
import { isVoice } from '../newRig/people';
import { idOf, names, quoted } from '../newRig/written';
import { UnusableList } from './decode';
import type { ListTable, Role, Roles, Row } from './table';

export interface Imported {
  readonly text: string;
  /** Rows that have become lines of the house's. */
  readonly lines: number;
  /** Rows that have not. */
  readonly left: number;
  /** What became of the others, and what was guessed, row by row. */
  readonly remarks: readonly { readonly row: number; readonly says: string }[];
}

interface Line {
  readonly number: number;
  readonly label: string;
  readonly source: string;
  readonly model: string;
  readonly di: boolean;
  readonly player?: string;
  /** What stands in the list and has no word in a rig. */
  readonly also: readonly string[];
}

/** Set in columns. Its title stands above the headings, or is `orElse`. Throws `UnusableList` where no column has names. */
export function rigOfList(services: LangiumCoreServices, table: ListTable, roles: Roles, orElse: string): Imported {
  const [first, ...above] = table.above.map(({ cells }) => cells.filter((cell) => cell !== '').join(', '));
  const title = first ?? orElse;
  if (!roles.includes('name')) throw new UnusableList('No column has the names of what sounds.', 'Say which it is.');
  const remarks: { row: number; says: string }[] = [];
  const lines: Line[] = [];
  const left: string[] = [];
  const name = names();
  const players = new Map<string, string>();
  const taken = new Map<number, number>();
  const hasNumbers = roles.includes('number');
  const { headings, numbersIn } = table;
  const at = headings?.line ?? table.rows[0]?.line ?? 1;
  if (!hasNumbers)
    remarks.push({ row: at, says: 'no column has the numbers of the house’s lines: they are counted from 1 as the rows stand' });
  else if (numbersIn !== undefined && roles[numbersIn] === 'number')
    remarks.push({ row: at, says: `"${headings?.cells[numbersIn] ?? ''}" is taken as the number of the line: its cells are numbers` });
  for (const row of table.rows) {
    const cell = (role: Role) => row.cells[roles.indexOf(role)] ?? '';
    const tell = (says: string) => remarks.push({ row: row.line, says });
    const leave = (why: string) => {
      tell(`${LEFT_OUT}: ${why}`);
      left.push(`row ${row.line}, ${why}: ${row.cells.filter((each) => each !== '').join(', ')}`);
    };
    const label = cell('name');
    const written = cell('number').replace(/^(ch|channel|line|in|input|no|#)[ .]*/i, '');
    const number = hasNumbers ? Number(/^0*(\d{1,9})$/.exec(written)?.[1] ?? Number.NaN) : lines.length + 1;
    if (label === '') leave(NO_NAME);
    else if (!Number.isInteger(number) || number < 1) leave(written === '' ? 'it has no number' : `"${written}" is no number of one line`);
    else if (number > MOST_COUNTED) leave(`a house has lines up to ${MOST_COUNTED}`);
    else if (taken.has(number)) leave(`line ${number} is row ${taken.get(number)} already`);
    else if (/^(spare|empty|unused|free|n\/?a|-+|x+)$/i.test(label)) leave('nothing is on it');
    else {
      taken.set(number, row.line);
      const who = cell('player');
      if (who !== '' && !players.has(who)) players.set(who, name(idOf(who), `player-${players.size + 1}`));
      lines.push(
        lineOf(
          row,
          { number, label, who: players.get(who), mic: cell('mic'), stand: cell('stand'), phantom: cell('phantom') },
          roles,
          name,
          tell,
        ),
      );
    }
  }
  const guessed = remarks.filter(({ says }) => !says.startsWith(LEFT_OUT)).map(({ row, says }) => `row ${row}: ${says}`);
  const notes = [
    { title: 'Above the headings of the list:', lines: above },
    { title: 'Guessed, so look at them:', lines: guessed },
    { title: 'Rows of the list that are no lines here:', lines: left },
  ];
  return { text: format(services, written(title, lines, notes, players)).text, lines: lines.length, left: left.length, remarks };
}

const NO_NAME = 'it has no name';
const LEFT_OUT = 'left out';

interface Cells {
  readonly number: number;
  readonly label: string;
  readonly who?: string;
  readonly mic: string;
  readonly stand: string;
  readonly phantom: string;
}

function lineOf(
  row: Row,
  { number, label, who, mic, stand, phantom }: Cells,
  roles: Roles,
  name: ReturnType<typeof names>,
  tell: (says: string) => void,
): Line {
  const wanted = wants(phantom);
  if (wanted === undefined && phantom !== '') tell(`"${phantom}" is neither yes nor no for 48 V: look at ${label}`);
  const { model, di, sure } = kindOf(label, mic, wanted);
  if (!sure)
    tell(
      mic === ''
        ? `no microphone is named: ${label} is taken as ${TOLD[model] ?? model}`
        : `"${mic}" is not known here: ${label} is taken as ${TOLD[model] ?? model}`,
    );
  if (wanted && (model === 'dynamic-mic' || model === 'kick-mic'))
    tell(`48 V is asked for, and a dynamic microphone needs none: look at ${label}`);
  if (wanted === false && model === 'condenser-mic') tell(`no 48 V is asked for, and a condenser microphone needs it: look at ${label}`);
  // What no column is for is kept, in words.
  const more = row.cells.filter((cell, index) => cell !== '' && roles[index] === undefined);
  return {
    number,
    label,
    source: name(idOf(label), `line-${number}`),
    model,
    di,
    ...(who === undefined ? {} : { player: who }),
    also: [...(mic === '' ? [] : [mic]), ...(stand === '' || wants(stand) === false ? [] : [`stand: ${stand}`]), ...more],
  };
}

/** Whether 48 V is wanted; nothing where that cannot be told. */
function wants(cell: string): boolean | undefined {
  if (/^(y|yes|x|true|1|on|\+?48 ?v?|phantom|✓|✔|•|needed|req|required)$/i.test(cell)) return true;
  if (/^(n|no|false|0|off|none|-+|–|—|n\/?a)$/i.test(cell)) return false;
  return undefined;
}

const TOLD: Readonly<Record<string, string>> = {
  'dynamic-mic': 'a dynamic microphone',
  'condenser-mic': 'a condenser microphone',
};

/** Which model of the library a row means. Common practice, no source. */
function kindOf(
  label: string,
  mic: string,
  phantom: boolean | undefined,
): { readonly model: string; readonly di: boolean; readonly sure: boolean } {
  const has = (words: RegExp) => words.test(mic);
  if (has(/\b(di|d\.i\.|di box|direct|line|jack)\b/i)) return { model: instrumentOf(label), di: !has(/\bline\b/i), sure: true };
  const model = has(/\b(radio|wireless|rf|uhf)\b/i)
    ? 'wireless-mic'
    : has(/\bribbon\b/i)
      ? 'ribbon-mic'
      : has(/\b(clip|clip-on|clamp)\b/i) && !has(/\bdynamic\b/i)
        ? 'clip-on-mic'
        : has(/\b(condenser|cond|overhead|large diaphragm|small diaphragm|ldc|sdc)\b/i)
          ? 'condenser-mic'
          : has(/\b(kick|bass drum)\b/i)
            ? 'kick-mic'
            : has(/\b(dynamic|dyn|vocal mic)\b/i)
              ? 'dynamic-mic'
              : undefined;
  if (model !== undefined) return { model, di: false, sure: true };
  return { model: phantom ? 'condenser-mic' : 'dynamic-mic', di: false, sure: mic === '' && (phantom !== undefined || isVoice(label)) };
}

function instrumentOf(label: string): string {
  if (isClick(label)) return 'click-channel';
  if (/\b(track|tracks|playback|computer|laptop|sampler?)\b/i.test(label)) return 'computer-channel';
  if (/\b(keys|keyboards?|synths?|piano|organ|modeller|drum (module|machine)|pads?|left|right|l|r)\b/i.test(label)) return 'modeller';
  if (/\b(double|upright|acoustic|fiddle|violin|viola|cello|banjo|mandolin|bouzouki)\b/i.test(label)) return 'piezo-pickup';
  return 'magnetic-pickup';
}

/** In one line, without what would steer a terminal, or allow a finding: that is for whoever writes the rig to say. */
function comment(words: string): string {
  const plain = words.replace(/[\p{Cc}\p{Cs}\u2028\u2029\uFFFD]/gu, ' ').trim();
  return /^allow\s/.test(plain) ? `# (${plain})` : `# ${plain}`;
}

function written(
  title: string,
  lines: readonly Line[],
  notes: readonly { readonly title: string; readonly lines: readonly string[] }[],
  players: ReadonlyMap<string, string>,
): string {
  const out = [
    comment(title),
    '# Made from a channel list. Microphones are generic: what the list calls them stands behind each. Say next what you plug in, and who hears what.',
    `rig ${quoted(title)}`,
    '',
    ...[...players].map(([label, id]) => `performer ${id} ${quoted(label)}`),
    '',
  ];
  for (const { source, label, model, player, also } of lines) {
    const by = player === undefined ? '' : ` by ${player}`;
    const told = also.length > 0 ? ` ${comment(also.join(', '))}` : '';
    out.push(`source ${source} ${quoted(capital(label))} is ${model}${by}${told}`);
  }
  out.push('');
  for (const { number, label, source, di } of lines)
    out.push(`house ${number} ${quoted(label)} takes ${source}${di ? ' via their-di' : ''}`);
  for (const { title: head, lines: told } of notes) if (told.length > 0) out.push('', `# ${head}`, ...told.map(comment));
  return `${out.join('\n')}\n`;
}
