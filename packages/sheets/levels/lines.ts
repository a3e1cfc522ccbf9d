/** The level of each line at the socket where it ends, against what the socket takes: inputs of ours, and the house's. */
import { type Arrival, arrives, dbfsOf, isDigital, isUnstated, type Line, socket, socketName } from '#engine';
import type { HouseRun, InputRun, Model, Piece, Place, Rig, Taken } from '#rig';
import type { Context } from '../shared/context';
import { about } from '../shared/draft';
import { gainFigures } from '../shared/inputs';
import { isForbidden, portOrder, signalWords } from '../shared/path';

/** Levels in dBu, exact; what is not known is not there. */
export interface LevelLine {
  readonly key: string;
  readonly place: Place;
  readonly about: readonly Place[];
  readonly unfinished: boolean;
  /** The gear that it ends in; the house's lines have none. */
  readonly device?: Piece;
  readonly socket: string;
  readonly signal: string;
  /** A lead that must not be made: no figure is given. */
  readonly forbidden: boolean;
  /** It has a level, and nothing in the rig says what it is. */
  readonly unstated: boolean;
  readonly usual?: number;
  readonly peak?: number;
  /** What it gets less for what else is plugged into the same output of the source, in dB. */
  readonly splitLossDb?: number;
  /** The usual level above all the noise there, in dB. */
  readonly snrDb?: number;
  /** All noise at the input at the gain to set, as if it came in with the signal. */
  readonly noise?: number;
  /** Where the input clips at its highest gain and at its lowest. */
  readonly reach?: { readonly low: number; readonly high: number };
  readonly gain?: GainSet;
}

/** As printed on the patch list. */
export interface GainSet {
  /** In dB; nothing where there is no knob. */
  readonly gainDb?: number;
  /** It stands in the rig, and is not computed. */
  readonly written: boolean;
  /** What would suit, where another is written. */
  readonly suitsDb?: number;
  readonly headroomDb: number;
  /** Where the input clips at this gain, in dBu. */
  readonly clip: number;
  /** What the input's meter shows, in dBFS. */
  /** In dBFS; nothing where there is no converter, and so no full scale. */
  readonly meterUsual?: number;
  readonly meterPeak?: number;
}

/** What lands on inputs of ours, in the order of their ports. Digital links are left out: what they carry has its level where it comes in. */
export function inputLines(context: Context): LevelLine[] {
  const { rig } = context.checked;
  return rig.inputs
    .filter((run) => !isLink(rig, run.takes))
    .flatMap((run) => (run.to.ports.length > 0 ? run.to.ports : ['']).map((port, index) => ({ run, port, index, piece: run.to.piece })))
    .sort(portOrder(rig, 'input'))
    .map(({ run, port, index }) => inputLine(context, run, port, index));
}

function inputLine(context: Context, run: InputRun, portId: string, index: number): LevelLine {
  const { checked } = context;
  const { rig } = checked;
  const device = rig.pieces.get(run.to.piece);
  const port = device?.model.ports.find((each) => each.id === portId && each.direction === 'input');
  const line = context.linesOf(run.id).find((each) => each.index === index);
  const arrival = line && checked.levels.of(line);
  const told = levelsOf(context, line, arrival);
  return {
    key: `${device?.name ?? ''}.${portId}`,
    place: run.place,
    about: about(run.place, run.takes?.id, rig.sources.get(run.takes?.id ?? '')?.by),
    unfinished: !device || !port || run.takes === undefined || !arrives(line),
    device,
    socket: port && device ? socketName(socket(device, port)) : `${device?.label ?? 'unknown gear'} ${portId}`.trim(),
    signal: run.takes ? signalWords(rig, run.takes, line) : 'source not known',
    ...told,
    ...(told.forbidden ? {} : { gain: gainSet(run, arrival, device?.model) }),
  };
}

/** The house's lines as they come to its sockets. Its own microphones and what carries no sound of a source have no level here. */
export function houseLevels(context: Context): LevelLine[] {
  const { rig } = context.checked;
  return rig.house.filter(({ takes }) => takes && takes.kind !== 'mix' && !isLink(rig, takes)).map((run) => houseLine(context, run));
}

/** Whether gear is taken by an output that carries numbers alone. */
function isLink(rig: Rig, taken: Taken | undefined): boolean {
  if (taken?.kind !== 'gear') return false;
  const outputs = (rig.pieces.get(taken.id)?.model.ports ?? []).filter(
    ({ direction, id }) => direction === 'output' && (taken.port === undefined || taken.port === id),
  );
  return outputs.every(isDigital);
}

function houseLine(context: Context, run: HouseRun): LevelLine {
  const { checked } = context;
  const [line] = context.linesOf(run.id);
  return {
    key: run.number,
    place: run.place,
    about: about(run.place, run.takes?.id),
    unfinished: !arrives(line),
    socket: `house ${run.number}`,
    signal: run.label || (run.takes ? signalWords(checked.rig, run.takes, line) : ''),
    ...levelsOf(context, line, line && checked.levels.of(line)),
  };
}

type Told = Pick<LevelLine, 'forbidden' | 'unstated' | 'usual' | 'peak' | 'splitLossDb' | 'snrDb' | 'noise' | 'reach'>;

function levelsOf({ checked }: Context, line: Line | undefined, arrival: Arrival | undefined): Told {
  const forbidden = isForbidden(checked.network, line);
  const { mode, typicalDbu, peakDbu } = arrival ?? {};
  if (forbidden || !arrival || !finite(typicalDbu) || !finite(peakDbu))
    return { forbidden, unstated: !forbidden && arrival !== undefined && isUnstated(arrival) };
  const max = mode?.maxDbu;
  const range = mode?.gainDb ?? { low: 0, high: 0 };
  return {
    forbidden,
    unstated: false,
    usual: typicalDbu,
    peak: peakDbu,
    splitLossDb: finite(arrival.splitLossDb) ? Math.max(0, arrival.splitLossDb) : undefined,
    snrDb: arrival.snrDb,
    noise: arrival.noiseDbu,
    reach: max === undefined ? undefined : { low: max - (range.high - range.low), high: max },
  };
}

/** Whether what comes in is made into numbers, so that a meter has a full scale: what has a digital socket, or makes mixes. */
export function hasConverter(model: Model | undefined): boolean {
  return (
    model !== undefined && (model.mixes !== undefined || model.ports.some((port) => port.modes.some(({ kind }) => kind === 'digital')))
  );
}

function gainSet(run: InputRun, arrival: Arrival | undefined, into: Model | undefined): GainSet | undefined {
  const { mode, gain, typicalDbu, peakDbu } = arrival ?? {};
  const { gainDb, headroomDb } = gainFigures(run, arrival);
  if (!gain || mode?.maxDbu === undefined || headroomDb === undefined || !finite(typicalDbu) || !finite(peakDbu)) return undefined;
  const low = mode.gainDb?.low ?? 0;
  const atDb = gainDb ?? low;
  const suits = gainFigures({ ...run, gainDb: undefined }, arrival).gainDb;
  return {
    gainDb,
    written: run.gainDb !== undefined,
    suitsDb: run.gainDb === undefined ? undefined : suits,
    headroomDb,
    clip: mode.maxDbu - (atDb - low),
    ...(hasConverter(into)
      ? { meterUsual: dbfsOf(typicalDbu, mode.maxDbu, low, atDb), meterPeak: dbfsOf(peakDbu, mode.maxDbu, low, atDb) }
      : {}),
  };
}

function finite(value: number | undefined): value is number {
  return value !== undefined && Number.isFinite(value);
}
