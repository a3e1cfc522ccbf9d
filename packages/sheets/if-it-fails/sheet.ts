/** If it fails: for each thing and each lead what is gone without it, and the quickest way round. For the pocket of whoever runs on stage. */
import { type Checked, type Failure, type Finding, failuresOf, list, plugName, type Round, socketName } from '#engine';
import { leadListOf } from '../leads/list';
import { contextOf } from '../shared/context';
import { about } from '../shared/draft';
import { facts, titleOf } from '../shared/facts';
import type { Caution } from '../shared/model';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS } from '../shared/titles';
import { type Block, type Column, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';

/** Shows no findings. Pure, and never throws. */
export function ifItFailsSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const failures = failuresOf(checked.network);
  const supplies = failures.supplies();
  const pieces = failures.pieces();
  const leads = leadTable(checked, failures.leads());
  const everybody = hearing(checked, [...supplies, ...pieces]);
  const tables = [
    table(
      'supplies',
      'When power goes',
      'All of ours that one of these feeds.',
      supplies.map((each) => row(each, everybody)),
    ),
    table(
      'pieces',
      'When a thing fails',
      'Each by itself, broken, unplugged or without power.',
      pieces.map((each) => row(each, everybody)),
    ),
    leads,
  ].filter(({ rows }) => rows.length > 0);
  const blocks: Block[] = [...tables];
  if (tables.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [BEFORE] });
  return {
    id: 'if-it-fails',
    name: SHEET_NAMES['if-it-fails'],
    title: titleOf(checked.rig),
    facts: facts(checked.rig.settings),
    dense: true,
    blocks,
  };
}

const BEFORE: Caution = {
  subject: 'Before a plug is pulled',
  text: 'Ears out, levels down, phantom power off for some seconds: a plug that is pulled cracks in every ear. Mains plugs and fuses are for the venue’s electrician.',
};

const LOST: readonly Column[] = [{ title: 'Hears nothing' }, { title: 'Gone from all ears' }, { title: 'House lines lost' }];
const COLUMNS: readonly Column[] = [{ title: 'What', names: true, under: { title: 'Runs on' } }, ...LOST, { title: 'Quickest way round' }];

function table(id: string, title: string, remark: string, rows: readonly TableRow[]): TableBlock {
  return { kind: 'table', id, title, remark, columns: COLUMNS, rows, empty: 'Nothing that anybody would hear.' };
}

/** So many hear anything. */
function hearing({ rig }: Checked, failures: readonly Failure[]): number {
  const most = Math.max(0, ...failures.map(({ deaf }) => deaf.length));
  return Math.max(
    most,
    [...rig.performers.values()].filter(({ id }) => [...rig.mixes.values()].some((mix) => mix.for.includes(id))).length,
  );
}

function lostCells({ deaf, sources, house }: Failure, everybody: number): string[] {
  return [
    deaf.length > 1 && deaf.length >= everybody ? 'everybody' : list(deaf.map(({ label }) => label)),
    list(sources.map(({ label }) => label)),
    list(house.map(({ number, label }) => `${number} ${label}`.trim())),
  ];
}

function row(failure: Failure, everybody: number): TableRow {
  const { of } = failure;
  if ('supply' in of) {
    const what = of.supply === 'mains' ? 'the mains' : 'the computer';
    const feeds = list(of.pieces.map(({ label }) => label));
    return tableRow(of.supply, [what, feeds, ...lostCells(failure, everybody), SUPPLY_ROUND[of.supply]], {
      about: about(...of.pieces.map(({ place }) => place)),
    });
  }
  if (!('piece' in of)) return tableRow('', []);
  const { piece } = of;
  const { power } = piece.model;
  return tableRow(
    piece.id,
    [piece.label, power && power.from !== 'none' ? power.from : undefined, ...lostCells(failure, everybody), roundText(failure)],
    { place: piece.place, about: about(piece.place) },
  );
}

const SUPPLY_ROUND = {
  mains: 'ask the venue’s electrician; what runs on batteries goes on',
  computer: 'its own battery goes on for a while where it has one; else mix in the interface alone, if it can',
};

function roundText({ round, house }: Failure): string {
  const ways = [
    ...round.map(wayText),
    ...(house.some(({ takes }) => takes?.kind === 'source') ? ['the house’s own microphone or box on its line'] : []),
  ];
  return ways.length > 0 ? ways.join('; or ') : 'none on stage: have one to spare';
}

function wayText(way: Round): string {
  switch (way.kind) {
    case 'spare':
      return `the spare: ${way.piece.label}`;
    case 'idle':
      return `${way.piece.label}, which lies idle`;
    case 'phones':
      return `earphones on a lead, into ${socketName(way.at)}`;
    case 'straight':
      return `plug ${plugName(way.from)} straight into ${plugName(way.to)}`;
  }
}

/** By the numbers of the leads, as they stand on their labels. */
function leadTable(checked: Checked, failures: readonly Failure[]): TableBlock {
  const everybody = hearing(checked, failures);
  const byJoint = new Map(failures.flatMap((each) => ('joint' in each.of ? [[each.of.joint, each] as const] : [])));
  const rows = leadListOf(checked, contextOf(checked)).flatMap(({ number, name, joint, row: lead }) => {
    const failure = byJoint.get(joint);
    return failure ? [tableRow(lead.key, [number, name, ...lostCells(failure, everybody)], { place: lead.place, about: lead.about })] : [];
  });
  return {
    kind: 'table',
    id: 'leads',
    title: 'When a lead fails',
    remark: 'By its number; a spare of the same kind is the way round.',
    columns: [{ title: 'No.', number: true }, { title: 'Label', names: true }, ...LOST],
    rows,
    empty: 'Nothing that anybody would hear.',
  };
}
