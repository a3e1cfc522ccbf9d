/** What on a line is driven beyond what it bears, or near it: its inputs, and the outputs that electronics drive. */
import type { Fix } from '../../cure/fix';
import { MARGIN_TOLERANCE_DB } from '../../cure/gainStands';
import { isPadded, type Levels, loudestOut, type Solved } from '../../solve/levels';
import { carriesSpeakerLevel } from '../../solve/mating';
import { socketName } from '../../solve/naming';
import { type Joint, type Line, type Network, stepOf } from '../../solve/network';
import { isTheirs } from '../../solve/path';
import { type Finding, finding } from '../finding';
import { madeHere } from '../related';

/** Less than this is rounding. */
const HAIR_DB = 0.05;

/** Somewhere on a line that bears so much and no more, at its lowest gain. */
interface Stage {
  readonly where: string;
  /** It is what drives the joint, not what the joint goes into. */
  readonly out: boolean;
  /** The joint that brings the signal to it; none to the source itself. */
  readonly by?: Joint;
  readonly peakDbu: number;
  readonly maxDbu: number;
  /** There is a gain to be set. */
  readonly knob: boolean;
  /** Whether it can come louder than its peaks: they are not the most that its source gives. */
  readonly rises: boolean;
}

/** What is wrong at the joints of a line, as far as the first stage that clips. */
export interface Stages {
  readonly findings: readonly Finding[];
  /** Where it clips, at an end of this joint: what follows takes a signal that is cut off already, and nothing there is to be padded. */
  readonly clipsAt?: Joint;
}

/** `judged` says of the joints that other lines of the source have in common with this one whether it clips there. */
export function stages(net: Network, levels: Levels, solved: Solved, line: Line, judged: Map<Joint, boolean>): Stages {
  const { source } = solved;
  const { marginDb } = net.rig.settings;
  const findings: Finding[] = [];
  for (const joint of line.joints) {
    const known = judged.get(joint);
    if (known) return { findings, clipsAt: joint };
    if (known === false) continue;
    judged.set(joint, false);
    for (const { where, out, by, peakDbu, maxDbu, knob, rises } of stagesOf(net, levels, solved, line, joint)) {
      const leftDb = maxDbu - peakDbu;
      const last = joint.to.key === line.end?.key && !out;
      const place = placeOf(line, by, last) ?? source.place;
      const at = { source: source.label, port: where };
      const more = { about: [source.id], related: place === source.place ? [] : [madeHere(source)] };
      // At its end a line has moves and swaps as well: `too-hot` is told there.
      if (leftDb < -HAIR_DB && !last) {
        judged.set(joint, true);
        const fixes = padBefore(line, by);
        const figures = { ...at, out, peakDbu, maxDbu, overDb: -leftDb, pad: fixes.length > 0 };
        return { findings: [finding('levels/overload', place, figures, { ...more, fixes })], clipsAt: joint };
      }
      const tight = leftDb >= 0 && leftDb < marginDb - MARGIN_TOLERANCE_DB;
      if (tight && rises && !out && !isTheirs(joint.to.piece)) {
        findings.push(finding('levels/little-room', place, { ...at, leftDb, marginDb, knob }, more));
      }
    }
  }
  return { findings };
}

function stagesOf(net: Network, levels: Levels, solved: Solved, line: Line, joint: Joint): Stage[] {
  const from = solved.solutions.findLast(({ plugs }) => plugs.has(joint))?.plugs.get(joint)?.upstream;
  const { mode, peakDbu, kinds = [] } = levels.at(joint) ?? {};
  if (!from || carriesSpeakerLevel(joint.from.port) || line.run.kind === 'output') return [];
  const found: Stage[] = [];
  const by = joint.from.piece === solved.piece ? undefined : from.by?.plug.joint;
  const out = loudestOut(net, from);
  if (out && (!by || from.by?.tie.how === 'active'))
    found.push({ where: socketName(joint.from), out: true, by, ...out, knob: false, rises: true });
  // Of a signal of another kind it is told as that.
  if (mode?.maxDbu === undefined || peakDbu === undefined || !kinds.includes(mode.kind)) return found;
  const padded = isPadded(line) && joint.to.key === line.end?.key;
  const source = loudestOut(net, from.given);
  const rises = source === undefined || source.peakDbu < source.maxDbu;
  if (padded) return found;
  const knob = mode.gainDb !== undefined;
  return [...found, { where: socketName(joint.to), out: false, by: joint, peakDbu, maxDbu: mode.maxDbu, knob, rises }];
}

function placeOf({ run }: Line, by: Joint | undefined, last: boolean): string | undefined {
  if (last) return run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
  if (!by) return undefined;
  const step = stepOf(run, by.to.piece);
  return step >= 0 ? `${run.id}/via.${step}` : `${run.id}/takes`;
}

/** A pad has to come before what clips: where that is first in a line, it can be written there. */
function padBefore({ run, joints }: Line, by: Joint | undefined): Fix[] {
  if (run.kind === 'output' || !by || by !== joints[0]) return [];
  return [{ kind: 'add-step', run: run.id, model: 'pad-20', where: 'first' }];
}
