/** Mixes that clip where they leave, and mixes that are too hot for what they go into. */
import type { Mix } from '#rig';
import type { Fix } from '../../cure/fix';
import { type Bus, type Buses, type Contribution, type MixLevels, type Passing, summed } from '../../solve/buses';
import { signalLabel, socketName } from '../../solve/naming';
import { type Network, type Socket, stepOf } from '../../solve/network';
import { BESIDE } from '../../words/beside';
import { type Finding, finding } from '../finding';
import { LOUD_DB } from '.';

/** A sum of peaks is an estimate, and less than this over full scale is not worth a word: common practice, no source. */
const CLIP_LIMIT_DB = 1;
/** As much as this is turned down at the first soundcheck without a word: common practice, no source. */
const HOT_LIMIT_DB = 3;
/** So many of the loudest are named. */
const NAMED = 3;

export function hotMixes(net: Network, buses: Buses): Finding[] {
  // A send that is too loud by itself has been told.
  const judged = buses.all.filter(({ mix }) => mix.sends.every(({ levelDb }) => levelDb <= LOUD_DB));
  return judged.flatMap((each) => [...clips(net, each), ...tooHot(net, buses, each)]);
}

function clips(net: Network, { mix, sides }: MixLevels): Finding[] {
  let worst: Bus | undefined;
  for (const side of sides) if (side.level && !(worst?.level && worst.level.peak >= side.level.peak)) worst = side;
  const overDb = worst?.level?.peak ?? 0;
  if (!worst || overDb <= CLIP_LIMIT_DB || once(net, worst.from) <= CLIP_LIMIT_DB) return [];
  const loudest = named(net, worst.from);
  const downDb = whole(overDb);
  return [
    finding(
      'mixes/clips',
      mix.place,
      { mix: mix.label, side: worst.side, overDb, loudest, others: distinct(worst.from).length - loudest.length, downDb },
      { fixes: turnedDown(mix, downDb) },
    ),
  ];
}

/** The peak of a sum once the inputs that clip are set right, which is told at each of them: its margin below full scale. */
function once({ rig }: Network, from: readonly Contribution[]): number {
  const { marginDb } = rig.settings;
  return summed(from.map((each) => (each.cutDb > 0 ? { ...each, peak: each.peak - marginDb } : each)))?.peak ?? 0;
}

/** Somewhere on the way of a mix that bears so much and no more: what drives a lead, or what it goes into. */
interface Stage {
  readonly at: Socket;
  readonly out: boolean;
  readonly peakDbu: number;
  readonly maxDbu: number;
  readonly passing: Passing;
}

function stagesOf(passing: Passing | undefined): Stage[] {
  if (!passing) return [];
  const { joint, mode, peak, out } = passing;
  return [
    ...(out ? [{ at: joint.from, out: true, ...out, passing }] : []),
    ...(mode?.maxDbu === undefined || mode.kind === 'phones'
      ? []
      : [{ at: joint.to, out: false, peakDbu: peak, maxDbu: mode.maxDbu, passing }]),
  ];
}

function tooHot(net: Network, buses: Buses, { mix }: MixLevels): Finding[] {
  const findings: Finding[] = [];
  const judged = new Map<string, { stage: Stage; overDb: number; place: string }>();
  for (const line of net.linesOf(mix.id)) {
    const { run } = line;
    // What one stage is over, the stages behind it are told of only where they are over by more.
    let told = HOT_LIMIT_DB;
    for (const joint of line.joints) {
      for (const stage of stagesOf(buses.at(joint))) {
        const overDb = stage.peakDbu - stage.maxDbu;
        if (overDb <= told) continue;
        told = overDb;
        const { piece } = stage.at;
        const step = stepOf(run, piece);
        const place = step >= 0 ? `${run.id}/via.${step}` : run.kind === 'house' ? `${run.id}/takes` : `${run.id}/port`;
        const key = `${piece.id} ${stage.out}`;
        const there = judged.get(key);
        if (!there || overDb > there.overDb) judged.set(key, { stage, overDb, place: there?.place ?? place });
      }
    }
  }
  for (const { stage, overDb, place } of judged.values()) {
    // What the output cuts off has to be given up before anything behind it gets quieter.
    const downDb = whole(overDb + stage.passing.leaving.cutDb);
    const { peakDbu, maxDbu, out } = stage;
    findings.push(
      finding(
        'mixes/too-hot',
        place,
        { mix: mix.label, port: socketName(stage.at), out, peakDbu, maxDbu, overDb, downDb },
        { related: [{ place: mix.place, says: BESIDE.theMix(mix.label) }], fixes: turnedDown(mix, downDb) },
      ),
    );
  }
  return findings;
}

/** Up to a whole dB, but not for the sake of a hair. */
function whole(db: number): number {
  return Math.ceil(db - 0.05);
}

function distinct(from: readonly Contribution[]): readonly Contribution[] {
  return from.filter(({ send }, index) => from.findIndex((other) => other.send.source === send.source) === index);
}

function named(net: Network, from: readonly Contribution[]): string[] {
  return distinct(from)
    .slice(0, NAMED)
    .map(({ send }) => signalLabel(net.rig, send.source));
}

/** All sends by as much, so that the mix stays what it is. */
function turnedDown(mix: Mix, downDb: number): Fix[] {
  const fixes = mix.sends.map((send): Fix => ({ kind: 'set-send', send: send.place, levelDb: send.levelDb - downDb }));
  return [{ kind: 'several', fixes }];
}
