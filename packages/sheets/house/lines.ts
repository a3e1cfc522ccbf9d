/** The house's lines as they are told to its engineer, and what they come to. */
import { type Checked, type HouseLine, houseLines, isTheirs, type Lengths, lengthText, receiverApart, type Touch } from '#engine';
import { CONNECTORS, type HouseRun } from '#rig';
import { type ListedLead, plugsOf } from '../leads/list';
import { positionWords } from '../set-up/areas';
import type { Context } from '../shared/context';
import { forbidden } from '../shared/grave';
import { houseRows, touchedOf } from '../shared/house';
import type { HouseRow } from '../shared/model';
import { isOnStand } from '../shared/stand';
import { bySwitch } from '../shared/switched';
import type { TableBlock, TableRow } from '../sheet';

export interface HandedLine {
  readonly run: HouseRun;
  readonly row: Omit<HouseRow, 'findings'>;
  /** Undefined where the line cannot be followed yet. */
  readonly touched?: Pick<HouseLine, 'how' | 'replugged'>;
}

export function handedLines(context: Context): HandedLine[] {
  const { rig } = context.checked;
  const runs = new Map(rig.house.map((run) => [run.place, run]));
  const switched = new Set<string>();
  return houseRows(context).flatMap((row) => {
    const run = runs.get(row.place);
    // What comes by a switch is one line, however many sources are behind it.
    const again = run !== undefined && bySwitch(context, run) !== undefined;
    if (again && switched.has(row.number)) return [];
    if (again) switched.add(row.number);
    return run ? [{ run, row, touched: touchedOf(context, run) }] : [];
  });
}

export function touchedAs(lines: readonly HandedLine[], how: Touch): HandedLine[] {
  return lines.filter(({ touched }) => touched?.how === how);
}

/** `2 of 10 lines re-plugged; 5 untouched, 4 tapped, 1 brought by us`: behind the semicolon each once. */
function countLine(handed: readonly HandedLine[], { rig, impact }: Checked): string {
  const { count: all, replugged } = impact;
  const first = new Set(houseLines(rig));
  const lines = handed.filter(({ run }) => first.has(run));
  const parts = [
    `${touchedAs(lines, 'untouched').length} untouched`,
    ...(['tapped', 'isolated'] as const).map((how) => some(touchedAs(lines, how).length, how)),
    some(touchedAs(lines, 'dependent').length, 'depending on us'),
    some(lines.filter(({ touched }) => !touched).length, 'not settled yet'),
    some(touchedAs(lines, 'brought').length, 'brought by us'),
  ];
  return `${replugged.length} of ${all} ${all === 1 ? 'line' : 'lines'} re-plugged; ${parts.filter(Boolean).join(', ')}`;
}

function some(count: number, words: string): string {
  return count === 0 ? '' : `${count} ${words}`;
}

/** More lines than this are told in one line of print each, so that they stay on one page: where each stands is on the stage sheet. */
const MOST_WITH_PLACES = 8;

/** One row a line, in the order in which a house engineer asks. What must not be plugged as the rig is says so instead. */
export function linesTable(context: Context, lines: readonly HandedLine[], leads: readonly ListedLead[]): TableBlock {
  const { checked } = context;
  const harmful = forbidden(checked);
  const places = lines.length <= MOST_WITH_PLACES;
  return {
    kind: 'table',
    id: 'lines',
    title: 'The house’s lines',
    remark: meaning(lines, places, checked),
    empty: 'No line of the house is written here yet.',
    columns: [
      { title: 'Line', names: true },
      { title: 'Label' },
      { title: 'What it is' },
      { title: places ? 'Who, and where' : 'Who' },
      { title: '48 V' },
      { title: 'Stand' },
      { title: 'Lead' },
      { title: 'Our rig on it' },
      { title: 'Loss', unit: 'dB', number: true },
    ],
    rows: lines.map((line): TableRow => {
      const { key, place, about, unfinished, number, label, lossDb } = line.row;
      const held = harmful.has(place);
      const cells = [
        number,
        label,
        whatWords(context, line),
        whoWords(context, line, places),
        held ? '' : powerBox(line),
        mayNeedStand(context, line) ? BOX : '',
        held ? '' : leadCell(line, leads, checked.rig.settings),
        held ? 'not to be plugged yet: the band has it to put right first' : doneTo(line),
        lossDb,
      ];
      return { key, name: `house ${number}`, place, about, tells: [place], unfinished, findings: [], cells };
    }),
  };
}

/** To be ticked with a pen. */
const BOX = '☐';

/** The kind of microphone or pickup; of what is not ours or not a source, whose. */
function whatWords(context: Context, { run, row: { gets, label } }: HandedLine): string {
  const { rig } = context.checked;
  const source = run.takes?.kind === 'source' ? rig.pieces.get(run.takes.id) : undefined;
  if (!source || isTheirs(source)) return withoutLabel(gets, label);
  // Where the line is called otherwise than what is on it, both are told.
  const [, one = ''] = gets.split(': ');
  const named = bySwitch(context, run) ?? one;
  const kind = source.model.label.replace(/ microphone$/, ' mic');
  return named === '' || named === label || label === '' ? kind : `${kind}: ${named}`;
}

function whoWords({ checked: { rig } }: Context, { run }: HandedLine, places: boolean): string {
  const source = rig.sources.get(run.takes?.id ?? '');
  const who = rig.performers.get(source?.by ?? '');
  const piece = rig.pieces.get(source?.id ?? '');
  const at = places ? (piece?.at ?? who?.at) : undefined;
  const where = at ? positionWords(at, rig.settings) : '';
  // What is said is where its receiver stands: who sings into it walks.
  if (where && piece?.at && receiverApart(piece)) return [who?.label ?? '', `receiver ${where}`].filter(Boolean).join('; ');
  return [who?.label ?? '', where].filter(Boolean).join(', ');
}

/** A box where the house is asked for it; a word where it has to stay off, or is ours. */
function powerBox({ row: { phantom } }: HandedLine): string {
  return phantom === '48 V from the house' ? `${BOX} on` : phantom;
}

/** Whether a stand may be wanted, to be ticked by who knows: of a microphone of the house's nobody here says how it is fixed. */
function mayNeedStand({ checked: { rig } }: Context, { run }: HandedLine): boolean {
  if (run.ownMic) return true;
  const piece = run.takes?.kind === 'source' ? rig.pieces.get(run.takes.id) : undefined;
  return piece !== undefined && isOnStand(piece);
}

/** The lead that ends in the house's socket, whoever brings it. */
export function intoTheirSocket(run: HouseRun, leads: readonly ListedLead[]): ListedLead | undefined {
  return leads.findLast(
    ({ joint, row, number }) => number !== undefined && joint.to.piece.id === run.piece && row.about.includes(run.place),
  );
}

/** Their lead from something of ours straight into their socket: nothing of ours is between. */
export function theirLeadOnOurs(run: HouseRun, leads: readonly ListedLead[]): ListedLead | undefined {
  const last = intoTheirSocket(run, leads);
  return last?.theirs && !isTheirs(last.joint.from.piece) ? last : undefined;
}

/** The lead into the house's socket: `yours, 10 m`; what it brings besides is told below. */
function leadCell({ run, row: { signal } }: HandedLine, leads: readonly ListedLead[], lengths: Lengths): string {
  if (run.ownMic) return 'yours';
  const last = intoTheirSocket(run, leads);
  const level = signal === '' || signal === 'mic level' ? '' : signal;
  return [last ? shortLead(last, lengths) : '', level].filter(Boolean).join(', ');
}

/** `yours, 10 m`; `ours, 6.35 mm TRS jack to XLR male, 10 m`: from XLR to XLR where nothing else is said. A tail and what makes it longer: `ours, 10 m + 15 m`. */
function shortLead(lead: ListedLead, lengths: Lengths): string {
  const plugs = plugsOf(lead);
  const { ownM, lengthM } = lead.reckoned;
  const length = lead.row.unfinished ? '' : lead.row.length;
  const own =
    ownM === undefined ? length : [ownM, ...(lengthM === undefined ? [] : [lengthM])].map((each) => lengthText(each, lengths)).join(' + ');
  return [lead.theirs ? 'yours' : 'ours', plugs === CONNECTORS.xlr.label ? '' : plugs, own].filter(Boolean).join(', ');
}

/** `on Split 1, isolated`; `untouched`; `depends on 48 V from Interface 2`. */
function doneTo({ row: { from, touch, unfinished }, touched }: HandedLine): string {
  // Which part isolates it, for it may not be the one that their plug is on.
  const how = touched?.how === 'tapped' ? touched.how : touch || (unfinished ? 'not settled yet' : '');
  if (!from || from === 'direct') return how;
  const on = yours(from);
  // What isolates it is not named twice.
  const [, by] = /^isolated by (.+)$/.exec(how) ?? [];
  return [`on ${on}`, by !== undefined && on.startsWith(`${by} `) ? 'isolated there' : how].filter(Boolean).join(', ');
}

/** `Bass DI thru → your DI`: the page speaks to the house. */
function yours(from: string): string {
  return from.replace(/\bHouse DI(?: out)?$/, 'your DI');
}

/** `ours`, where it is called as the line is. */
function withoutLabel(gets: string, label: string): string {
  return label !== '' && gets.endsWith(`: ${label}`) ? gets.slice(0, -label.length - 2) : gets;
}

/** What the words of the table mean, as far as they stand in it. */
function meaning(lines: readonly HandedLine[], places: boolean, checked: Checked): string | undefined {
  const said = [
    `${countLine(lines, checked)}.`,
    `${BOX}: to tick. Leads: XLR to XLR unless said.`,
    touchedAs(lines, 'tapped').length > 0 && 'Tapped: our rig hangs on it by copper.',
    touchedAs(lines, 'isolated').length > 0 &&
      'Isolated: no metal between us at the part named; where there is metal round it, Ground says.',
    lines.some(({ row }) => row.lossDb !== undefined) && 'Loss: with our rig plugged in.',
    !places && 'Places: see the stage sheet.',
  ].filter(Boolean);
  return lines.length > 0 ? said.join(' ') : undefined;
}
