/** What changes on the floor between two rigs, in the order in which one walks the stage. */
import { type ChangeLine, type Compared, changeLines, type Group, isSame } from '#compare';
import { type Finding, list, say } from '#engine';
import type { Place } from '#rig';
import { contextOf } from '../shared/context';
import { titleOf } from '../shared/facts';
import { fingerprintOf } from '../shared/fingerprint';
import { finished } from '../shared/finish';
import { tableRow } from '../shared/tableRow';
import type { Column, Sheet, TableBlock, TableRow } from '../sheet';
import { leadTable, thingTable } from './leads';
import { oldPlace } from './places';
import { walkOf } from './walk';

export interface ChangesOptions {
  /** What the two are called: `club.rig at HEAD~3`. */
  readonly before: string;
  readonly after: string;
}

/** Pure, and never throws. */
export function changesSheet(compared: Compared, { before, after }: ChangesOptions): Sheet<'changes'> {
  const lines = changeLines(compared);
  const walk = walkOf(contextOf(compared.after.checked), contextOf(compared.before.checked));
  const table = (id: string, title: string, groups: readonly Group[], columns: readonly Column[], walked = true): TableBlock => {
    const all = lines.filter(({ group }) => groups.includes(group));
    const inOrder = walked ? walk.sorted(all, ({ at }) => at) : all.toSorted((a, b) => houseNumber(a) - houseNumber(b));
    return {
      kind: 'table',
      id,
      title,
      columns,
      rows: inOrder.map((line) => rowOf(line, walked ? walk.nameOf(line.at) : undefined)),
      empty: 'Nothing changes here.',
      ticks: 'boxes',
    };
  };
  const tables = [
    table('people-gear', 'People and gear', ['people', 'gear'], AT),
    table('plugs', 'Plugs', ['plugs'], AT),
    table('set', 'To set', ['set'], AT),
    table('mixes', 'Mixes', ['mixes'], PLAIN, false),
    table('house', 'For the house', ['house'], PLAIN, false),
    leadTable(compared),
    thingTable(compared),
    table('rig', 'The whole rig', ['rig'], PLAIN, false),
    findingTable(compared),
  ].filter(({ rows }) => rows.length > 0);
  const same: TableBlock = { kind: 'table', id: 'same', title: 'On the floor', columns: PLAIN, rows: [], empty: SAME };
  const { rig } = compared.after;
  const made: Sheet<'changes'> = {
    id: 'changes',
    name: 'What changes',
    title: titleOf(rig),
    facts: [`from ${before} (rig ${fingerprintOf(compared.before.rig)}) to ${after}`],
    blocks: isSame(compared) ? [same, ...tables] : tables,
  };
  return finished(made, rig);
}

const SAME = 'Nothing changes: the two differ in comments, order and spaces at most.';
const CHANGE: readonly Column[] = [{ title: 'Change' }, { title: 'Before' }, { title: 'Now' }];
const PLAIN: readonly Column[] = [{ title: 'What', names: true }, ...CHANGE];
const AT: readonly Column[] = [{ title: 'At' }, ...PLAIN];

function rowOf({ key, subject, what, before, after, places }: ChangeLine, at: string | undefined): TableRow {
  return tableRow(key, [...(at === undefined ? [] : [at]), subject, what, before, after], { place: placeOf(places) });
}

/** Lines of the house's go by their numbers; nothing else has one. */
function houseNumber({ at }: ChangeLine): number {
  return Number(/^box:(\d+)$/.exec(at[0] ?? '')?.[1] ?? 0);
}

function placeOf({ before, after }: { readonly before?: Place; readonly after?: Place }): Place | undefined {
  return after ?? (before === undefined ? undefined : oldPlace(before));
}

function findingTable({ findings }: Compared): TableBlock {
  const rows = (state: string, all: readonly Finding[], place: (at: Place) => Place) =>
    all.map((finding, index) => {
      const { what, cure } = say(finding);
      const key = `${state} ${finding.code} ${finding.place} ${index}`;
      return tableRow(key, [state, finding.severity, what, state === 'cured' ? '' : cure], { place: place(finding.place) });
    });
  return {
    kind: 'table',
    id: 'findings',
    title: 'Found wrong',
    columns: [{ title: 'State' }, { title: 'How bad' }, { title: 'What', names: true }, { title: 'Cure' }],
    rows: [
      ...rows('new', findings.come, (at) => at),
      ...rows('cured', findings.gone, oldPlace),
      ...rows('still there', findings.still, (at) => at),
    ],
    empty: 'Nothing is found wrong in either.',
    remark: remark(findings),
  };
}

function remark({ come, gone, still }: Compared['findings']): string {
  const parts = [`${come.length} new`, `${gone.length} cured`, `${still.length} still there`];
  return `${list(parts)}.`;
}
