/**
 * The first sheet as plain data: what is plugged in where, what leaves, what the house gets, and every lead. It can be sent
 * as JSON and comes back the same. Figures are as they are printed: gains and headroom in whole dB, levels in whole dBu.
 */
import type { Code, Severity } from '#engine';
import type { Place } from '#rig';

/** How many there are that count, by how bad they are; and how many may stand. */
export type Counts = Readonly<Record<Severity | 'allowed', number>>;

/** A finding in words, at the row where it bites. */
export interface Note {
  readonly code: Code;
  readonly severity: Severity;
  readonly place: Place;
  readonly what: string;
  readonly why: string;
  readonly cure: string;
  /** Why it may stand, where the rig says so; then nothing has to be done. */
  readonly allowed?: string;
  /** It is told at another row, which `what` names. */
  readonly see?: true;
}

export interface Row {
  /** The same for the same port, line or lead from one state of the text to the next; unique in its section. */
  readonly key: string;
  /** The statement that the row is made of. */
  readonly place: Place;
  /** All statements that have a part in it, the row's own first. */
  readonly about: readonly Place[];
  /** Something is not said yet, so that the row is not whole. */
  readonly unfinished: boolean;
  readonly findings: readonly Note[];
}

/** `digital` and `speaker` leads are kinds of their own; `stereo` is left, right and a common return. */
export type Wiring = 'balanced' | 'unbalanced' | 'stereo' | 'digital' | 'speaker';

/** A signal that lands on an input of ours. */
export interface InputRow extends Row {
  /** As it is printed on the gear: `Interface 3`. Where a source is not plugged in, it says so. */
  readonly port: string;
  /** As it is written in the rig: `iface.3`. Empty where it is not plugged in. */
  readonly written: string;
  readonly source: string;
  readonly by: string;
  /** Which of its run’s lines it is, from 0. */
  readonly index: number;
  /** The leads on its way, by their numbers: `3, 4`. */
  readonly leads: string;
  /** The house’s lines that get the same: `4`. */
  readonly house: string;
  /** Where it is taken: `Y-lead`, `Bass DI thru`, `direct`. */
  readonly taken: string;
  /** The lead that goes into the port: `XLR lead, balanced`, `XLR female to 6.35 mm TRS jack, balanced`. Empty inside a machine. */
  readonly lead: string;
  /** `10 m`, `2 × 30 m`, `own lead, 5 m`, `length not known`. */
  readonly length: string;
  /** The gain to set, in dB: as written in the rig, else as computed, rounded down. */
  readonly gainDb?: number;
  /** What to set where that is written and the knob does not go there. */
  readonly instead?: number | 'no knob';
  /** Left above the loudest peak at that gain, in dB, rounded down; less than nothing clips. */
  readonly headroomDb?: number;
  /** `on`, `on (shared switch)`, `off`, `needed: none here`, `from the house`, `from another input`; empty where there is none and none is needed. */
  readonly phantom: string;
  /** The usual level at the port, in dBu. */
  readonly levelDbu?: number;
  /** It has a level, and nothing in the rig says what it is. */
  readonly unstated: boolean;
}

/** A side of a mix on an output of ours. */
export interface OutputRow extends Row {
  readonly port: string;
  /** As for inputs. */
  readonly index: number;
  readonly leads: string;
  readonly written: string;
  readonly mix: string;
  /** `mono`, `stereo`, `left`, `right`. */
  readonly width: string;
  /** Who hears it. */
  readonly listeners: string;
  /** `Transmitter left, 863.3 MHz → Ilse's pack`; `earphones` where they go straight in, `direct` where nothing follows. */
  readonly way: string;
}

/** A channel on the house's desk. */
export interface HouseRow extends Row {
  readonly number: string;
  /** The leads on its way, by their numbers. */
  readonly leads: string;
  readonly label: string;
  /** `own mic`, `ours: Lead vocal`, `their own: Handheld`, `our mix: Tracks`. */
  readonly gets: string;
  /** The leg or the piece of gear that their lead goes on: `Y-lead`, `Bass DI thru → House DI`. */
  readonly from: string;
  /** `mic level`, `line level` …: how it comes to the house's socket. */
  readonly signal: string;
  /** `48 V from the house`, `48 V from us`, `48 V needed, from nobody yet`; empty where none is needed. */
  readonly phantom: string;
  /** What our rig does to it: `untouched`, `tapped at Y-lead`, `isolated by Split`, `depends on 48 V from Interface 3`, `brought by us`. */
  readonly touch: string;
  /** `into our Y-lead` where its plug goes into something of ours first; else empty. */
  readonly replugged: string;
  /** How much lower it is at the house's socket while our rig is plugged in, in dB. */
  readonly lossDb?: number;
  readonly weBring: string;
  readonly theyBring: string;
}

/** A lead or an adapter between two sockets. */
export interface LeadRow extends Row {
  /** What runs on it. */
  readonly carries: string;
  readonly from: string;
  /** The plug that goes into the output: `XLR female`. */
  readonly fromEnd: string;
  readonly to: string;
  readonly toEnd: string;
  /** Nothing where no lead joins the two, or none may. */
  readonly wiring?: Wiring;
  /** `balanced, adapter`, `balanced, the house’s`, `nothing joins them`, `do not plug in`. An adapter has ends of two kinds. */
  readonly kind: string;
  readonly length: string;
}

export interface Caution {
  readonly subject: string;
  readonly text: string;
}

export interface PatchList {
  readonly title: string;
  /** What holds for the whole: rate, region, how long they play. */
  readonly facts: readonly string[];
  /** How the gains are reckoned. */
  readonly gainRule: string;
  /** How many of the house's lines are re-plugged for us, and what would make it none. Empty where it has none. */
  readonly houseRule: string;
  /** There is no house, and the sheet does not speak of one. */
  readonly houseless: boolean;
  readonly inputs: readonly InputRow[];
  readonly outputs: readonly OutputRow[];
  readonly house: readonly HouseRow[];
  readonly leads: readonly LeadRow[];
  /** Findings that no row stands for. */
  readonly elsewhere: readonly Note[];
  readonly cautions: readonly Caution[];
  /** How many findings there are of each kind, in rows and elsewhere. */
  readonly counts: Counts;
}
