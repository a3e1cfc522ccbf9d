/** The tables of the sheet: which columns, in which order, under which words. Every rendering follows these. */
import type { HouseRow, InputRow, LeadRow, LeadTotal, OutputRow, PatchList } from '../model';

export interface Field<R> {
  readonly title: string;
  /** Of a number: stands in the heading, not in every row. */
  readonly unit?: 'dB' | 'dBu';
  /** A number where the field has a unit or counts; nothing where there is nothing to say. */
  readonly of: (row: R) => string | number | undefined;
}

/** A column; where there is room for few, `under` goes below the first in the same cell. */
export interface Column<R> extends Field<R> {
  readonly number?: boolean;
  /** Names the row: its heading, to a screen reader. */
  readonly names?: boolean;
  readonly under?: Field<R>;
}

export interface Section<R> {
  readonly id: string;
  readonly title: string;
  readonly rows: readonly R[];
  readonly columns: readonly Column<R>[];
  /** What to say where it has no rows. */
  readonly empty: string;
  /** What to know before reading it. */
  readonly remark?: string;
}

export function inputSection(list: PatchList): Section<InputRow> {
  return {
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
      { title: 'Level', unit: 'dBu', number: true, of: (row) => row.levelDbu },
    ],
  };
}

export function outputSection(list: PatchList): Section<OutputRow> {
  return {
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
  };
}

export function houseSection(list: PatchList): Section<HouseRow> {
  return {
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
  };
}

export function leadSection(list: PatchList): Section<LeadRow> {
  return {
    id: 'leads',
    title: 'Leads',
    rows: list.leads,
    empty: 'No lead is needed yet.',
    remark: list.leads.some((row) => row.unfinished)
      ? 'A length is known where both ends have a place: write "at …" for performers and gear, and for the house.'
      : undefined,
    columns: [
      { title: 'Carries', names: true, of: (row) => row.carries },
      { title: 'From', of: (row) => row.from, under: { title: 'From plug', of: (row) => row.fromEnd } },
      { title: 'To', of: (row) => row.to, under: { title: 'To plug', of: (row) => row.toEnd } },
      { title: 'Kind', of: (row) => row.kind },
      { title: 'Length', of: (row) => row.length },
    ],
  };
}

export function packingSection(list: PatchList): Section<LeadTotal> {
  return {
    id: 'packing',
    title: 'Leads to pack',
    rows: list.packing,
    empty: 'No lead of ours is needed yet.',
    columns: [
      { title: 'Number', number: true, of: (row) => row.count },
      { title: 'Lead', names: true, of: (row) => row.kind },
      { title: 'Length', of: (row) => row.length },
    ],
  };
}

/** The fields one by one, for renderings that have a column for each. */
export function fields<R>(section: Section<R>): Field<R>[] {
  return section.columns.flatMap((column) => (column.under ? [column, column.under] : [column]));
}

/** `Gain (dB)`. */
export function heading(field: { readonly title: string; readonly unit?: string }): string {
  return field.unit ? `${field.title} (${field.unit})` : field.title;
}

/** Whether there is anything of a rig at all. */
export function isEmpty(list: PatchList): boolean {
  return list.inputs.length + list.outputs.length + list.house.length + list.leads.length === 0;
}
