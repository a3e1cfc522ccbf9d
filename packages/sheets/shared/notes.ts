/** Puts every finding to the row where it bites; other lines that it is about point there. What no row stands for is kept apart. */
import { type Finding, leadId, type Severity, say, statementOf } from '#engine';
import type { Place } from '#rig';
import type { Draft } from './draft';
import type { LeadDraft } from './leads';
import type { HouseRow, InputRow, LeadRow, Note, OutputRow, Row } from './model';
import { houseName, inputName, leadName, outputName } from './rowNames';

export interface Drafts {
  readonly inputs: readonly Draft<InputRow>[];
  readonly outputs: readonly Draft<OutputRow>[];
  readonly house: readonly Draft<HouseRow>[];
  readonly leads: readonly LeadDraft[];
}

export interface Noted {
  readonly inputs: InputRow[];
  readonly outputs: OutputRow[];
  readonly house: HouseRow[];
  readonly leads: LeadRow[];
  readonly elsewhere: Note[];
}

const RANK: Readonly<Record<Severity, number>> = { danger: 0, error: 1, warning: 2, note: 3 };

export function withNotes(drafts: Drafts, findings: readonly Finding[]): Noted {
  const notes = new Map<Draft<Row>, Note[]>();
  const elsewhere: Note[] = [];
  const finder = new Finder(drafts);
  for (const finding of findings) {
    const row = finder.rowOf(finding);
    const list = row ? (notes.get(row) ?? []) : elsewhere;
    list.push(noteOf(finding));
    if (!row) continue;
    notes.set(row, list);
    for (const other of finder.alsoAt(finding, row)) notes.set(other, [...(notes.get(other) ?? []), pointer(finding, finder.nameOf(row))]);
  }
  const noted = <R extends Row>(rows: readonly Draft<R>[]) => rows.map((row) => ({ ...row, findings: bySeverity(notes.get(row) ?? []) }));
  return {
    inputs: noted<InputRow>(drafts.inputs),
    outputs: noted<OutputRow>(drafts.outputs),
    house: noted<HouseRow>(drafts.house),
    leads: noted<LeadRow>(drafts.leads.map((each) => each.row)),
    elsewhere: bySeverity(elsewhere),
  };
}

/** The gravest first; what may stand last. */
export function bySeverity(notes: readonly Note[]): Note[] {
  const rank = ({ severity, allowed }: Note) => (allowed === undefined ? RANK[severity] : RANK.note + 1);
  return notes.toSorted((a, b) => rank(a) - rank(b));
}

export function noteOf(finding: Finding): Note {
  const { code, severity, place, allowed } = finding;
  const words = say(finding);
  if (allowed === undefined) return { code, severity, place, ...words };
  // What would cure it is beside the point, and how bad it would be as well.
  return { code, severity: 'note', place, ...words, cure: `The reason: ${allowed}`, allowed };
}

/** At a row that a finding is about as well: where it is told. */
function pointer({ code, severity, place }: Finding, at: string): Note {
  return { code, severity, place, what: `See ${at}.`, why: '', cure: '', see: true };
}

class Finder {
  private readonly own = new Map<Place, Draft<Row>>();
  /** Rows in which a statement has a part, in the order in which they are asked. */
  private readonly about: Readonly<Record<string, ReadonlyMap<Place, Draft<Row>>>>;

  private readonly names: ReadonlyMap<Draft<Row>, string>;

  /** By the ids of their leads. */
  private readonly leads: ReadonlyMap<string, Draft<Row>>;

  constructor({ inputs, outputs, house, leads }: Drafts) {
    this.names = new Map<Draft<Row>, string>([
      ...inputs.map((row) => [row, inputName(row)] as const),
      ...outputs.map((row) => [row, outputName(row)] as const),
      ...house.map((row) => [row, houseName(row)] as const),
      ...leads.map(({ row }) => [row, leadName(row)] as const),
    ]);
    this.leads = new Map(leads.map(({ joint, row }) => [leadId(joint.from, joint.to), row]));
    for (const row of [...inputs, ...outputs, ...house]) if (!this.own.has(row.place)) this.own.set(row.place, row);
    const first = (...rows: readonly Draft<Row>[]) => {
      const found = new Map<Place, Draft<Row>>();
      for (const row of rows) for (const place of row.about) if (!found.has(place)) found.set(place, row);
      return found;
    };
    const bySignal = first(...inputs, ...house, ...outputs);
    const byMix = first(...outputs, ...house, ...inputs);
    this.about = { source: bySignal, gear: byMix, mix: byMix, performer: byMix };
  }

  rowOf(finding: Finding): Draft<Row> | undefined {
    return this.leadOf(finding) ?? this.statementRow(statementOf(finding.place));
  }

  nameOf(row: Draft<Row>): string {
    return this.names.get(row) ?? '';
  }

  /** The other lines that an error is about: each of them looks wrong by itself. */
  alsoAt({ severity, allowed, about, related }: Finding, row: Draft<Row>): Draft<Row>[] {
    if (RANK[severity] > RANK.error || allowed !== undefined) return [];
    const statements = [...about, ...related.map(({ place }) => statementOf(place))];
    const rows = new Set(statements.flatMap((statement) => this.own.get(statement) ?? []));
    rows.delete(row);
    return [...rows];
  }

  private statementRow(statement: Place): Draft<Row> | undefined {
    return this.own.get(statement) ?? this.about[statement.split(':', 1)[0] ?? '']?.get(statement);
  }

  /** What is wrong with a lead belongs to the lead. */
  private leadOf({ about }: Finding): Draft<Row> | undefined {
    const id = about.find((each) => this.leads.has(each));
    return id === undefined ? undefined : this.leads.get(id);
  }
}
