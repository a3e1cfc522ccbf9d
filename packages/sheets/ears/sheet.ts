/** How loud it can get in everybody's ears, how long that may be, and what the evening comes to: for all who wear earphones. */
import {
  allowedS,
  type Checked,
  count,
  dailyExposureDb,
  dailyLawOf,
  daysWorth,
  dose,
  type Finding,
  type Hearing,
  list,
  OSHA_MOST_DBA,
  ohms,
  socketName,
  tidy,
  USUAL_LISTENING_DB_SPL,
  untilDailyS,
} from '#engine';
import type { Settings } from '#rig';
import { counts } from '../patch-list/patchList';
import { alike } from '../shared/alike';
import { EARS } from '../shared/cautions';
import { about } from '../shared/draft';
import { facts, titleOf } from '../shared/facts';
import { whole, wholeDown } from '../shared/figures';
import type { Caution } from '../shared/model';
import { MARK } from '../shared/raised';
import { type RowDraft, withFindings } from '../shared/rows';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, type Column, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';

/** Of the findings, those about ears are shown here. Pure, and never throws. */
export function earsSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  const { rig, hearings } = checked;
  const told = findings.filter(({ code }) => code.startsWith('ears/'));
  const shared = hearings.some(({ others }) => others.length > 0);
  const { tables, elsewhere } = withFindings({ listeners: hearings.map((each) => listenerRow(each, shared)) }, told);
  const blocks: Block[] = [];
  if (rig.pieces.size > 0)
    blocks.push({
      kind: 'table',
      id: 'listeners',
      title: 'The highest that is possible',
      remark: hearings.length > 0 ? [HIGHEST, ...(shared ? [SHARED] : [])].join(' ') : undefined,
      columns: listenerColumns(shared),
      rows: tables.listeners,
      empty: 'Nobody’s earphones are driven by anything yet.',
    });
  if (hearings.length > 0) blocks.push(times(rig.settings), ...evening(rig.settings));
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if (hearings.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [EARS, ESTIMATES] });
  return {
    id: 'ears',
    name: SHEET_NAMES.ears,
    title: titleOf(rig),
    facts: [
      ...facts(rig.settings),
      ...(hearings.length > 0 ? [count(new Set(hearings.map(({ performer }) => performer.id)).size, 'listener')] : []),
    ],
    counts: counts(findings),
    blocks,
  };
}

const HIGHEST =
  'What each output, amplifier or pack can drive these earphones to with every knob up, from the figures of their models: estimates. Nobody plays or listens like that; it is what happens when a plug is pulled or something howls.';

const SHARED =
  'Where several are on one output the highest is what one pair gets when all others are pulled out; side by side they have fewer ohms, and what is lost on the way is with all plugged in.';

const ESTIMATES: Caution = {
  subject: 'Estimates',
  text: 'Times and doses are those published for noise at work, where levels are measured in the room. At the eardrum the same sound reads 5 to 10 dB more (common practice, no source), and only somebody with the gear for it can measure in ears. No level and no time here is said to do no harm: that differs from ear to ear, and what else is loud that day counts too.',
};

// ---- listeners -----------------------------------------------------------------------------------

/** `shared`: somebody’s output has others on it. */
function listenerColumns(shared: boolean): readonly Column[] {
  return [
    { title: 'Listener', names: true, under: { title: 'Mix' } },
    { title: 'Driven by', under: { title: 'Earphones' } },
    { title: 'Highest', unit: 'dB SPL', number: true },
    { title: 'With its limiter', unit: 'dB SPL', number: true },
    ...(shared ? [{ title: 'With all plugged in', unit: 'dB SPL', number: true }] : []),
    { title: 'Lost on the way', unit: 'dB', number: true },
  ];
}

function listenerRow(each: Hearing, shared: boolean): RowDraft {
  const { performer, mix, driver, earphones, earsOhm, dbSplPerMw, assumed, others, lossDb } = each;
  const round = (level: number | undefined) => (level === undefined ? undefined : Math.round(level));
  const worn = `${earphones?.label ?? 'not said'}${assumed ? `, taken to have ${ohms(earsOhm)} and ${tidy(dbSplPerMw, 1)} dB SPL at 1 mW` : ''}`;
  const { findings: _, ...row } = tableRow(
    `${performer.id} ${mix.id} ${driver.key}`,
    [
      performer.label,
      mix.label,
      `${socketName(driver)}${others.length > 0 ? `, with ${alike(others.map(({ label }) => label)).join(', ')}` : ''}`,
      worn,
      round(each.highestDbSpl),
      round(each.limitedDbSpl),
      ...(shared ? [others.length > 0 ? round(each.togetherDbSpl) : undefined] : []),
      lossDb === undefined ? undefined : Number(tidy(lossDb, 1)),
    ],
    { place: performer.place, about: about(performer.place, mix.place, driver.piece.place), unfinished: each.highestDbSpl === undefined },
  );
  return row;
}

// ---- times ---------------------------------------------------------------------------------------

/** In dB(A). */
const LEVELS = [85, 88, 91, 94, 100];

/** `8 h`, `1 h 20 min`, `15 min`, `47 s`. */
function duration(seconds: number, rounded = whole): string {
  if (seconds < 60) return seconds < 1 ? 'less than a second' : `${rounded(seconds)} s`;
  const minutes = rounded(seconds / 60);
  const hours = Math.floor(minutes / 60);
  if (hours === 0) return `${minutes} min`;
  return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
}

/** A time that is not to be exceeded. */
function upTo(seconds: number): string {
  return duration(seconds, wholeDown);
}

const NIOSH_RULE = 'NIOSH publication 98-126 (recommended: 85 dB(A) for 8 h, 3 dB for half of it)';
const TOGETHER = 'All that is loud that day counts together.';

/** By the law of the place where it is known here, else by one that is more lenient than others: whoever plays there has to ask. */
function times(settings: Settings): TableBlock {
  const { listeningDbSpl } = settings;
  const law = dailyLawOf(settings);
  const all = [...new Set([...LEVELS, ...(listeningDbSpl === undefined ? [] : [listeningDbSpl])])].sort((a, b) => a - b);
  const steps = law ? [law.lower, law.upper, law.limit] : [];
  return {
    kind: 'table',
    id: 'times',
    title: 'How long until a day’s exposure is reached',
    remark: law
      ? `By ${law.name}, as much as eight hours at ${list(steps.map(({ dbA }) => String(dbA)))} dB(A): employers have to act from the first and from the second on, and the third is not to be exceeded; of peaks it has ${list(steps.map(({ peakDbC }) => String(peakDbC)))} dB(C). A country may ask for more. Last, by ${NIOSH_RULE}. ${TOGETHER}`
      : `By ${NIOSH_RULE} and 29 CFR 1910.95, Table G-16 (law for workplaces in the United States: 90 dB(A) for 8 h, 5 dB for half of it). Where you play, another law may hold and ask for more. ${TOGETHER}`,
    columns: [
      { title: 'Level', unit: 'dB(A)', number: true, names: true },
      ...steps.map(({ dbA }) => ({ title: `Until ${dbA} dB(A)` })),
      { title: 'NIOSH' },
      ...(law ? [] : [{ title: '29 CFR 1910.95' }]),
    ],
    rows: all.map((level) => ({
      key: String(level),
      about: [],
      findings: [],
      strong: level === listeningDbSpl,
      cells: [
        level,
        ...steps.map(({ dbA }) => upTo(untilDailyS(dbA, level))),
        upTo(allowedS('niosh', level)),
        ...(law ? [] : [level > OSHA_MOST_DBA ? 'not at all' : upTo(allowedS('osha', level))]),
      ],
    })),
    empty: '',
  };
}

// ---- the evening ---------------------------------------------------------------------------------

/** Nothing where it is not said how long they play. */
function evening(settings: Settings): TableBlock[] {
  const { setS, checkS = 0, listeningDbSpl } = settings;
  if (setS === undefined) return [];
  const level = listeningDbSpl ?? USUAL_LISTENING_DB_SPL;
  const law = dailyLawOf(settings);
  const spans: readonly (readonly [string, number])[] = [
    ...(checkS > 0 ? [['Sound check', checkS] as const] : []),
    ['Set', setS],
    ...(checkS > 0 ? [['Sound check and set', checkS + setS] as const] : []),
    [checkS > 0 ? 'Sound check and two sets' : 'Two sets', checkS + 2 * setS],
  ];
  return [
    {
      kind: 'table',
      id: 'evening',
      title: `What the evening comes to at ${tidy(level, 1)} dB(A)`,
      remark: `${
        listeningDbSpl === undefined
          ? `How loud you listen is not said; ${USUAL_LISTENING_DB_SPL} dB(A) is taken (common practice, no source; "listening 90 dB SPL" says otherwise).`
          : 'The level is the one that is written as "listening".'
      } 100 % is a whole day’s exposure; ${MARK}: more than that.${law ? ` In the last column, the level which for eight hours is as much: over ${law.limit.dbA} dB(A), which is not to be exceeded by ${law.name}, it is marked as well.` : ''}`,
      columns: [
        { title: 'What', names: true },
        { title: 'How long' },
        { title: 'Of NIOSH’s day', unit: '%', number: true },
        law ? { title: 'Daily exposure', unit: 'dB(A)', number: true } : { title: 'Of 29 CFR 1910.95’s day', unit: '%', number: true },
      ],
      rows: spans.map(([what, seconds]) => ({
        key: what,
        about: [],
        findings: [],
        cells: [
          what,
          duration(seconds),
          shareCell(dose('niosh', level, seconds)),
          law ? exposureCell(dailyExposureDb(level, seconds), law.limit.dbA) : shareCell(dose('osha', level, seconds)),
        ],
      })),
      empty: '',
    },
  ];
}

/** Of a day, in percent: `75`, `142 (!) 1.4 days’ worth`. */
function shareCell(share: number): string | number {
  const percent = whole(share * 100);
  return percent > 100 ? `${percent} ${MARK} ${daysWorth(share)}` : percent;
}

/** `86.5`, `88.7 (!)`. */
function exposureCell(dbA: number, limitDbA: number): string {
  const told = dbA.toFixed(1);
  return Number(told) > limitDbA ? `${told} ${MARK}` : told;
}
