/** The house's lines as they are told to its engineer, and what they come to. */
import type { HouseLine, Touch } from '#engine';
import { CONNECTORS, type HouseRun } from '#rig';
import type { Context } from '../shared/context';
import { houseRows, touchedOf } from '../shared/house';
import type { HouseRow } from '../shared/model';
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
  return houseRows(context).flatMap((row) => {
    const run = runs.get(row.place);
    return run ? [{ run, row, touched: touchedOf(context, run) }] : [];
  });
}

export function touchedAs(lines: readonly HandedLine[], how: Touch): HandedLine[] {
  return lines.filter(({ touched }) => touched?.how === how);
}

/** `2 of 9 lines re-plugged, 5 untouched, 1 tapped; 1 more brought by us`. */
export function countLine(lines: readonly HandedLine[]): string {
  const theirs = lines.filter(({ touched }) => touched?.how !== 'brought');
  const brought = lines.length - theirs.length;
  const replugged = theirs.filter(({ touched }) => touched?.replugged).length;
  const unknown = theirs.filter(({ touched }) => !touched).length;
  const parts = [
    `${replugged} of ${theirs.length} ${theirs.length === 1 ? 'line' : 'lines'} re-plugged`,
    `${touchedAs(theirs, 'untouched').length} untouched`,
    ...(['tapped', 'isolated'] as const).map((how) => some(touchedAs(theirs, how).length, how)),
    some(touchedAs(theirs, 'dependent').length, 'depending on us'),
    some(unknown, 'not settled yet'),
  ];
  const counted = theirs.length === 0 ? '' : parts.filter(Boolean).join(', ');
  const ours = brought === 0 ? '' : `${brought} ${counted === '' ? '' : 'more '}brought by us`;
  return [counted, ours].filter(Boolean).join('; ');
}

function some(count: number, words: string): string {
  return count === 0 ? '' : `${count} ${words}`;
}

export function linesTable(context: Context, lines: readonly HandedLine[]): TableBlock {
  return {
    kind: 'table',
    id: 'lines',
    title: 'The house’s lines',
    remark: meaning(lines),
    empty: 'No line of the house is written here yet.',
    columns: [
      { title: 'Line', names: true },
      { title: 'Label' },
      { title: 'The house gets', under: { title: 'Taken from' } },
      { title: 'Comes as', under: { title: '48 V' } },
      { title: 'Our rig on it', under: { title: 'Re-plugged' } },
      { title: 'Loss', unit: 'dB', number: true },
    ],
    rows: lines.map(({ run, row }): TableRow => {
      const { key, place, about, unfinished, number, label, gets, from, signal, phantom, touch, replugged: into, lossDb } = row;
      const box = context.checked.rig.pieces.get(run.piece)?.model.ports.find((port) => port.direction === 'input')?.connector;
      const socket = signal !== '' && box ? `${signal}, ${CONNECTORS[box].label}` : signal;
      const cells = [
        number,
        label,
        withoutLabel(gets, label),
        from,
        socket,
        phantom,
        touch || (unfinished ? 'not settled yet' : ''),
        into,
        lossDb,
      ];
      return { key, name: `house ${number}`, place, about, unfinished, findings: [], cells };
    }),
  };
}

/** `ours`, where it is called as the line is. */
function withoutLabel(gets: string, label: string): string {
  return label !== '' && gets.endsWith(`: ${label}`) ? gets.slice(0, -label.length - 2) : gets;
}

/** What the words of the table mean, as far as they stand in it. */
function meaning(lines: readonly HandedLine[]): string | undefined {
  const said = [
    touchedAs(lines, 'tapped').length > 0 && 'Tapped: our rig hangs on it by copper.',
    touchedAs(lines, 'isolated').length > 0 && 'Isolated: no metal in between.',
    lines.some(({ row }) => row.lossDb !== undefined) && 'Loss: while our rig is plugged in.',
  ].filter(Boolean);
  return said.length > 0 ? said.join(' ') : undefined;
}
