/** Each line from its source to the socket where it ends: how loud it comes, and how much the socket has room for. */
import { type Checked, capital, count, type Finding, list, NOT_STATED, tidy } from '#engine';
import type { Scale } from '../draw/axis';
import { counts, gainRule } from '../patch-list/patchList';
import { contextOf, grouped } from '../shared/context';
import { distinctKeys } from '../shared/draft';
import { facts, titleOf } from '../shared/facts';
import { tenth, whole, wholeDown } from '../shared/figures';
import { DO_NOT_PLUG_IN } from '../shared/leads';
import type { Caution } from '../shared/model';
import { type RowDraft, withFindings } from '../shared/rows';
import { CAUTIONS, ELSEWHERE } from '../shared/titles';
import { type Block, type Cell, type Column, SHEET_NAMES, type Sheet } from '../sheet';
import { isDrawn, levelDrawings, levelScale, wordsOf } from './drawing';
import { houseLevels, inputLines, type LevelLine } from './lines';

/** Of the findings, those about levels are shown here. Pure, and never throws. */
export function levelsSheet(checked: Checked, findings: readonly Finding[] = checked.findings): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const inputs = inputLines(context);
  const house = houseLevels(context);
  const about = findings.filter(({ code }) => code.startsWith('levels/'));
  const { tables, elsewhere } = withFindings(
    {
      inputs: distinctKeys(inputs.map((line) => rowOf(line, inputCells(line)))),
      house: distinctKeys(house.map((line) => rowOf(line, houseCells(line)))),
    },
    about,
  );
  const scale = levelScale([...inputs, ...house]);
  const devices = [...grouped(inputs, (line) => line.device?.id ?? '').values()];
  const blocks: Block[] = [];
  if (inputs.length > 0) {
    blocks.push(
      {
        kind: 'table',
        id: 'inputs',
        title: 'At our inputs',
        remark: `${gainRule(rig.settings)} A gain that is written stands in the rig. The meter is the input’s own, at that gain: aim at the first figure while they play as usual.`,
        columns: INPUT_COLUMNS,
        rows: tables.inputs,
        empty: '',
      },
      ...devices.flatMap((lines, index) =>
        drawings(lines, scale, lines[0]?.device?.label ?? 'gear that is not known', `into-${index + 1}`),
      ),
    );
  }
  if (house.length > 0) {
    blocks.push(
      {
        kind: 'table',
        id: 'house',
        title: 'At the house’s sockets',
        remark: 'As it comes to them with our rig plugged in. The gain there is for the house to set.',
        columns: HOUSE_COLUMNS,
        rows: tables.house,
        empty: '',
      },
      ...drawings(house, scale, 'the house’s sockets', 'into-house'),
    );
  }
  if (elsewhere.length > 0) blocks.push({ kind: 'notes', id: 'elsewhere', title: ELSEWHERE, notes: elsewhere });
  if (inputs.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [GAINS] });
  const title = titleOf(rig);
  return { id: 'levels', name: SHEET_NAMES.levels, title, facts: facts(rig.settings), counts: counts(findings), blocks };
}

const GAINS: Caution = {
  subject: 'Gain and ears',
  text: 'Turn a gain, switch a pad or phantom power, and pull or put a plug only with everybody’s ears out or every mix shut: it thumps, and what was quiet can be loud.',
};

const INPUT_COLUMNS: readonly Column[] = [
  { title: 'Port', names: true },
  { title: 'Source' },
  { title: 'Usual', unit: 'dBu', number: true, under: { title: 'Loudest', unit: 'dBu' } },
  { title: 'Gain', unit: 'dB', number: true, under: { title: 'Gain is' } },
  { title: 'Meter', unit: 'dBFS', number: true, under: { title: 'At the loudest', unit: 'dBFS' } },
  { title: 'Headroom', unit: 'dB', number: true },
  { title: 'S/N', unit: 'dB', number: true },
  { title: 'Split loss', unit: 'dB', number: true },
];

const HOUSE_COLUMNS: readonly Column[] = [
  { title: 'Line', names: true },
  { title: 'Label' },
  { title: 'Usual', unit: 'dBu', number: true, under: { title: 'Loudest', unit: 'dBu' } },
  { title: 'Split loss', unit: 'dB', number: true },
];

function rowOf(line: LevelLine, cells: readonly Cell[]): RowDraft {
  const { key, place, about, unfinished, socket, signal } = line;
  return { key, name: `${socket}: ${signal}`, place, about, unfinished, cells };
}

function inputCells(line: LevelLine): Cell[] {
  const { socket, signal, gain, snrDb } = line;
  return [
    socket,
    signal,
    ...levelCells(line),
    gain?.gainDb,
    gainWords(line),
    gain?.meterUsual === undefined ? undefined : whole(gain.meterUsual),
    gain?.meterPeak === undefined ? undefined : whole(gain.meterPeak),
    gain?.headroomDb,
    snrDb === undefined ? undefined : wholeDown(snrDb),
    lossCell(line),
  ];
}

function houseCells(line: LevelLine): Cell[] {
  return [line.socket, line.signal, ...levelCells(line), lossCell(line)];
}

function levelCells({ usual, peak, unstated }: LevelLine): Cell[] {
  return [usual, peak].map((level) => (level !== undefined ? whole(level) : unstated ? NOT_STATED : undefined));
}

/** Nothing where nothing is lost to speak of. */
function lossCell({ splitLossDb }: LevelLine): Cell {
  return splitLossDb === undefined || tenth(splitLossDb) === 0 ? undefined : tenth(splitLossDb);
}

/** `computed`; `written, computed 23` where the two are not the same. */
function gainWords({ forbidden, gain }: LevelLine): string | undefined {
  if (forbidden) return DO_NOT_PLUG_IN;
  if (!gain) return undefined;
  if (gain.gainDb === undefined) return 'fixed';
  if (!gain.written) return 'computed';
  return gain.suitsDb === undefined || gain.suitsDb === gain.gainDb ? 'written' : `written, computed ${tidy(gain.suitsDb, 1)}`;
}

function drawings(lines: readonly LevelLine[], scale: Scale, where: string, id: string): Block[] {
  const silent = lines.filter((line) => !isDrawn(line) && !line.forbidden && !line.unfinished).map(({ signal }) => signal);
  const drawn = levelDrawings(lines, scale);
  return drawn.map(
    (each, index): Block => ({
      kind: 'drawing',
      id: drawn.length > 1 ? `${id}-${index + 1}` : id,
      title: `Into ${where}${drawn.length > 1 ? `, ${index + 1} of ${drawn.length}` : ''}`,
      remark: index === 0 && silent.length > 0 ? `Not drawn, as no level is known: ${list(silent)}.` : undefined,
      drawing: each.drawing,
      description: described(each.lines, where),
    }),
  );
}

function described(lines: readonly LevelLine[], where: string): string {
  const tight = lines.filter((line) => line.gain).sort((a, b) => (a.gain?.headroomDb ?? 0) - (b.gain?.headroomDb ?? 0))[0];
  const told = tight ?? lines.toSorted((a, b) => (b.peak ?? 0) - (a.peak ?? 0))[0];
  const counted = `${capital(count(lines.length, 'line'))} into ${where}, each as a bar from its usual to its loudest level in dBu.`;
  return told ? `${counted} ${tight ? 'Least room' : 'Loudest'}: ${wordsOf(told)}.` : counted;
}
