/** What has to be put right before the rig is set up: how much there is, where it bites, and what must not be done until then. */
import { type Checked, type Finding, statementOf } from '#engine';
import type { Rig } from '#rig';
import type { Block, Sheet, TableBlock } from '../sheet';
import { type Context, contextOf } from './context';
import { unique } from './draft';

type Grave = Finding & { readonly severity: 'danger' | 'error' };

function isGrave(finding: Finding): finding is Grave {
  return finding.allowed === undefined && (finding.severity === 'danger' || finding.severity === 'error');
}

/** Says on a sheet that it is a draft while there are grave findings, and, where it does not show them, at which rows they bite. */
export function drafted(sheet: Sheet, findings: readonly Finding[]): Sheet {
  const grave = findings.filter(isGrave);
  if (grave.length === 0) return sheet;
  const dangers = grave.filter(({ severity }) => severity === 'danger').length;
  const draft = { danger: dangers, error: grave.length - dangers };
  return sheet.counts ? { ...sheet, draft } : { ...sheet, draft, blocks: sheet.blocks.map((block) => marked(block, grave)) };
}

/** The rows made of a statement that a finding is at, or else the first that it has a part in. The gravest is named. */
function marked(block: Block, grave: readonly Grave[]): Block {
  if (block.kind !== 'table') return block;
  const marks = new Map<string, 'danger' | 'error'>();
  for (const { place, severity } of grave) {
    const statement = statementOf(place);
    const own = block.rows.filter((row) => row.place === statement);
    const rows = own.length > 0 ? own : block.rows.filter(({ about }) => about.includes(statement)).slice(0, 1);
    for (const { key } of rows) if (marks.get(key) !== 'danger') marks.set(key, severity);
  }
  return marks.size === 0 ? block : withMarks(block, marks);
}

function withMarks(block: TableBlock, marks: ReadonlyMap<string, 'danger' | 'error'>): TableBlock {
  return {
    ...block,
    columns: [...block.columns, { title: 'To mend' }],
    rows: block.rows.map((row) => ({ ...row, cells: [...row.cells, marks.get(row.key)?.toUpperCase() ?? ''] })),
  };
}

/** Not called a danger, and yet not to be done: it cannot be called back once the hall has heard it. */
const HARMS = new Set<string>(['mixes/private-to-house']);

/**
 * Statements that must not be carried out as the rig is, with the finding that forbids each: all that stands behind a plug that
 * must not be plugged in among them.
 */
export function forbidden(checked: Checked): ReadonlyMap<string, Finding> {
  return contextOf(checked).once('forbidden', allForbidden);
}

function allForbidden({ checked: { rig, findings } }: Context): ReadonlyMap<string, Finding> {
  const found = new Map<string, Finding>();
  const add = (statement: string, finding: Finding) => {
    if (!found.has(statement)) found.set(statement, finding);
  };
  for (const finding of findings.filter(isGrave)) {
    if (finding.severity !== 'danger' && !HARMS.has(finding.code)) continue;
    const statement = statementOf(finding.place);
    for (const each of unique([statement, ...carriers(rig, statement), ...fedBehind(finding)])) add(each, finding);
  }
  return found;
}

/** Every other line that the same plug feeds: it is told once, at the first. */
function fedBehind({ code, about }: Finding): readonly string[] {
  return code === 'levels/speaker-output' ? about.filter((id) => RUN.test(id)) : [];
}

const RUN = /^(input|house|output):/;

/** Of a lead, by the lines that need it: a lead that a line needs which may be plugged is plugged. */
export function forbids(harmful: ReadonlyMap<string, Finding>, lines: readonly string[]): Finding | undefined {
  return lines.every((each) => harmful.has(each)) ? harmful.get(lines[0] ?? '') : undefined;
}

/** Of a mix: the outputs that it leaves by, and the house's lines that take it. */
function carriers({ mixes, outputs, house }: Rig, statement: string): string[] {
  const mix = [...mixes.values()].find(({ place }) => place === statement);
  if (!mix) return [];
  return [
    ...outputs.filter(({ carries }) => carries === mix.id).map(({ place }) => place),
    ...house.filter(({ takes }) => takes?.kind === 'mix' && takes.id === mix.id).map(({ place }) => place),
  ];
}
