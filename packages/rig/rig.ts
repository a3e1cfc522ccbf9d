/** A rig as plain data: what lowering makes of the text and all the engine ever sees. */
import type { Connector } from './connectors';
import type { Holding, Loudness, Model, Place, Span } from './model';
import { toBase } from './units';

export interface Position {
  /** Metres to the performers' left of the middle of the stage's front edge. */
  readonly x: number;
  /** Metres away from the audience. */
  readonly y: number;
}

/** Figures for the whole, with the defaults common practice gives (no published source). */
export interface Settings {
  readonly region?: string;
  readonly country?: string;
  readonly licensed: boolean;
  /** The evening, in the words of who wrote it. */
  readonly date?: string;
  readonly venue?: string;
  /** Whom to ask, and how. */
  readonly contacts: readonly string[];
  readonly rateHz: number;
  /** The rig says so; else it is what is usual. */
  readonly rateSaid?: true;
  readonly bufferSamples?: number;
  readonly budget?: { readonly amount: number; readonly currency: string };
  readonly setS?: number;
  /** How long the sound check takes. */
  readonly checkS?: number;
  /** How loud they listen as a rule, at the ear. */
  readonly listeningDbSpl?: number;
  /** One circuit of the mains, as its fuse has it. */
  readonly circuit?: { readonly currentA: number; readonly voltageV: number };
  readonly stageM?: { readonly width: number; readonly depth: number };
  /** Room kept above the usual level. */
  readonly headroomDb: number;
  /** Room kept above the loudest peak: people play louder at the show than at line check. */
  readonly marginDb: number;
  /** Lead lengths that can be had, in rising order. */
  readonly lengthsM: readonly number[];
  /** Leads that there are; nothing where the rig does not say. */
  readonly leads?: readonly LeadHad[];
  /** Lengths are written in feet, and are to be told so. */
  readonly inFeet?: true;
  /** One mains distribution feeds us and the house. */
  readonly sharedMains: boolean;
  readonly guard: Guard;
  /** Ranges that no carrier of ours is to touch, in Hz. */
  readonly avoid: readonly Avoided[];
  /** What was on the air in the room. */
  readonly scans: readonly AirScan[];
}

/** So many leads of one kind that there are. */
export interface LeadHad {
  readonly count: number;
  /** The plug that goes into an output, then the one that goes into an input. */
  readonly plugs: readonly [Connector, Connector];
  readonly lengthM: number;
}

/**
 * How far apart carriers and products are to be, in Hz, from centre to centre. Products are of the third order, of two carriers (2a - b)
 * and of three (a + b - c), and of the fifth, of two (3a - 2b).
 */
export interface Guard {
  /** Between two carriers; never less than what their bandwidths take. */
  readonly carriersHz: number;
  readonly pairsHz: number;
  readonly triplesHz: number;
  readonly fifthHz: number;
}

export interface Avoided extends Span {
  /** Why, in the words of who wrote it. */
  readonly label?: string;
  readonly place: Place;
}

export interface ScanPoint {
  readonly hz: number;
  readonly dbm: number;
}

/** Where a scan is louder than a level, and how loud it is there at most. */
export interface LoudSpan extends Span {
  readonly mostDbm: number;
}

/** A scan of what is on the air, and from which level on that is kept clear of. */
export interface AirScan {
  /** Its file, as it is written in the rig. */
  readonly file: string;
  readonly aboveDbm: number;
  /** In rising order; at least one. */
  readonly points: readonly ScanPoint[];
  /** In rising order, each apart from the next. */
  readonly loud: readonly LoudSpan[];
  readonly place: Place;
}

/** What of a scan is kept clear of where nothing is said, in dBm: common practice, no source. */
export const USUAL_ABOVE_DBM = -85;

/** For analogue sets some 200 kHz wide: common practice, no source. */
export const DEFAULT_GUARD: Guard = { carriersHz: 300e3, pairsHz: 100e3, triplesHz: 50e3, fifthHz: 50e3 };

export const DEFAULT_SETTINGS: Settings = {
  licensed: false,
  contacts: [],
  rateHz: 48_000,
  headroomDb: 20,
  marginDb: 6,
  lengthsM: [1, 2, 3, 5, 6, 10, 15, 20, 30],
  sharedMains: false,
  guard: DEFAULT_GUARD,
  avoid: [],
  scans: [],
};

/** Lead lengths that can be had where lengths are in feet, in metres: common practice, no source. */
export const LENGTHS_IN_FEET: readonly number[] = [3, 5, 10, 15, 20, 25, 30, 50, 100].map((feet) => toBase(feet, 'ft'));

/** One real thing with ports. A source is one, and so is each fresh piece in a `via`, and each line of the house's. */
export interface Piece {
  readonly id: string;
  readonly kind: 'gear' | 'source' | 'fresh' | 'house';
  /** As written; fresh pieces have none. */
  readonly name?: string;
  readonly label: string;
  readonly model: Model;
  readonly at?: Position;
  readonly holding?: Holding;
  /** Performer ids. */
  readonly for: readonly string[];
  readonly onHz?: number;
  /** The rig says a frequency, and it cannot be read as one: that is told in the text. */
  readonly onUnread?: boolean;
  /** The transmitter a receiver listens to, and its side. */
  readonly hears?: PortRef;
  readonly place: Place;
}

/**
 * The id of a fresh piece, from the place of its step. A run of several channels goes through one for each, where the
 * model has no room for them all: `via passive-di` on two ports is two DIs.
 */
export function freshId(step: Place, channel: number): string {
  return channel === 0 ? step : `${step}#${channel}`;
}

/** How many fresh pieces of a model a run of so many channels goes through. The plug of stereo earphones has room for two. */
export function freshCount({ ports }: Model, channels: number): number {
  let room = 0;
  for (const { direction, modes } of ports) if (direction === 'input') room += Math.max(1, ...modes.map((mode) => mode.channels ?? 1));
  return room < channels ? channels : 1;
}

export interface PortRef {
  /** A piece's id. */
  readonly piece: string;
  readonly port?: string;
  readonly place: Place;
}

export interface Performer {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly at?: Position;
  readonly ears?: Model;
  readonly place: Place;
}

export interface Source {
  /** Also the id of its piece. */
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly by?: string;
  readonly typical?: Loudness;
  readonly peak?: Loudness;
  readonly lowestHz?: number;
  readonly highestHz?: number;
  readonly need: 'must' | 'should' | 'could';
  /** What it may be taken by instead of its piece's model, in the order in which they are written. */
  readonly instead?: readonly Model[];
  /** Never meant for the audience: all of it, or what comes by some of its outputs. */
  readonly private: boolean;
  readonly privateOutputs?: readonly string[];
  /** Nothing says that it is private; its name sounds like it. */
  readonly soundsPrivate?: true;
  readonly place: Place;
}

/** Whether there is something in it that is never meant for the audience: in all of a source, or in what comes by one of its outputs. */
export function isPrivate({ private: some, privateOutputs }: Source, output?: string): boolean {
  return some && (output === undefined || privateOutputs === undefined || privateOutputs.includes(output));
}

/** What a run takes its signal from. `port` names a channel or an output of it. */
export interface Taken {
  readonly kind: 'source' | 'mix' | 'gear';
  readonly id: string;
  readonly port?: string;
  readonly place: Place;
}

export interface InputRun {
  readonly kind: 'input';
  readonly id: string;
  readonly to: { readonly piece: string; readonly ports: readonly string[]; readonly place: Place };
  readonly takes?: Taken;
  readonly via: readonly PortRef[];
  readonly gainDb?: number;
  readonly pad: boolean;
  /** Phantom power at this input, where the rig says so itself; otherwise it follows from what is plugged in. */
  readonly phantom?: 'on' | 'off';
  readonly place: Place;
}

export interface HouseRun {
  readonly kind: 'house';
  readonly id: string;
  readonly number: string;
  readonly label: string;
  /** The piece that stands for this line's socket. */
  readonly piece: string;
  readonly ownMic: boolean;
  readonly takes?: Taken;
  readonly via: readonly PortRef[];
  readonly place: Place;
}

export interface OutputRun {
  readonly kind: 'output';
  readonly id: string;
  readonly from: { readonly piece: string; readonly ports: readonly string[]; readonly place: Place };
  readonly carries?: string;
  readonly via: readonly PortRef[];
  readonly place: Place;
}

export type Run = InputRun | HouseRun | OutputRun;

export interface Send {
  readonly source: string;
  readonly channel?: string;
  readonly levelDb: number;
  /** -100 is fully left, 100 fully right. */
  readonly panPercent: number;
  readonly place: Place;
}

export interface Mix {
  readonly id: string;
  readonly name: string;
  readonly label: string;
  readonly stereo: boolean;
  /** Performer ids. */
  readonly for: readonly string[];
  readonly house: boolean;
  readonly sends: readonly Send[];
  readonly place: Place;
}

/** A night of a band whose rig is in another file. */
export interface Night {
  /** What that rig is called. */
  readonly of: string;
  /** Who and what is left out, and what is replaced, by what they are called. */
  readonly without: readonly string[];
  readonly instead: readonly string[];
}

export interface Rig {
  readonly label?: string;
  readonly night?: Night;
  readonly settings: Settings;
  readonly pieces: ReadonlyMap<string, Piece>;
  readonly performers: ReadonlyMap<string, Performer>;
  readonly sources: ReadonlyMap<string, Source>;
  readonly mixes: ReadonlyMap<string, Mix>;
  readonly inputs: readonly InputRun[];
  readonly house: readonly HouseRun[];
  /** No house but us: `none` has no loudspeakers either, `ours` has loudspeakers of our own. Nothing where there is one, or nobody says. */
  readonly noHouse?: 'none' | 'ours';
  readonly outputs: readonly OutputRun[];
  readonly place: Place;
}
