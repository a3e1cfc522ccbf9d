/** Gear as data: a model has ports, a port has modes, a mode has figures. Units are in the field names. */
import type { Connector } from './connectors';

export type SignalKind = 'mic' | 'instrument' | 'line' | 'phones' | 'speaker' | 'digital' | 'radio';

/** Where something stands in the text, as a key of the source map: `source:voice`, `input:iface.3/via.0`. */
export type Place = string;

export interface Span {
  readonly low: number;
  readonly high: number;
}

/** One way a port can be used. */
export interface Mode {
  readonly kind: SignalKind;
  /** Of an output: what drives. Of an input: what loads. */
  readonly impedanceOhm?: number;
  /** In series with an output's drive: a piezo element's own. */
  readonly capacitanceF?: number;
  /** In series with an output's drive: a pickup's winding. */
  readonly inductanceH?: number;
  /** The level that just does not clip, at the lowest gain. For a microphone use `maxDbSpl`. */
  readonly maxDbu?: number;
  readonly maxDbSpl?: number;
  /** Of an output: with its limiter on, the highest level that it gives, whatever comes in. */
  readonly limiterDbu?: number;
  /** An output's level while it is played as usual. */
  readonly levelDbu?: number;
  readonly sensitivityVPerPa?: number;
  /** Of earphones: sound level for 1 mW. */
  readonly sensitivityDbSplPerMw?: number;
  readonly gainDb?: Span;
  /** Equivalent input noise. */
  readonly noiseDbu?: number;
  /** Of a microphone: the sound that would give as much as its own noise, A-weighted. */
  readonly selfNoiseDbSpl?: number;
  /** Of an input: from where it clips at its lowest gain down to the noise of its converter, A-weighted. */
  readonly dynamicRangeDb?: number;
  /** A pad that the port can switch in, as a loss: positive. */
  readonly padDb?: number;
  /** Inputs offer phantom power (each by itself, or on a switch shared by the ports of one declaration); outputs need it or are harmed by it. */
  readonly phantom?: 'each' | 'shared' | 'needed' | 'harmful';
  readonly drawsA?: number;
  readonly channels?: number;
  readonly balanced: boolean;
  /** A balanced output that gives all its level into one contact as well, as a winding does; others give half of it. */
  readonly floating: boolean;
}

/** How an output is made from inputs of the same gear. */
export interface Tie {
  /** Port ids. Several only where signals are merged or chosen (a link, a switch). */
  readonly inputs: readonly string[];
  readonly how: 'parallel' | 'transformer' | 'active' | 'switch';
  /** Primary to secondary turns, for a transformer. */
  readonly ratio: number;
  readonly gainDb: number;
  /** Loss of a pad in the path: positive. */
  readonly padDb: number;
  /** No metal path from input to output: always so for a transformer. */
  readonly isolated: boolean;
}

export interface Port {
  readonly id: string;
  readonly direction: 'input' | 'output';
  readonly connector?: Connector;
  readonly modes: readonly Mode[];
  /** Carries a channel of its own (a keyboard's left), where ports not so marked all carry the same signal. */
  readonly separate: boolean;
  /** What comes out here is never meant for the audience. */
  readonly private?: true;
  /** Ports declared together share what is marked shared, a phantom switch above all. */
  readonly bank: number;
  /** The port is a plug at the end of its own lead of this length. */
  readonly tailM?: number;
  readonly tie?: Tie;
  readonly place: Place;
}

export interface Holding {
  /** `spare`: nothing says whose it is. */
  readonly how: 'owned' | 'borrowed' | 'theirs' | 'spare' | 'hire' | 'buy';
  /** It stays in its case until another one fails, whosever it is. */
  readonly spare?: true;
  readonly price?: { readonly amount: number; readonly currency: string };
}

/** How loud the usual and the loudest sound is: SPL at a microphone, dBu at an electrical output. */
export interface Loudness {
  readonly dbSpl?: number;
  readonly dbu?: number;
}

/** `hopping` finds free channels by itself, all the time, and has no frequency to set. */
export interface CarrierFigures {
  readonly kind: 'analogue' | 'digital' | 'hopping';
  /** What it occupies. */
  readonly bandwidthHz?: number;
}

export interface PowerFigures {
  readonly from: string;
  /** How long its batteries last. */
  readonly lifeS?: number;
  readonly cells?: { readonly count: number; readonly kind: string };
  /** At the mains, or what it draws from USB. */
  readonly watts?: number;
}

export interface Model {
  readonly id: string;
  readonly label: string;
  /** Itself first, then what it specialises. */
  readonly lineage: readonly string[];
  readonly ports: readonly Port[];
  /** What the whole unit can supply to microphones. */
  readonly phantomA?: number;
  readonly mixes?: { readonly count: number; readonly width: 'mono' | 'stereo' };
  readonly latencyS?: number;
  /** The sample rates that it can be set to. */
  readonly ratesHz?: readonly number[];
  readonly power?: PowerFigures;
  readonly holding?: Holding;
  readonly typical?: Loudness;
  readonly peak?: Loudness;
  /** The lowest note expected of it. */
  readonly lowestHz?: number;
  /** The highest frequency that its sound needs, overtones and all. */
  readonly highestHz?: number;
  readonly tunesHz?: Span;
  /** From one frequency it can be set to to the next. */
  readonly stepHz?: number;
  /** What it sends, or what it receives. */
  readonly carrier?: CarrierFigures;
  /** A receiver that can pick one side of a stereo transmission. */
  readonly sideSelect: boolean;
  /** A pack or an amplifier that can play what comes in on one side in both ears. */
  readonly monoSwitch: boolean;
  /** Whether it is never meant for the audience, as a click or a talkback; nothing where the model does not say. */
  readonly private?: boolean;
  /** Where its figures come from, in words. */
  readonly origins: readonly string[];
  readonly place: Place;
}
