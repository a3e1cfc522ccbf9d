/** Whether what arrives at the end of a line fits the gain that is there, and the gain that is written. */
import type { InputRun } from '#rig';
import { type Around, type Cure, Elsewhere, plugOf } from '../../cure/elsewhere';
import type { Fix } from '../../cure/fix';
import { LOW_LIMIT_DB, MARGIN_TOLERANCE_DB } from '../../cure/gainStands';
import { otherMicrophone } from '../../cure/microphones';
import type { Arrival, Gain, Solved } from '../../solve/levels';
import { carriesSpeakerLevel } from '../../solve/mating';
import { socketName } from '../../solve/naming';
import { type Network, socket } from '../../solve/network';
import { isNeedy } from '../../solve/ports';
import { type Finding, finding } from '../finding';
import { madeHere } from '../related';

/** Where a split's extra loss becomes a finding: common practice, no source. */
const SPLIT_LOSS_LIMIT_DB = 2;
/** Less than this much missing gain is taken from the headroom without a word: common practice, no source. */
const SHORT_LIMIT_DB = 3;
/** Nearer to the noise than this, one hears it between the notes: common practice, no source. */
const HISS_LIMIT_DB = 50;

export function judge(around: Around, solved: Solved, arrival: Arrival): Finding[] {
  const { net } = around;
  const { line, gain, mode, peakDbu, source } = arrival;
  const { run, end } = line;
  if (!end || run.kind === 'output') return [];
  const findings: Finding[] = [];
  const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
  const at = { source: source.label, port: socketName(end) };
  const ids = [source.id];
  const related = [madeHere(source)];
  const matches = mode !== undefined && arrival.kinds.includes(mode.kind);
  if (arrival.splitLossDb > SPLIT_LOSS_LIMIT_DB && !behindLoudspeaker(solved, arrival)) {
    const fixes = activeSplit(net, solved, arrival);
    const figures = { ...at, lossDb: arrival.splitLossDb, cured: fixes.length > 0 };
    findings.push(finding('levels/split-loss', place, figures, { about: ids, related, fixes }));
  }
  if (!gain || !mode || peakDbu === undefined) return findings;
  const short = matches && mode.gainDb !== undefined && gain.shortDb > SHORT_LIMIT_DB && run.kind === 'input';
  if (short && mode.gainDb) {
    const elsewhere = new Elsewhere(around, solved, arrival);
    const cures = { free: elsewhere.moves(), swaps: elsewhere.swaps(), taps: elsewhere.taps() };
    const figures = {
      wantedDb: gain.wantedDb,
      highDb: mode.gainDb.high,
      shortDb: gain.shortDb,
      oneLegDb: arrival.oneLegDb,
      mic: isMicrophone(solved),
    };
    findings.push(
      finding(
        'levels/gain-short',
        place,
        { ...at, ...figures, ...named(cures) },
        { about: ids, related, fixes: [...fixesOf(cures), ...otherMicrophone(solved.piece, 'condenser-mic')] },
      ),
    );
  }
  if (matches && gain.hotDb > 0) {
    const elsewhere = new Elsewhere(around, solved, arrival);
    const padDb = run.kind === 'input' && !run.pad && (mode.padDb ?? 0) >= gain.hotDb ? mode.padDb : undefined;
    const pads = padDb === undefined ? elsewhere.pad() : [];
    const cures = padDb === undefined ? { free: elsewhere.moves(), swaps: elsewhere.swaps(), taps: elsewhere.taps() } : NO_CURES;
    const own: Fix[] = padDb === undefined ? [] : [{ kind: 'set-pad', run: run.id }];
    findings.push(
      finding(
        'levels/too-hot',
        place,
        {
          ...at,
          peakDbu,
          maxDbu: mode.maxDbu ?? 0,
          overDb: gain.hotDb,
          padDb,
          padFits: pads.length > 0,
          knob: mode.gainDb !== undefined,
          mic: isMicrophone(solved),
          ...named(cures),
        },
        { about: ids, related, fixes: [...own, ...fixesOf(cures), ...pads.map(({ fix }) => fix)] },
      ),
    );
  }
  if (
    matches &&
    !short &&
    arrival.snrDb !== undefined &&
    arrival.noiseDbu !== undefined &&
    arrival.snrDb < HISS_LIMIT_DB &&
    run.kind === 'input'
  ) {
    findings.push(
      finding(
        'levels/hiss',
        place,
        { ...at, snrDb: arrival.snrDb, noiseDbu: arrival.noiseDbu, limitDb: HISS_LIMIT_DB, padded: run.pad, mic: isMicrophone(solved) },
        { about: ids, related, fixes: [...quieter(around, run), ...otherMicrophone(solved.piece, 'condenser-mic')] },
      ),
    );
  }
  if (run.kind === 'input' && run.gainDb !== undefined) findings.push(...writtenGain(net, run, run.gainDb, arrival, gain, peakDbu, at));
  return findings;
}

interface Cures {
  readonly free: readonly Cure[];
  readonly swaps: readonly Cure[];
  readonly taps: readonly Cure[];
}

const NO_CURES: Cures = { free: [], swaps: [], taps: [] };

const names = (cures: readonly Cure[]) => cures.map(({ name }) => name);

function named({ free, swaps, taps }: Cures) {
  return { free: names(free), swaps: names(swaps), taps: names(taps) };
}

function fixesOf({ free, swaps, taps }: Cures): Fix[] {
  return [...free, ...taps, ...swaps].map(({ fix }) => fix);
}

function writtenGain(
  net: Network,
  run: InputRun,
  written: number,
  { mode, source }: Arrival,
  gain: Gain,
  peakDbu: number,
  at: { source: string; port: string },
): Finding[] {
  const place = `${run.id}/gain`;
  const range = mode?.gainDb ?? { low: 0, high: 0 };
  const setDb = Math.max(range.low, Math.floor(gain.setDb));
  const fixes: Fix[] =
    range.low === range.high
      ? [{ kind: 'rewrite', place, with: '' }]
      : gain.hotDb > 0
        ? []
        : [{ kind: 'set-gain', run: run.id, gainDb: setDb }];
  const options = { about: [source.id], related: [madeHere(source)], fixes };
  if (written < range.low || written > range.high) {
    return [finding('levels/gain-out-of-range', place, { ...at, written, low: range.low, high: range.high, setDb }, options)];
  }
  // Where even the lowest gain clips, no setting is right; `too-hot` tells.
  if (gain.hotDb > 0) return [];
  const leftDb = (mode?.maxDbu ?? 0) - (written - range.low) - peakDbu;
  if (leftDb < 0) {
    const sparesDb = leftDb + written - setDb;
    return [finding('levels/clips', place, { ...at, written, overDb: -leftDb, setDb, sparesDb }, options)];
  }
  const { marginDb } = net.rig.settings;
  if (leftDb < marginDb - MARGIN_TOLERANCE_DB && setDb < written) {
    return [finding('levels/little-headroom', place, { ...at, written, leftDb, marginDb, setDb }, options)];
  }
  if (written < gain.setDb - LOW_LIMIT_DB) {
    return [finding('levels/gain-low', place, { ...at, written, lowDb: gain.setDb - written, setDb }, options)];
  }
  return [];
}

/** Sound comes in, and not a voltage. */
function isMicrophone({ piece }: Solved): boolean {
  return piece.model.ports.some(({ modes }) => modes.some(({ sensitivityVPerPa }) => sensitivityVPerPa !== undefined));
}

/** Without the pads on the way. */
function quieter({ net }: Around, { id, via }: InputRun): Fix[] {
  return via.flatMap(({ piece }, index): Fix[] => {
    const { kind, model } = net.rig.pieces.get(piece) ?? {};
    return kind === 'fresh' && model?.lineage.includes('pad') ? [{ kind: 'remove-step', step: `${id}/via.${index}` }] : [];
  });
}

/** What a loudspeaker takes is what its amplifier is for; no input beside it is to blame. */
function behindLoudspeaker(solved: Solved, arrival: Arrival): boolean {
  for (let plug = plugOf(solved, arrival); plug; plug = plug.upstream.by?.plug) {
    if (carriesSpeakerLevel(plug.joint.from.port)) return true;
  }
  return false;
}

/** A split with electronics in place of the plain one that the legs part at; not where the house would then depend on our power. */
function activeSplit(net: Network, solved: Solved, arrival: Arrival): Fix[] {
  // It would have to feed the microphone itself.
  if (isNeedy(solved.piece)) return [];
  for (let plug = plugOf(solved, arrival); plug; plug = plug.upstream.by?.plug) {
    const { piece } = plug.joint.from;
    // Only of a small box: a large one can have hundreds of legs.
    if (piece.kind !== 'fresh' || piece.model.ports.length !== 3) continue;
    const outputs = piece.model.ports.filter((port) => port.direction === 'output');
    const plain =
      outputs.length === 2 && outputs.every(({ tie, modes }) => tie !== undefined && tie.how !== 'active' && modes.length === 0);
    if (!plain) continue;
    const legs = outputs.flatMap((port) => net.leaving.get(socket(piece, port).key) ?? []);
    if (legs.some((leg) => net.linesThrough(leg).some(({ run }) => run.kind === 'house'))) return [];
    return [{ kind: 'replace-step', step: piece.id, with: 'active-split' }];
  }
  return [];
}
