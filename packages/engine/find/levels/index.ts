/** Everything that is wrong with levels, source by source. */
import { Around } from '../../cure/elsewhere';
import { otherMicrophone } from '../../cure/microphones';
import type { Solution } from '../../solve/circuit';
import { type Levels, type Solved, soundOf } from '../../solve/levels';
import type { Joint, Network } from '../../solve/network';
import type { Code } from '../../words';
import type { Finding } from '../finding';
import { finding } from '../finding';
import { judge } from './gains';
import { mismatch } from './mismatch';
import { loading, lowEnd, topEnd } from './pickups';
import { stages } from './stages';

export function levelFindings(net: Network, levels: Levels): Finding[] {
  const around = new Around(net, levels);
  const look = (solved: Solved) => ofSource(around, solved);
  const found: Finding[] = [];
  for (const solved of levels.solved) for (const one of net.kept.unlessNone('levels', solved, NOTHING_ELSE, look)) found.push(one);
  return found;
}

const NOTHING_ELSE: readonly unknown[] = [];

function ofSource(around: Around, solved: Solved): Finding[] {
  const { net, levels } = around;
  const { source, piece } = solved;
  // Of what comes into gear from elsewhere it is told there.
  const solutions = solved.solutions.filter(({ root }) => root.socket.piece === piece);
  const found = overload(solved, solutions);
  const seen = new Set<Joint>();
  const judged = new Map<Joint, boolean>();
  let mismatches = 0;
  for (const line of net.linesOf(source.id)) {
    const way = stages(net, levels, solved, line, judged);
    let clipped = false;
    for (const joint of line.joints) {
      clipped ||= joint === way.clipsAt;
      if (seen.has(joint)) continue;
      seen.add(joint);
      // What is for earphones is so wherever it goes: it is told once, where it goes first.
      const told = found.some(({ code }) => code === FOR_EARPHONES);
      const wrong = mismatch(around, solved, joint, clipped).filter(({ code }) => code !== FOR_EARPHONES || !told);
      mismatches += wrong.length;
      found.push(...wrong);
    }
    // Of both channels through one box it is told once.
    found.push(...way.findings.filter(({ code, place }) => !found.some((each) => each.code === code && each.place === place)));
    const arrival = levels.of(line);
    if (arrival?.source === source) {
      const atEnd = judge(around, solved, arrival);
      found.push(...(way.clipsAt ? atEnd.filter(({ code }) => !BEHIND_CLIPPING.has(code)) : atEnd));
    }
  }
  // Of a pickup in the wrong socket it is said already that it sounds thin or dull.
  if (!found.some(({ code }) => LOADED.has(code))) found.push(...solutions.flatMap((solution) => lowEnd(net, solved, solution)));
  if (mismatches === 0) found.push(...solutions.flatMap((solution) => topEnd(net, solved, solution)));
  // What loads a pickup makes it faint on its other lines as well: one cause, told where it is.
  if (found.some(({ code }) => LOADED.has(code))) return found.filter(({ code }) => code !== 'levels/split-loss');
  if (mismatches > 0 || found.some(({ code }) => code === 'levels/split-loss')) return found;
  return [...found, ...solutions.flatMap((solution) => loading(net, solved, solution))];
}

const FOR_EARPHONES: Code = 'levels/phones-on-line';

const LOADED: ReadonlySet<Code> = new Set<Code>([
  'levels/low-end',
  'levels/top-end',
  'levels/instrument-on-mic',
  'levels/instrument-on-line',
]);

/** What is said of peaks that have been cut off before: what spares the stage that clips changes it. */
const BEHIND_CLIPPING: ReadonlySet<Code> = new Set<Code>([
  'levels/too-hot',
  'levels/clips',
  'levels/little-headroom',
  'levels/little-room',
]);

/** Sound that is louder than the microphone itself bears. */
function overload({ source, piece }: Solved, solutions: readonly Solution[]): Finding[] {
  const mode = solutions[0]?.root.socket.port.modes.find(({ sensitivityVPerPa }) => sensitivityVPerPa !== undefined);
  const peak = soundOf(source, piece)?.peak;
  if (mode?.maxDbSpl === undefined || peak === undefined || peak <= mode.maxDbSpl) return [];
  return [
    finding(
      'levels/mic-overload',
      source.place,
      { source: source.label, peakDbSpl: peak, maxDbSpl: mode.maxDbSpl, overDb: peak - mode.maxDbSpl },
      { fixes: otherMicrophone(piece, 'dynamic-mic') },
    ),
  ];
}
