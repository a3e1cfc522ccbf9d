/** What is on the air: for whoever sets the frequencies, and for the house, with whom they are to be agreed. */
import { type Checked, type Coordination, coordination, count, type Finding, hertz, list } from '#engine';
import { counts } from '../patch-list/patchList';
import { radioCaution } from '../shared/cautions';
import { contextOf } from '../shared/context';
import { facts, titleOf } from '../shared/facts';
import { withFindings } from '../shared/rows';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';
import { CARRIER_COLUMNS, carrierRows, licenceText, spanText } from './carriers';
import { bands, spectrum } from './spectrum';

/** Of the findings, those about radio are shown here. Pure, and never throws. */
export function radioSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  const { rig } = checked;
  const air = coordination(rig);
  const context = contextOf(checked);
  const about = findings.filter(({ code }) => /^(radio|scan)\//.test(code));
  const { tables, elsewhere } = withFindings({ carriers: carrierRows(context, air) }, about);
  const blocks: Block[] = [];
  if (rig.pieces.size > 0)
    blocks.push({
      kind: 'table',
      id: 'carriers',
      title: 'Carriers',
      remark: air.all.length > 0 ? guardRule(air) : undefined,
      columns: CARRIER_COLUMNS,
      rows: tables.carriers,
      empty: 'Nothing of this rig sends by radio.',
    });
  for (const [index, band] of bands(air).entries()) {
    const { carriers, span } = band;
    blocks.push({
      kind: 'drawing',
      id: `spectrum-${index + 1}`,
      title: `${spanText(span.low, span.high)}`,
      drawing: spectrum(air, band),
      description: `From the lowest up: ${list(carriers.map(({ hz, piece }) => `${piece.label} on ${hertz(hz)}`))}. ${troublesText(air, band.carriers.length)}`,
    });
  }
  if (air.all.length > 0) blocks.push(...ranges(air));
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if (air.all.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [radioCaution(checked)] });
  return {
    id: 'radio',
    name: SHEET_NAMES.radio,
    title: titleOf(rig),
    facts: [...facts(rig.settings), ...(air.all.length > 0 ? [count(air.all.length, 'set on the air', 'sets on the air')] : [])],
    counts: counts(findings),
    blocks,
  };
}

function guardRule({ guard }: Coordination): string {
  return `Wanted, from middle to middle: ${hertz(guard.carriersHz)} between carriers, or what their widths take; from a carrier, ${hertz(guard.pairsHz)} to a third-order product of two others, ${hertz(guard.triplesHz)} of three, and ${hertz(guard.fifthHz)} to a fifth-order product of two (common practice, no source). Digital carriers are taken to make none. All of it holds with everything switched on at once.`;
}

function troublesText({ troubles, close }: Coordination, carriers: number): string {
  if (carriers < 2 && troubles.length === 0) return 'There is one carrier.';
  const found = troubles.length + close.length;
  return found === 0
    ? 'None is too close to another, and no product falls on or near one.'
    : `${count(found, 'trouble')} in all: see the table.`;
}

/** What has been read of the place, with where and when. */
function ranges({ where }: Coordination): TableBlock[] {
  if (typeof where === 'string') return [];
  return [
    {
      kind: 'table',
      id: 'ranges',
      title: `Ranges known for ${where.name}`,
      remark: `What published sources say, on the day they were read. It is no permission, and may have changed: ${where.regulator} decides.`,
      columns: [
        { title: 'Range', names: true },
        { title: 'Licence', under: { title: 'Remark' } },
        { title: 'Source', under: { title: 'Read on' } },
      ],
      rows: where.ranges.map((range) => ({
        key: `${range.lowHz} ${range.highHz}`,
        about: [],
        findings: [],
        cells: [spanText(range.lowHz, range.highHz), licenceText(range), range.remark, range.source, range.read ?? 'from memory'],
      })),
      empty: '',
    },
  ];
}
