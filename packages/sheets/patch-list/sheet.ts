/** The patch list as a sheet: a line for each port, on one page where that can be; leads have a sheet of their own, and numbers here. */
import { type Checked, type Finding, NOT_STATED } from '#engine';
import type { HouseRow, InputRow, Note, OutputRow, PatchList, Row } from '../shared/model';
import { bySeverity } from '../shared/notes';
import { houseName, inputName, outputName } from '../shared/rowNames';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, type Cell, type Column, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';
import { patchList } from './patchList';

/** `findings` are those to show: the engine's, unless there are more, such as those about the text. Never throws. */
export function patchSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  return patchSheetOf(patchList(checked, findings));
}

export function patchSheetOf(all: PatchList): Sheet {
  const list = withLeadNotes(all);
  const { inputs, outputs, house, elsewhere } = list;
  const something = inputs.length + outputs.length + house.length + list.leads.length > 0;
  const cautions = list.cautions.map(({ subject, text }) => ({ subject, text: BRIEFLY[subject] ?? text }));
  const blocks: Block[] = something ? [inputTable(list), outputTable(list), ...(list.houseless ? [] : [houseTable(list)])] : [];
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if (cautions.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions });
  return {
    id: 'patch-list',
    name: SHEET_NAMES['patch-list'],
    title: list.title,
    facts: list.facts,
    counts: list.counts,
    dense: true,
    blocks,
  };
}

/** In few words, for the page one plugs by; the sheets of what is done say more. */
const BRIEFLY: Readonly<Record<string, string>> = {
  Ears: 'Nobody’s in and every level down while anything is plugged or switched. Play no louder than the music needs: what harms hearing gives no warning.',
  'Phantom power': 'Plug first, then switch it on. Off, and a few seconds’ wait, before anything is unplugged.',
  Radio:
    'A frequency here is no permission: that is for the local radio regulator. Agree all of them with everybody there before you switch on.',
  Mains: 'Where the venue’s electrician says. Never lift a mains earth. Something tingles: stop, and call a qualified electrician.',
  Leads: 'Along edges, taped flat where people walk, ways out clear. The rules of the venue come first.',
};

function toldOfPlugs({ house, elsewhere }: PatchList): boolean {
  return [...house.flatMap(({ findings }) => findings), ...elsewhere].some(({ code }) => code === 'house/replugged');
}

/** In a column that is headed 48 V, and has a line for each port. */
function briefPhantom(words: string): string {
  return words.replace('from the house', 'the house').replace('from us', 'ours').replace('on (shared switch)', 'on, shared');
}

/** What is wrong with a lead stands at the port or the line that it leads to. */
function withLeadNotes(list: PatchList): PatchList {
  const found = list.leads.filter(({ findings }) => findings.length > 0);
  if (found.length === 0) return list;
  const rows: readonly Row[] = [...list.inputs, ...list.house, ...list.outputs];
  const notes = new Map<Row, Note[]>();
  const elsewhere = [...list.elsewhere];
  for (const lead of found) {
    const row = [lead.place, ...lead.about].flatMap((place) => rows.find((each) => each.place === place) ?? [])[0];
    if (row) notes.set(row, [...(notes.get(row) ?? []), ...lead.findings]);
    else elsewhere.push(...lead.findings);
  }
  const noted = <R extends Row>(all: readonly R[]): R[] =>
    all.map((row) => {
      const ofLeads = notes.get(row) ?? [];
      // What pointed to the lead stands here now.
      const own = row.findings.filter(
        ({ see, code, place }) => !see || !ofLeads.some((note) => note.code === code && note.place === place),
      );
      return { ...row, findings: bySeverity([...own, ...ofLeads]) };
    });
  return { ...list, inputs: noted(list.inputs), outputs: noted(list.outputs), house: noted(list.house), elsewhere };
}

/** A column that knows where its value is in the model. */
interface Known<R> extends Column {
  readonly of: (row: R) => Cell;
  /** Left out where no row has anything in it. */
  readonly spare?: true;
}

interface Described<R> extends Omit<TableBlock, 'kind' | 'columns' | 'rows'> {
  readonly rows: readonly R[];
  readonly columns: readonly Known<R>[];
}

function table<R>({ rows, columns, ...rest }: Described<R>, rowOf: (row: R) => Omit<TableRow, 'cells'>): TableBlock {
  const shown = columns.filter(({ spare, of }) => !spare || rows.some((row) => (of(row) ?? '') !== ''));
  return {
    kind: 'table',
    ...rest,
    columns: shown.map(({ of: _of, spare: _spare, ...column }) => column),
    rows: rows.map((row) => ({ ...rowOf(row), cells: shown.map(({ of }) => of(row)) })),
  };
}

/** What a row has besides its cells. */
function base(row: Row, name: string): Omit<TableRow, 'cells'> {
  const { key, place, about, unfinished, findings } = row;
  return { key, name, place, about, unfinished, findings };
}

function inputTable(list: PatchList): TableBlock {
  return table<InputRow>(
    {
      id: 'inputs',
      title: 'Inputs',
      rows: list.inputs,
      empty: 'Nothing is plugged into our gear yet.',
      remark: list.inputs.some((row) => row.gainDb !== undefined) ? list.gainRule : undefined,
      columns: [
        { title: 'Port', names: true, acted: true, of: (row) => row.port },
        { title: 'Source', of: (row) => row.source },
        { title: 'By', of: (row) => row.by },
        { title: 'Taken', of: (row) => row.taken },
        { title: 'Leads', spare: true, of: (row) => row.leads },
        { title: 'House', spare: true, of: (row) => row.house },
        { title: '48 V', acted: true, of: (row) => briefPhantom(row.phantom) },
        { title: 'Gain', unit: 'dB', number: true, acted: true, of: (row) => row.gainDb },
        { title: 'Headroom', unit: 'dB', number: true, of: (row) => row.headroomDb },
        { title: 'Level', unit: 'dBu', number: true, of: (row) => row.levelDbu ?? (row.unstated ? NOT_STATED : undefined) },
      ],
    },
    (row) => base(row, inputName(row)),
  );
}

function outputTable(list: PatchList): TableBlock {
  return table<OutputRow>(
    {
      id: 'outputs',
      title: 'Outputs',
      rows: list.outputs,
      empty: 'No mix leaves our gear yet.',
      columns: [
        { title: 'Port', names: true, acted: true, of: (row) => row.port },
        { title: 'Mix', of: (row) => row.mix },
        { title: 'Width', of: (row) => row.width },
        { title: 'For', of: (row) => row.listeners },
        { title: 'Way', of: (row) => row.way },
        { title: 'Leads', spare: true, of: (row) => row.leads },
      ],
    },
    (row) => base(row, outputName(row)),
  );
}

function houseTable(list: PatchList): TableBlock {
  return table<HouseRow>(
    {
      id: 'house',
      title: 'House lines',
      rows: list.house,
      empty: 'No line of the house is written here.',
      // Where a finding tells of it, once is enough.
      remark: toldOfPlugs(list) ? undefined : list.houseRule || undefined,
      columns: [
        { title: 'Line', names: true, acted: true, of: (row) => row.number },
        { title: 'Label', of: (row) => row.label },
        { title: 'The house gets', of: (row) => (row.gets === `ours: ${row.label}` ? 'ours' : row.gets) },
        { title: 'Taken from', spare: true, of: (row) => row.from },
        { title: 'Signal', spare: true, of: (row) => row.signal.replace(/ level$/, '') },
        { title: 'Leads', spare: true, of: (row) => row.leads },
        { title: '48 V', acted: true, of: (row) => briefPhantom(row.phantom.replace(/^48 V /, '')) },
        { title: 'Our rig on it', of: (row) => row.touch },
        { title: 'Loss', spare: true, unit: 'dB', number: true, of: (row) => row.lossDb },
      ],
    },
    (row) => base(row, houseName(row)),
  );
}
