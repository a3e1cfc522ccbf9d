/** What lands on inputs of ours, port by port; and what is not plugged in yet. */
import { type Arrival, arrives, isUnstated, type Joint, type Line, mustNotBe, type Supply, socket, socketName, wholePath } from '#engine';
import type { InputRun, Source } from '#rig';
import type { Context } from './context';
import { about, type Draft, distinct, named } from './draft';
import { tenth, whole, wholeDown } from './figures';
import { UNNUMBERED } from './laid';
import { DO_NOT_PLUG_IN, leadKind, lengthWords, wiringOf } from './leads';
import type { InputRow } from './model';
import { legs, portOrder, signalWords } from './path';
import { bySwitch } from './switched';

export const PHANTOM_WORDS: Readonly<Record<Supply, string>> = {
  on: 'on',
  shared: 'on (shared switch)',
  off: 'off',
  house: 'from the house',
  elsewhere: 'from another input',
  missing: 'needed: none here',
  none: '',
};

export function inputRows(context: Context): readonly Draft<InputRow>[] {
  return context.once('input rows', allRows);
}

function allRows(context: Context): readonly Draft<InputRow>[] {
  const { rig } = context.checked;
  const order = portOrder(rig, 'input');
  const landed = rig.inputs
    .flatMap((run) => (run.to.ports.length > 0 ? run.to.ports : ['']).map((port, index) => ({ run, port, index, piece: run.to.piece })))
    .sort(order)
    .map(({ run, port, index }) => landedRow(context, run, port, index));
  const taken = new Set([...rig.inputs, ...rig.house].flatMap((run) => run.takes?.id ?? []));
  const loose = [...rig.sources.values()].filter((source) => !taken.has(source.id)).map((source) => looseRow(context, source));
  return distinct<InputRow>([...landed, ...loose]);
}

/** The house’s lines that get the same signal: of one with two channels, the same side. */
function houseLines(context: Context, line: Line | undefined): string {
  if (!line?.signal) return '';
  return context
    .houseLinesOf(line.signal)
    .filter((run) =>
      context
        .linesOf(run.id)
        .some((other) => other.signal === line.signal && (!other.channel || !line.channel || other.channel === line.channel)),
    )
    .map(({ number }) => number)
    .join(', ');
}

function landedRow(context: Context, run: InputRun, portId: string, index: number): Draft<InputRow> {
  const { checked } = context;
  const { rig, network } = checked;
  const gear = rig.pieces.get(run.to.piece);
  const port = gear?.model.ports.find((each) => each.id === portId && each.direction === 'input');
  const line = context.linesOf(run.id).find((each) => each.index === index);
  const source = rig.sources.get(run.takes?.id ?? '');
  const lands = arrives(line);
  const path = lands ? wholePath(network, line) : [];
  const last = lands ? line.joints.at(-1) : undefined;
  const arrival = line && checked.levels.of(line);
  const steps = run.via.flatMap((step) => rig.pieces.get(step.piece) ?? []);
  return {
    key: `${gear?.name ?? ''}.${portId}`,
    ...UNNUMBERED,
    index,
    house: run.takes ? houseLines(context, line) : '',
    place: run.place,
    about: about(run.place, run.takes?.id, source?.by, ...named(steps)),
    unfinished: !gear || !port || run.takes === undefined || !lands,
    port: port && gear ? socketName(socket(gear, port)) : `${gear?.label ?? 'unknown gear'} ${portId}`.trim(),
    written: gear?.name && portId ? `${gear.name}.${portId}` : '',
    source: run.takes ? (bySwitch(context, run, besideOf(context, run)) ?? signalWords(rig, run.takes, line)) : 'source not known',
    by: performerLabel(context, source),
    taken: taken(run, lands ? legs(path) : steps.map((step) => step.label).join(' → ')),
    ...leadWords(context, last),
    ...(path.some(mustNotBe) ? {} : gainFigures(run, arrival)),
    phantom: lands ? PHANTOM_WORDS[context.supplies.of(line)] : '',
    unstated: arrival !== undefined && isUnstated(arrival) && !path.some(mustNotBe),
    levelDbu: arrival?.typicalDbu === undefined || !Number.isFinite(arrival.typicalDbu) ? undefined : whole(arrival.typicalDbu),
  };
}

/** What has a row of its own at the same socket. */
function besideOf({ landingOn }: Context, { to }: InputRun): string[] {
  const beside = new Set(to.ports.flatMap((port) => landingOn(`${to.piece}.${port}`)));
  return [...beside].flatMap(({ takes }) => takes?.id ?? []);
}

function looseRow(context: Context, source: Source): Draft<InputRow> {
  return {
    key: source.id,
    ...UNNUMBERED,
    index: 0,
    house: '',
    place: source.place,
    about: source.by ? [source.place, source.by] : [source.place],
    unfinished: true,
    port: 'not plugged in',
    written: '',
    source: source.label,
    by: performerLabel(context, source),
    taken: '',
    lead: '',
    length: '',
    phantom: '',
    unstated: false,
  };
}

function performerLabel({ checked }: Context, source: Source | undefined): string {
  return checked.rig.performers.get(source?.by ?? '')?.label ?? '';
}

function taken(run: InputRun, way: string): string {
  return run.pad ? `${way || 'direct'}, pad in` : way;
}

function leadWords({ checked, leads }: Context, joint: Joint | undefined): { lead: string; length: string } {
  const each = joint && leads.get(joint);
  if (joint && mustNotBe(joint)) return { lead: DO_NOT_PLUG_IN, length: '' };
  if (!joint || !each?.lead) return { lead: '', length: '' };
  return { lead: leadKind(each.lead, wiringOf(each.lead, each.kind)), length: lengthWords(each, checked.rig.settings) };
}

/** Where the knob of an input stands; nothing where it has none. */
export function knobOf({ gainDb, instead }: Pick<InputRow, 'gainDb' | 'instead'>): number | undefined {
  return instead === undefined ? gainDb : instead === 'no knob' ? undefined : instead;
}

/** The gain that the rig says, else the one that suits, rounded down; and what is left above the peak at that gain. */
export function gainFigures(run: InputRun, arrival: Arrival | undefined): Pick<InputRow, 'gainDb' | 'instead'> & { headroomDb?: number } {
  const gain = arrival?.gain;
  if (!gain || !Number.isFinite(gain.setDb)) return { gainDb: run.gainDb === undefined ? undefined : tenth(run.gainDb) };
  const range = arrival.mode?.gainDb;
  const headroom = (atDb: number) => wholeDown(gain.headroomDb + gain.setDb - atDb);
  const setDb = range && Math.max(wholeDown(gain.setDb), tenth(range.low));
  if (run.gainDb !== undefined) {
    const reached = range && run.gainDb >= range.low && run.gainDb <= range.high;
    return { gainDb: tenth(run.gainDb), headroomDb: headroom(run.gainDb), ...(reached ? {} : { instead: setDb ?? 'no knob' }) };
  }
  // An input without a knob has nothing to set.
  if (setDb === undefined) return { headroomDb: headroom(gain.setDb) };
  return { gainDb: setDb, headroomDb: headroom(setDb) };
}
