/** The level at every input: from the sound, the source, its splits and loads; what gain that needs; whether it fits. */
import { type Mode, microphoneDbu, type Piece, type Port, type SignalKind, type Source } from '#rig';
import { cornerHz, highPassLossDb, isBuffered, loadingLossDb, modeFor, type OutputState, ownLoad, solveFrom } from './circuit';
import { boxed, swaps } from './cures';
import { type Finding, type Fix, finding } from './findings';
import { carriesSpeakerLevel, isRadio } from './mating';
import { socketName } from './naming';
import { type Joint, type Line, type Network, socket, stepOf } from './network';
import { freePortsFor, gives48V } from './ports';

/** Where a split's extra loss becomes a finding: common practice, no source. */
const SPLIT_LOSS_LIMIT_DB = 2;
/** Less than this much missing gain is taken from the headroom without a word: common practice, no source. */
const SHORT_LIMIT_DB = 3;
/** How far the loudest moment is above the usual level where nothing says: common practice, no source. */
const USUAL_CREST_DB = 20;
const USUAL_LOWEST_HZ = 80;
/** What the library's pad takes away. */
const PAD_DB = 20;

export interface Gain {
  /** The gain to set, within the port's range, in dB. */
  readonly setDb: number;
  /** What the signal asks for, in dB, whether or not the port has it. */
  readonly wantedDb: number;
  /** Above the loudest peak at `setDb`, in dB; less than nothing clips. */
  readonly headroomDb: number;
  /** By how much even the highest gain is too low, or even the lowest too high, in dB; else 0. */
  readonly shortDb: number;
  readonly hotDb: number;
}

/** A signal as it comes to the input at which a line ends. */
export interface Arrival {
  readonly line: Line;
  readonly joint: Joint;
  readonly source: Source;
  readonly kinds: readonly SignalKind[];
  /** How the input is used. */
  readonly mode?: Mode;
  readonly typicalDbu?: number;
  readonly peakDbu?: number;
  /** Lost into all the loads on the source's own output, and what of that is due to the other legs, in dB. */
  readonly lossDb: number;
  readonly splitLossDb: number;
  readonly gain?: Gain;
}

export interface Levels {
  readonly arrivals: readonly Arrival[];
  readonly findings: readonly Finding[];
  of(line: Line): Arrival | undefined;
  /** On the way: what comes to the input that a joint goes into. */
  at(joint: Joint): Arrival | undefined;
}

/** Solves every source of the rig. Levels are dBu, gains dB. Pure; linear in the number of joints. */
export function levels(net: Network): Levels {
  const findings: Finding[] = [];
  const arrivals: Arrival[] = [];
  const passing = new Map<Joint, Arrival>();
  for (const source of net.rig.sources.values()) {
    const piece = net.rig.pieces.get(source.id);
    if (!piece || net.linesOf(source.id).length === 0) continue;
    const states = new Map<string, OutputState>();
    for (const port of piece.model.ports) {
      const start = socket(piece, port);
      if (port.direction !== 'output' || !net.leaving.has(start.key)) continue;
      const solved = solveFrom(
        net,
        start,
        port.modes.map((mode) => mode.kind),
        port.modes[0]?.impedanceOhm ?? 0,
      );
      for (const [key, state] of solved) states.set(key, state);
      const root = solved.get(start.key);
      if (root) findings.push(...lowEnd(net, source, piece, port, root));
    }
    const seen = new Set<Joint>();
    for (const line of net.linesOf(source.id)) {
      for (const joint of line.joints) {
        if (seen.has(joint)) continue;
        seen.add(joint);
        const arrival = arrive(net, source, piece, line, joint, states);
        if (arrival) passing.set(joint, arrival);
        findings.push(...mismatch(net, source, joint, states, arrival));
      }
      const last = line.joints.at(-1);
      if (!last || last.to.key !== line.end?.key) continue;
      // Lines can share their last plug, behind a switch; each has its own pad.
      const passed = passing.get(last);
      const arrival = passed?.line === line ? passed : arrive(net, source, piece, line, last, states);
      if (!arrival) continue;
      arrivals.push(arrival);
      findings.push(...judge(arrival));
    }
  }
  const byLine = new Map(arrivals.map((arrival) => [arrival.line, arrival]));
  return { arrivals, findings, of: (line) => byLine.get(line), at: (joint) => passing.get(joint) };
}

function arrive(
  net: Network,
  source: Source,
  piece: Piece,
  line: Line,
  joint: Joint,
  states: ReadonlyMap<string, OutputState>,
): Arrival | undefined {
  const state = states.get(joint.from.key);
  if (!state) return undefined;
  const root = rootOf(state);
  const mode = modeFor(joint.to, state.kinds);
  const drive = modeFor(root.socket, mode ? [mode.kind] : state.kinds);
  const loud = loudness(source, piece, drive);
  const ratioDb = 20 * Math.log10(state.ratio);
  // The pad that a run switches in is its last input's.
  const padDb = line.run.kind === 'input' && line.run.pad && joint.to.key === line.end?.key ? (mode?.padDb ?? 0) : 0;
  const typicalDbu = loud && loud.typical + ratioDb - padDb;
  const peakDbu = loud && loud.peak + ratioDb - padDb;
  const driveOhm = drive?.impedanceOhm ?? 0;
  const lossDb = loadingLossDb(driveOhm, root.load);
  return {
    line,
    joint,
    source,
    kinds: state.kinds,
    mode,
    typicalDbu,
    peakDbu,
    lossDb,
    splitLossDb: lossDb - loadingLossDb(driveOhm, aloneLoad(line, states)),
    gain: mode && typicalDbu !== undefined && peakDbu !== undefined ? gainFor(net, mode, typicalDbu, peakDbu) : undefined,
  };
}

function rootOf(state: OutputState): OutputState {
  let root = state;
  while (root.by) root = root.by.upstream;
  return root;
}

/** The load on the source if this line alone were plugged in, in siemens. */
function aloneLoad(line: Line, states: ReadonlyMap<string, OutputState>): number {
  let load = 0;
  for (const joint of line.joints.toReversed()) {
    const state = states.get(joint.from.key);
    const next = line.joints[line.joints.indexOf(joint) + 1];
    const through = next && states.get(next.from.key);
    if (through?.by) {
      const { tie } = through.by;
      if (isBuffered(tie)) load = 0;
      else if (tie.how === 'transformer' && load > 0) {
        load = 1 / (tie.ratio ** 2 * ((through.socket.port.modes[0]?.impedanceOhm ?? 0) + 1 / load));
      }
    }
    load += ownLoad(joint.to, state?.kinds ?? []);
  }
  return load;
}

/** The unloaded output at the usual and at the loudest level, in dBu; undefined where nothing is known. */
function loudness(source: Source, piece: Piece, drive: Mode | undefined): { typical: number; peak: number } | undefined {
  if (!drive) return undefined;
  const typical = source.typical ?? piece.model.typical;
  const peak = source.peak ?? piece.model.peak;
  if (drive.kind === 'mic' && drive.sensitivityVPerPa !== undefined) {
    const typicalSpl = typical?.dbSpl ?? (peak?.dbSpl === undefined ? undefined : peak.dbSpl - USUAL_CREST_DB);
    if (typicalSpl === undefined) return undefined;
    // A source that states how loud it is usually, and no peak, outdoes the model's peak by as much.
    const peakSpl = source.peak?.dbSpl ?? (source.typical ? typicalSpl + USUAL_CREST_DB : (peak?.dbSpl ?? typicalSpl + USUAL_CREST_DB));
    return {
      typical: microphoneDbu(drive.sensitivityVPerPa, typicalSpl),
      peak: microphoneDbu(drive.sensitivityVPerPa, Math.max(peakSpl, typicalSpl)),
    };
  }
  const typicalDbu = source.typical?.dbu ?? drive.levelDbu ?? piece.model.typical?.dbu;
  if (typicalDbu === undefined) return undefined;
  // What it can give at most says less of how it is played than a peak that somebody wrote down.
  const peakDbu = source.peak?.dbu ?? piece.model.peak?.dbu ?? drive.maxDbu ?? typicalDbu + USUAL_CREST_DB;
  return { typical: typicalDbu, peak: Math.max(peakDbu, typicalDbu) };
}

/**
 * The gain for an input, in dB. The input clips at `max` at its lowest gain, and at max - (g - lowest) at gain g.
 * The usual level keeps the rig's headroom below that, the loudest peak its margin; the lower gain of the two is right.
 */
export function gainFor(net: Network, mode: Mode, typicalDbu: number, peakDbu: number): Gain | undefined {
  if (mode.maxDbu === undefined) return undefined;
  const range = mode.gainDb ?? { low: 0, high: 0 };
  const ceiling = mode.maxDbu + range.low;
  const wantedDb = Math.min(ceiling - net.rig.settings.headroomDb - typicalDbu, ceiling - net.rig.settings.marginDb - peakDbu);
  const setDb = Math.max(range.low, Math.min(wantedDb, range.high));
  return {
    setDb,
    wantedDb,
    headroomDb: ceiling - setDb - peakDbu,
    shortDb: Math.max(0, wantedDb - range.high),
    hotDb: Math.max(0, range.low - (ceiling - peakDbu)),
  };
}

// ---- findings ------------------------------------------------------------------------------------

/** A signal of one kind on an input made for another. */
function mismatch(
  net: Network,
  source: Source,
  joint: Joint,
  states: ReadonlyMap<string, OutputState>,
  arrival: Arrival | undefined,
): Finding[] {
  const run = joint.runs[0];
  const kinds = states.get(joint.from.key)?.kinds ?? [];
  if (!run) return [];
  const at = { source: source.label, from: socketName(joint.from), port: socketName(joint.to) };
  const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
  const into = joint.to.port.modes.map((mode) => mode.kind);
  if (carriesSpeakerLevel(joint.from.port) && !into.includes('speaker')) {
    const instead = otherOutput(joint, net);
    const direct = joint.from.piece.kind === 'source' && run.kind !== 'output';
    const fixes: Fix[] = direct && instead !== undefined ? [{ kind: 'rewrite', place: `${run.id}/takes`, with: instead }] : [];
    return [finding('levels/speaker-output', place, { ...at, instead }, { related: [about(source)], fixes })];
  }
  if (into.length === 0 || kinds.length === 0 || isRadio(joint.to.port)) return [];
  if (kinds.some((kind) => into.includes(kind))) return [];
  const kind = kinds[0];
  const gain = arrival?.gain;
  const needs = gain &&
    joint.to.port.modes[0]?.gainDb && {
      wantedDb: gain.wantedDb,
      highDb: joint.to.port.modes[0].gainDb.high,
      shortDb: gain.shortDb,
    };
  const free = freePortsFor(net, joint, kinds);
  const line = net.linesThrough(joint).find((each) => each.run === run);
  const fixes: Fix[] = run.kind === 'input' && run.to.ports.length === 1 ? free.map((port) => ({ kind: 'move', run: run.id, port })) : [];
  if (line && line.end?.key === joint.to.key) fixes.push(...swaps(net, line).slice(0, 2));
  if (kind === 'mic' && (into.includes('line') || into.includes('instrument'))) {
    return [
      finding(
        'levels/mic-on-line',
        place,
        { ...at, needs, free, through: joint.from.piece.kind !== 'source' },
        { related: [about(source)], fixes },
      ),
    ];
  }
  if (kind === 'instrument' && into.includes('mic') && !into.includes('line')) {
    fixes.push(...boxed(net, line, 'last'));
    return [finding('levels/instrument-on-mic', place, { ...at, free }, { related: [about(source)], fixes })];
  }
  if (kind === 'instrument' && into.includes('line')) {
    const drive = modeFor(rootOf(states.get(joint.from.key) as OutputState).socket, ['instrument']);
    const load = modeFor(joint.to, ['line'])?.impedanceOhm;
    if (free.length === 0) fixes.push(...boxed(net, line, 'last'));
    return [
      finding(
        'levels/instrument-on-line',
        place,
        { ...at, loadOhm: load, capacitive: drive?.capacitanceF !== undefined, free },
        { related: [about(source)], fixes },
      ),
    ];
  }
  if (kind === 'line' && into.includes('mic')) {
    const overDb = gain?.hotDb ?? 0;
    const padDb = joint.from.port.tie?.padDb ?? 0;
    // A pad makes of a line what a microphone input can take; the house has pads of its own.
    if (overDb <= 0 && (run.kind === 'house' || padDb > 0)) return [];
    fixes.push({ kind: 'add-step', run: run.id, model: overDb > 0 && overDb <= PAD_DB ? 'pad-20' : 'passive-di', where: 'last' });
    return [finding('levels/line-on-mic', place, { ...at, overDb, free }, { related: [about(source)], fixes })];
  }
  return [];
}

/** Another output of the same piece that is safe to take, by name. */
function otherOutput(joint: Joint, net: Network): string | undefined {
  const port = joint.from.piece.model.ports.find(
    (candidate) =>
      candidate.direction === 'output' && !carriesSpeakerLevel(candidate) && !net.leaving.has(socket(joint.from.piece, candidate).key),
  );
  return port && `${joint.from.piece.name ?? joint.from.piece.label}.${port.id}`;
}

/** Whether the level fits the gain the port has, and the gain written. */
function judge(arrival: Arrival): Finding[] {
  const { line, gain, mode, peakDbu, source } = arrival;
  const { run } = line;
  const findings: Finding[] = [];
  const end = line.end;
  if (!end || run.kind === 'output') return findings;
  const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
  const at = { source: source.label, port: socketName(end) };
  const matches = mode !== undefined && arrival.kinds.includes(mode.kind);
  if (arrival.splitLossDb > SPLIT_LOSS_LIMIT_DB) {
    findings.push(finding('levels/split-loss', place, { ...at, lossDb: arrival.splitLossDb }, { related: [about(source)] }));
  }
  if (!gain || !mode || peakDbu === undefined) return findings;
  if (matches && mode.gainDb && gain.shortDb > SHORT_LIMIT_DB && run.kind === 'input') {
    findings.push(
      finding(
        'levels/gain-short',
        place,
        { ...at, wantedDb: gain.wantedDb, highDb: mode.gainDb.high, shortDb: gain.shortDb },
        { related: [about(source)] },
      ),
    );
  }
  if (matches && gain.hotDb > 0) {
    const padded = run.kind === 'input' && !run.pad && (mode.padDb ?? 0) >= gain.hotDb;
    findings.push(
      finding(
        'levels/too-hot',
        place,
        { ...at, peakDbu, maxDbu: mode.maxDbu ?? 0, overDb: gain.hotDb, padDb: padded ? mode.padDb : undefined },
        {
          related: [about(source)],
          fixes: padded
            ? [{ kind: 'set-pad', run: run.id }]
            : gain.hotDb <= PAD_DB
              ? [{ kind: 'add-step', run: run.id, model: 'pad-20', where: 'last' }]
              : [],
        },
      ),
    );
  }
  if (run.kind === 'input' && run.gainDb !== undefined) findings.push(...writtenGain(run.id, run.gainDb, arrival, at));
  return findings;
}

function writtenGain(run: string, written: number, arrival: Arrival, at: { source: string; port: string }): Finding[] {
  const { gain, mode, peakDbu, source } = arrival;
  if (!gain || !mode || peakDbu === undefined) return [];
  const range = mode.gainDb ?? { low: 0, high: 0 };
  const setDb = Math.max(range.low, Math.floor(gain.setDb));
  // Where even the lowest gain clips, no setting is right; `too-hot` tells.
  const fixes: Fix[] = gain.hotDb > 0 ? [] : [{ kind: 'set-gain', run, gainDb: setDb }];
  const options = { related: [about(source)], fixes };
  if (written < range.low || written > range.high) {
    return [finding('levels/gain-out-of-range', `${run}/gain`, { ...at, written, low: range.low, high: range.high, setDb }, options)];
  }
  const overDb = peakDbu - ((mode.maxDbu ?? 0) - (written - range.low));
  if (overDb > 0)
    return [
      finding(
        'levels/clips',
        `${run}/gain`,
        { ...at, written, overDb, setDb, sparesDb: (mode.maxDbu ?? 0) - (setDb - range.low) - peakDbu },
        options,
      ),
    ];
  return [];
}

/** A piezo's own capacitance against what it is plugged into takes the low notes away. */
function lowEnd(net: Network, source: Source, piece: Piece, port: Port, root: OutputState): Finding[] {
  const drive = port.modes.find((mode) => mode.capacitanceF !== undefined);
  if (drive?.capacitanceF === undefined || root.load === 0) return [];
  const ohm = 1 / root.load;
  const corner = cornerHz(drive.capacitanceF, ohm);
  const lowest = source.lowestHz ?? piece.model.lowestHz ?? USUAL_LOWEST_HZ;
  if (corner <= lowest) return [];
  const joint = net.leaving.get(root.socket.key)?.[0];
  const run = joint?.runs[0];
  if (!joint || !run) return [];
  const step = stepOf(run, joint.to.piece);
  const place = step >= 0 ? `${run.id}/via.${step}` : `${run.id}/takes`;
  const line = net.linesThrough(joint).find((each) => each.run === run);
  const fixes =
    step >= 0
      ? activeInstead(net, joint, place)
      : boxed(net, line, 'first').filter((fix) => fix.kind !== 'add-step' || fix.model === 'active-di');
  return [
    finding(
      'levels/low-end',
      place,
      {
        source: source.label,
        into: joint.to.piece.label,
        loadOhm: ohm,
        cornerHz: corner,
        lowestHz: lowest,
        lossDb: highPassLossDb(corner, lowest),
      },
      { related: [about(source)], fixes },
    ),
  ];
}

/** An active DI in place of what a piezo is plugged into, where one of its lines can give it phantom power. */
function activeInstead(net: Network, joint: Joint, place: string): Fix[] {
  const { piece } = joint.to;
  const powered = net.lines.some((each) => {
    const last = each.joints.at(-1);
    return last?.from.piece === piece && last.to.key === each.end?.key && gives48V(last.to.port);
  });
  if (!powered) return [];
  return [
    piece.kind === 'fresh'
      ? { kind: 'replace-step', step: place, with: 'active-di' }
      : { kind: 'set-model', piece: piece.id, model: 'active-di' },
  ];
}

function about(source: Source): { place: string; says: string } {
  return { place: source.place, says: `${source.label} is made here` };
}
