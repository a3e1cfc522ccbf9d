/** The way of a source to each of its ends, step by step, in words and figures. */
import {
  type Checked,
  decibels,
  endLabel,
  type Joint,
  type JointLead,
  type Line,
  metres,
  modeFor,
  ohms,
  runName,
  socketName,
  tidy,
} from '#engine';
import type { Run } from '#rig';
import { type Column, paragraphs, plain, table } from './markdown';

const MOST_STEPS = 64;

const COLUMNS: readonly Column[] = [
  { head: 'from' },
  { head: 'into' },
  { head: 'usual', align: 'right' },
  { head: 'loudest', align: 'right' },
  { head: 'load', align: 'right' },
  { head: 'lead' },
];

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
    return [
      plain(socketName(joint.from)),
      plain(socketName(joint.to)),
      arrival?.typicalDbu === undefined ? '' : decibels(arrival.typicalDbu, 'dBu'),
      arrival?.peakDbu === undefined ? '' : decibels(arrival.peakDbu, 'dBu'),
      load === undefined ? '' : ohms(load),
      leadText(leads.get(joint)),
    ];
  });
  if (rows.length === 0) return `${title}: it does not get there.`;
  return paragraphs(title, table(COLUMNS, rows), gainText(checked, line));
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
export function leadText(lead: JointLead | undefined): string {
  if (!lead) return '';
  if (lead.ownM !== undefined && lead.lengthM === undefined) return `its own, ${metres(lead.ownM)}`;
  if (!lead.lead) return '';
  const [from, into] = lead.lead.ends.map(endLabel);
  const length = lead.lengthM === undefined ? '' : `, ${metres(lead.lengthM)}`;
  return `${from} to ${into}${lead.lead.balanced ? '' : ', unbalanced'}${length}`;
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
  const right = decibels(Math.max(range.low, Math.floor(gain.setDb)));
  const written = line.run.gainDb === undefined ? '' : `${decibels(line.run.gainDb)} of gain is written. `;
  const short = gain.shortDb > 0.5 ? ` It wants ${decibels(gain.wantedDb)}: ${decibels(gain.shortDb)} more than there is.` : '';
  const noise = arrival.snrDb === undefined ? '' : ` Its usual level is ${decibels(arrival.snrDb)} above the noise of the input.`;
  return `${written}Set ${right} of gain (the knob goes from ${tidy(range.low, 1)} to ${decibels(range.high)})${room}.${short}${noise}`;
}
