/** The patch list as a sheet: which tables, with which columns, in which order, under which words. */
import { type Checked, type Finding, NOT_STATED } from '#engine';
import type { HouseRow, InputRow, LeadRow, LeadTotal, OutputRow, PatchList, Row } from '../shared/model';
import { houseName, inputName, leadName, outputName } from '../shared/rowNames';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, type Cell, type Column, type Field, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';
import { patchList } from './patchList';

/** `findings` are those to show: the engine's, unless there are more, such as those about the text. Never throws. */
export function patchSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  return patchSheetOf(patchList(checked, findings));
}

export function patchSheetOf(list: PatchList): Sheet {
  const { inputs, outputs, house, leads, elsewhere, cautions } = list;
  const something = inputs.length + outputs.length + house.length + leads.length > 0;
  const blocks: Block[] = something
    ? [inputTable(list), outputTable(list), ...(list.houseless ? [] : [houseTable(list)]), leadTable(list), packingTable(list)]
    : [];
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if (cautions.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions });
  return { id: 'patch-list', name: SHEET_NAMES['patch-list'], title: list.title, facts: list.facts, counts: list.counts, blocks };
}

/** A field that knows where its value is in the model. */
interface Known<R> extends Field {
  readonly of: (row: R) => Cell;
}

interface KnownColumn<R> extends Omit<Column, 'under'>, Known<R> {
  readonly under?: Known<R>;
}

interface Described<R> extends Omit<TableBlock, 'kind' | 'columns' | 'rows'> {
  readonly rows: readonly R[];
  readonly columns: readonly KnownColumn<R>[];
}

function table<R>({ rows, columns, ...rest }: Described<R>, rowOf: (row: R) => Omit<TableRow, 'cells'>): TableBlock {
  const known = columns.flatMap((column): Known<R>[] => (column.under ? [column, column.under] : [column]));
  return {
    kind: 'table',
    ...rest,
    columns: columns.map(({ of: _of, under, ...column }) => ({
      ...column,
      ...(under && { under: { title: under.title, ...(under.unit && { unit: under.unit }) } }),
    })),
    rows: rows.map((row) => ({ ...rowOf(row), cells: known.map((field) => field.of(row)) })),
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
        { title: 'Port', names: true, of: (row) => row.port },
        { title: 'Source', of: (row) => row.source, under: { title: 'By', of: (row) => row.by } },
        { title: 'Taken', of: (row) => row.taken },
        { title: 'Lead into the port', of: (row) => row.lead, under: { title: 'Length', of: (row) => row.length } },
        {
          title: 'Gain',
          unit: 'dB',
          number: true,
          of: (row) => row.gainDb,
          under: { title: 'Headroom', unit: 'dB', of: (row) => row.headroomDb },
        },
        { title: 'Phantom', of: (row) => row.phantom },
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
        { title: 'Port', names: true, of: (row) => row.port },
        { title: 'Mix', of: (row) => row.mix, under: { title: 'Width', of: (row) => row.width } },
        { title: 'For', of: (row) => row.listeners },
        { title: 'Way', of: (row) => row.way },
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
      remark: list.houseRule || undefined,
      columns: [
        { title: 'Line', names: true, of: (row) => row.number },
        { title: 'Label', of: (row) => row.label },
        { title: 'The house gets', of: (row) => row.gets, under: { title: 'Taken from', of: (row) => row.from } },
        { title: 'Signal', of: (row) => row.signal, under: { title: 'Phantom', of: (row) => row.phantom } },
        { title: 'Our rig on it', of: (row) => row.touch, under: { title: 'Re-plugged', of: (row) => row.replugged } },
        { title: 'Loss', unit: 'dB', number: true, of: (row) => row.lossDb },
        { title: 'The band brings', of: (row) => row.weBring, under: { title: 'The house brings', of: (row) => row.theyBring } },
      ],
    },
    (row) => base(row, houseName(row)),
  );
}

function leadTable(list: PatchList): TableBlock {
  return table<LeadRow>(
    {
      id: 'leads',
      title: 'Leads',
      rows: list.leads,
      empty: 'No lead is needed yet.',
      remark: list.leads.some((row) => row.unfinished)
        ? `A length is known where both ends have a place: write "at …" for performers and gear${list.houseless ? '' : ', and for the house'}.`
        : undefined,
      columns: [
        { title: 'Carries', names: true, of: (row) => row.carries },
        { title: 'From', of: (row) => row.from, under: { title: 'From plug', of: (row) => row.fromEnd } },
        { title: 'To', of: (row) => row.to, under: { title: 'To plug', of: (row) => row.toEnd } },
        { title: 'Kind', of: (row) => row.kind },
        { title: 'Length', of: (row) => row.length },
      ],
    },
    (row) => base(row, leadName(row)),
  );
}

function packingTable(list: PatchList): TableBlock {
  return table<LeadTotal>(
    {
      id: 'packing',
      title: 'Leads to pack',
      rows: list.packing,
      empty: 'No lead of ours is needed yet.',
      columns: [
        { title: 'Number', number: true, of: (row) => row.count },
        { title: 'Lead', names: true, of: (row) => row.kind },
        { title: 'Length', of: (row) => row.length },
      ],
    },
    ({ key }) => ({ key, about: [], findings: [] }),
  );
}
