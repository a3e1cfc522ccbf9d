/** The way of a source to each of its ends, step by step, in words and figures. */
import {
  type Arrival,
  type Checked,
  decibels,
  endLabel,
  type Gain,
  isUnstated,
  type Joint,
  type JointLead,
  type Lengths,
  type Line,
  lengthText,
  list,
  modeFor,
  NOT_STATED,
  ohms,
  runName,
  socketName,
  tidy,
} from '#engine';
import type { Run } from '#rig';
import { bullets, type Column, paragraphs, plain, table } from './markdown';

const MOST_STEPS = 64;
/** Less is not worth a word. */
const LEAST_LOSS_DB = 0.1;

const COLUMNS: readonly Column[] = [
  { head: 'from' },
  { head: 'into' },
  { head: 'usual', align: 'right' },
  { head: 'loudest', align: 'right' },
  { head: 'load', align: 'right' },
  { head: 'lead' },
];

/** The gain that is written, and the one that is right where that is another; nothing where none is written, or none is right. */
function writtenText(written: number | undefined, right: number, { setDb, headroomDb, hotDb }: Gain, knob: string): string | undefined {
  if (written === undefined || hotDb > 0) return undefined;
  const leftDb = headroomDb + setDb - written;
  const leaves = leftDb < 0 ? `its peaks are ${decibels(-leftDb)} too hot` : `it leaves ${decibels(leftDb)} above the loudest peak`;
  const other = Math.abs(written - right) < 0.5 ? '' : ` With ${decibels(right)} it would be ${decibels(leftDb + written - right)}.`;
  return `${decibels(written)} of gain is written (${knob}): ${leaves}.${other}`;
}

/** All the ways of a source, one table each. Empty where it is plugged in nowhere. */
export function pathsOf(checked: Checked, source: string): string {
  const leads = new Map(checked.leads.map((lead) => [lead.joint, lead]));
  return paragraphs(...checked.network.linesOf(source).map((line) => pathOf(checked, line, leads)));
}

/** The ways of what one run takes, a table for each of its channels. */
export function pathOfRun(checked: Checked, run: Run): string {
  const leads = new Map(checked.leads.map((lead) => [lead.joint, lead]));
  const lines = checked.network.lines.filter((line) => line.run.id === run.id);
  return paragraphs(...lines.map((line) => pathOf(checked, line, leads)));
}

function pathOf(checked: Checked, line: Line, leads: ReadonlyMap<unknown, JointLead>): string {
  const { levels } = checked;
  const channel = line.channel === undefined ? '' : `, ${plain(line.channel)}`;
  const title = `**To ${plain(runName(checked.rig, line.run))}**${channel}`;
  const rows = [...upstream(checked, line), ...line.joints].map((joint) => {
    const arrival = levels.at(joint);
    const load = modeFor(joint.to, arrival?.kinds ?? [])?.impedanceOhm;
    const level = (dbu: number | undefined) =>
      dbu !== undefined ? decibels(dbu, 'dBu') : arrival && isUnstated(arrival) ? NOT_STATED : '';
    return [
      plain(socketName(joint.from)),
      plain(socketName(joint.to)),
      level(arrival?.typicalDbu),
      level(arrival?.peakDbu),
      load === undefined ? '' : ohms(load),
      leadText(leads.get(joint), checked.rig.settings),
    ];
  });
  if (rows.length === 0) return `${title}: it does not get there.`;
  return paragraphs(title, table(COLUMNS, rows), endText(checked, line));
}

/** The way to where a line leaves what others go through too: a house line that takes what is left of a split. */
function upstream(checked: Checked, line: Line): Joint[] {
  const before: Joint[] = [];
  let from = line.joints[0]?.from;
  while (from?.port.tie && before.length < MOST_STEPS) {
    const { piece, port } = from;
    const joint = port.tie?.inputs.flatMap((input) => checked.network.entering.get(`${piece.id}.${input}`) ?? [])[0];
    if (!joint || before.includes(joint)) break;
    before.unshift(joint);
    from = joint.from;
  }
  return before;
}

/** `XLR female to XLR male, 3 m`. */
export function leadText(lead: JointLead | undefined, lengths: Lengths): string {
  if (!lead) return '';
  if (lead.ownM !== undefined && lead.lengthM === undefined) return `its own, ${lengthText(lead.ownM, lengths)}`;
  if (!lead.lead) return '';
  const [from, into] = lead.lead.ends.map(endLabel);
  const length = lead.lengthM === undefined ? '' : `, ${lengthText(lead.lengthM, lengths)}`;
  return `${from} to ${into}${lead.lead.balanced ? '' : ', unbalanced'}${length}`;
}

/** What to set where a line ends, what its split costs it, and who powers it: a point each. */
export function endText(checked: Checked, line: Line): string {
  return bullets(gainText(checked, line), unstatedText(checked.levels.of(line)), splitText(checked, line), phantomText(checked, line));
}

/** That no level is known, and what to write so that it is. */
export function unstatedText(arrival: Arrival | undefined): string {
  if (!arrival || !isUnstated(arrival)) return '';
  const { kinds, source } = arrival;
  const write = kinds.includes('mic')
    ? '"typical 95 dB SPL", and its sensitivity in its model'
    : '"level -4 dBu" at the output in its model';
  return `Nothing says how loud ${plain(source.label)} is, so its level and the gain to set are not known: write it, as in ${write}.`;
}

/** What the other legs of a split take from a line; or that two lines are plugged into one socket, and none splits it. */
function splitText(checked: Checked, line: Line): string {
  const { network, rig } = checked;
  const others = line.joints
    .flatMap(({ from }) => network.leaving.get(from.key) ?? [])
    .flatMap((joint) => (line.joints.includes(joint) ? [] : network.linesThrough(joint)))
    .filter(({ run }) => run !== line.run);
  if (others.length > 0) {
    const names = [...new Set(others.map(({ run }) => plain(runName(rig, run))))];
    return `Nothing splits it: ${list(names)} ${names.length === 1 ? 'takes' : 'take'} it from the same socket.`;
  }
  const loss = checked.levels.of(line)?.splitLossDb ?? 0;
  return loss < LEAST_LOSS_DB ? '' : `What else is plugged into its split takes ${decibels(loss)} of it.`;
}

/** Where the phantom power of a line comes from, and the volts that are left of the 48 where it is needed. */
function phantomText({ supplies, rig }: Checked, line: Line): string {
  const needy = supplies.needyOn(line);
  const here = line.end && plain(socketName(line.end));
  if (needy) {
    const who = plain(needy.piece.label);
    const by = needy.suppliers.map((way) => plain(way.line.run.kind === 'house' ? runName(rig, way.line.run) : socketName(way.end)));
    if (by.length === 0) return `No phantom power reaches ${who}, which needs it.`;
    const volts = needy.volts === undefined ? '' : `: ${tidy(needy.volts, 1)} V of the 48 are left at it`;
    return `${who} has its phantom power from ${list(by)}${volts}.`;
  }
  const live = line.end && supplies.live.get(line.end.key);
  return live?.because ? `Phantom power is on at ${here}, for ${plain(live.because.label)} on the same switch.` : '';
}

/** The gain to set where a line ends, and what it leaves; only for gear of ours. */
export function gainText(checked: Checked, line: Line): string {
  const arrival = checked.levels.of(line);
  const gain = arrival?.gain;
  if (!gain || line.run.kind !== 'input') return '';
  const range = arrival.mode?.gainDb;
  const room =
    gain.hotDb > 0
      ? `; even so its peaks are ${decibels(gain.hotDb)} too hot`
      : `, which leaves ${decibels(gain.headroomDb)} above the loudest peak`;
  if (!range) return `There is no gain to set${room}.`;
  const right = Math.max(range.low, Math.floor(gain.setDb));
  const knob = `the knob goes from ${tidy(range.low, 1)} to ${decibels(range.high)}`;
  const setting = writtenText(line.run.gainDb, right, gain, knob) ?? `Set ${decibels(right)} of gain (${knob})${room}.`;
  const short = gain.shortDb > 0.5 ? ` It wants ${decibels(gain.wantedDb)}: ${decibels(gain.shortDb)} more than there is.` : '';
  const noise = arrival.snrDb === undefined ? '' : ` Its usual level is ${decibels(arrival.snrDb)} above the noise there at that gain.`;
  return `${setting}${short}${noise}`;
}
