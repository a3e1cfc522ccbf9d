/** Who hears what: for whoever sets up the mixes on the interface, and for whoever listens to them. */

import { type Checked, count, type Finding, list } from '#engine';
import { counts } from '../patch-list/patchList';
import { bandAlone } from '../shared/bandAlone';
import { EARS } from '../shared/cautions';
import { type Context, contextOf } from '../shared/context';
import { unique } from '../shared/draft';
import { facts, titleOf } from '../shared/facts';
import type { Caution } from '../shared/model';
import { isRaised, RAISED_RULE } from '../shared/raised';
import { withFindings } from '../shared/rows';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableRow } from '../sheet';
import { ownTable } from './own';
import { mixDrawings, mixWords, type Paneled } from './panels';
import { sendTables } from './sends';
import { stripTable } from './strips';
import { latencyColumns, latencyRows, latencyRule, levelRule, SUMMARY_COLUMNS, summaryRows } from './summary';

/** Of the findings, those about mixes are shown here. Pure, and never throws. */
export function mixesSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const about = findings.filter(({ code }) => code.startsWith('mixes/') || code.startsWith('latency/'));
  const sends = sendTables(context);
  const { tables, elsewhere } = withFindings({ summary: summaryRows(context), latency: latencyRows(context) }, about);
  const blocks: Block[] = [];
  if (tables.summary.length > 0) {
    blocks.push({
      kind: 'table',
      id: 'summary',
      title: 'Mixes',
      remark: levelRule(context),
      columns: SUMMARY_COLUMNS,
      rows: tables.summary,
      empty: '',
    });
  }
  sends.forEach(({ columns, rows, mixes, first }, index) => {
    blocks.push({
      kind: 'table',
      id: sends.length > 1 ? `sends-${index + 1}` : 'sends',
      title: sends.length > 1 ? `Sends, mixes ${first} to ${first + mixes.length - 1}` : 'Sends',
      remark: index === 0 ? sendRule(context) : undefined,
      columns,
      rows: rows.map((row) => ({ ...row, findings: [] })),
      empty: 'Nothing is plugged in or sent to a mix yet.',
    });
  });
  mixDrawings(rig, paneled(tables.summary, checked)).forEach(({ drawing, mixes }, index) => {
    blocks.push({
      kind: 'drawing',
      id: `bars-${index + 1}`,
      title: `Who hears what: ${mixes.length > 3 ? `${mixes[0]?.label} to ${mixes.at(-1)?.label}` : list(mixes.map((mix) => mix.label))}`,
      drawing,
      description: mixWords(rig, mixes),
    });
  });
  if (tables.latency.length > 0) {
    blocks.push({
      kind: 'table',
      id: 'latency',
      title: 'How late one hears oneself',
      remark: latencyRule(rig.settings),
      columns: latencyColumns(rig.settings),
      rows: tables.latency,
      empty: '',
    });
  }
  blocks.push(...ownTable(context), ...stripTable(context));
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if ([...rig.mixes.values()].some((mix) => mix.for.length > 0)) {
    blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [EARS, LOUDNESS] });
  }
  return {
    id: 'mixes',
    name: SHEET_NAMES.mixes,
    title: titleOf(rig),
    facts: [...facts(rig.settings), ...mixFacts(checked)],
    counts: counts(findings),
    blocks,
  };
}

const LOUDNESS: Caution = {
  subject: 'How loud',
  text: 'Levels here are what is sent, and what comes of it where the mix is made. How loud they are in the ears they do not say: that depends on the pack or the amplifier and on the earphones, and the sheet “Ears” has the highest that is possible. Where a pack, an amplifier or the mixer has a limiter, switch it on and leave it on; have somebody who can measure set it. A full-scale signal is the loudest that can come: a plug pulled or a microphone dropped is one.',
};

function mixFacts({ rig }: Checked): string[] {
  const mixes = [...rig.mixes.values()];
  const people = unique(mixes.flatMap((mix) => mix.for)).length;
  const { bufferSamples } = rig.settings;
  return [
    ...(mixes.length > 0 ? [`${count(mixes.length, 'mix', 'mixes')} for ${count(people, 'person', 'people')}`] : []),
    ...(bufferSamples === undefined ? [] : [`buffer of ${bufferSamples} samples`]),
  ];
}

function sendRule({ checked }: Context): string {
  const { rig } = checked;
  const mixes = [...rig.mixes.values()];
  const secrets = bandAlone(checked);
  const secret = unique(mixes.flatMap((mix) => mix.sends.map((send) => send.source))).flatMap((source) => secrets.get(source) ?? []);
  return [
    'In the order of the inputs. 0 dB is as loud as it comes in at its gain, which is not equally loud for all. Where nothing stands, nothing is sent.',
    ...(mixes.some((mix) => mix.stereo)
      ? ['In a stereo mix, what has no side stays in the middle; what is stereo itself keeps its left and right.']
      : []),
    ...(mixes.some((mix) => mix.sends.some(isRaised)) ? [RAISED_RULE] : []),
    ...(secret.length > 0 ? [`For the band alone, never for the audience: ${list(secret)}.`] : []),
  ].join(' ');
}

/** Under the name of each mix: for whom, how wide, and where it comes out. */
function paneled(rows: readonly { readonly key: string; readonly cells: TableRow['cells'] }[], { rig }: Checked): Paneled[] {
  return rows.flatMap(({ key, cells }) => {
    const mix = rig.mixes.get(key);
    const [, width, listeners, output] = cells;
    return mix ? [{ mix, under: [`for ${listeners || 'nobody yet'}`, width, output].filter(Boolean).join(' · ') }] : [];
  });
}
