/** What has to be put right before the rig is set up: how much there is, where it bites, and what must not be done until then. */
import { briefly, type Checked, type Finding, statementOf } from '#engine';
import type { Place, Rig } from '#rig';
import type { Block, Sheet, TableBlock, TableRow } from '../sheet';
import { type Context, contextOf } from './context';
import { unique } from './draft';

type Grave = Finding & { readonly severity: 'danger' | 'error' };

function isGrave(finding: Finding): finding is Grave {
  return finding.allowed === undefined && (finding.severity === 'danger' || finding.severity === 'error');
}

/** Says on a sheet that it is a draft while there are grave findings, and, where it does not show them, at which rows they bite. */
export function drafted(sheet: Sheet, findings: readonly Finding[], { rig }: Pick<Checked, 'rig'>): Sheet {
  const grave = findings.filter(isGrave);
  if (grave.length === 0) return sheet;
  const dangers = grave.filter(({ severity }) => severity === 'danger').length;
  const draft = { danger: dangers, error: grave.length - dangers };
  return sheet.counts ? { ...sheet, draft } : { ...sheet, draft, blocks: sheet.blocks.map((block) => marked(block, grave, rig)) };
}

/** Says on a sheet that shows no findings how many warnings there still are in the rig: what is found grave, a draft says. */
export function warned(sheet: Sheet, findings: readonly Finding[]): Sheet {
  const open = findings.filter(({ allowed, severity }) => allowed === undefined && severity === 'warning').length;
  return sheet.counts || open === 0
    ? sheet
    : { ...sheet, facts: [...sheet.facts, `${open} ${open === 1 ? 'warning' : 'warnings'} still open`] };
}

/** What of a statement is told in rows of its own: a frequency, what a pack hears, a gain, a pad. */
const APART = /\/(?:on|hears|gain|pad)$/;

/** The rows that tell what is wrong: those made of its statement, else the first that tells of it; of what is told apart, each. */
function marked(block: Block, grave: readonly Grave[], rig: Rig): Block {
  if (block.kind !== 'table') return block;
  const marks = new Map<string, Grave[]>();
  for (const finding of grave) {
    for (const { key } of unique(targetsOf(finding, rig).flatMap((target) => rowsTelling(block.rows, target))))
      marks.set(key, [...(marks.get(key) ?? []), finding]);
  }
  return marks.size === 0 ? block : withMarks(block, marks);
}

function targetsOf(finding: Grave, rig: Rig): readonly Place[] {
  const { place, about } = finding;
  const [part] = APART.exec(place) ?? [];
  return part === undefined ? harmedBy(finding, rig) : [place, ...about.map((id) => `${id}${part}`)];
}

function rowsTelling(rows: readonly TableRow[], target: Place): readonly TableRow[] {
  const telling = rows.filter(({ tells }) => tells?.includes(target));
  if (APART.test(target)) return telling;
  const own = telling.filter(({ place }) => place === target);
  return own.length > 0 ? own : telling.slice(0, 1);
}

function withMarks(block: TableBlock, marks: ReadonlyMap<string, readonly Grave[]>): TableBlock {
  return {
    ...block,
    columns: [...block.columns, { title: 'To mend' }],
    rows: block.rows.map((row) => ({ ...row, cells: [...row.cells, markOf(marks.get(row.key) ?? [])] })),
  };
}

/** `ERROR: same frequency`: the gravest first. */
function markOf(findings: readonly Grave[]): string {
  return (['danger', 'error'] as const)
    .flatMap((severity) => {
      const these = findings.filter((each) => each.severity === severity);
      const why = unique(these.map(briefly).filter(Boolean)).join('; ');
      return these.length > 0 ? [[severity.toUpperCase(), why].filter(Boolean).join(': ')] : [];
    })
    .join('. ');
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
    if (!doesHarm(finding)) continue;
    for (const each of harmedBy(finding, rig)) add(each, finding);
  }
  return found;
}

function doesHarm({ severity, code }: Grave): boolean {
  return severity === 'danger' || HARMS.has(code);
}

/** The statement at which it is found; of what does harm, all by which it would come about. */
function harmedBy(finding: Grave, rig: Rig): readonly Place[] {
  const statement = statementOf(finding.place);
  return doesHarm(finding) ? unique([statement, ...carriers(rig, statement), ...fedBehind(finding)]) : [statement];
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
