/** What would cure a finding, as what it does to the rig and not as text. */
import type { Holding, Place } from '#rig';

/** An edit that would cure a finding, as what it does and not as text. Names are as written in the rig. */
export type Fix =
  /** Put a fresh piece of a model into a run, where its signal starts or just before it ends. */
  | { readonly kind: 'add-step'; readonly run: Place; readonly model: string; readonly where: 'first' | 'last' }
  | { readonly kind: 'replace-step'; readonly step: Place; readonly with: string }
  | { readonly kind: 'remove-step'; readonly step: Place }
  /** Put an input or output on another port, or on a pair of them: `3..4`; of the same gear, or of that named. */
  | { readonly kind: 'move'; readonly run: Place; readonly port: string; readonly gear?: string }
  /** Let two runs of the same gear change ports. `ports` are those they have now. */
  | { readonly kind: 'swap'; readonly run: Place; readonly other: Place; readonly ports: readonly [string, string] }
  | { readonly kind: 'set-gain'; readonly run: Place; readonly gainDb: number }
  /** Switch in the pad that the input has. */
  | { readonly kind: 'set-pad'; readonly run: Place }
  /** Say at an input whether its phantom power is on. */
  | { readonly kind: 'set-phantom'; readonly run: Place; readonly to: 'on' | 'off' }
  /** Set what sends to a frequency, in Hz. */
  | { readonly kind: 'set-frequency'; readonly piece: Place; readonly hz: number }
  | { readonly kind: 'set-model'; readonly piece: Place; readonly model: string }
  /** Patch a source into a free port, through fresh pieces if need be. `port` is as written: `iface.3`. */
  | { readonly kind: 'add-input'; readonly source: string; readonly port: string; readonly via?: string; readonly phantom?: 'off' }
  | { readonly kind: 'add-output'; readonly mix: string; readonly port: string; readonly via?: string }
  /** Tell the house of one more line: which a mix comes on, or the other side of a source. `takes` is as written. */
  | { readonly kind: 'add-house'; readonly takes: string; readonly number: number; readonly via?: string }
  | {
      readonly kind: 'add-gear';
      readonly name: string;
      readonly model: string;
      readonly label: string;
      readonly holding?: Holding;
      /** Where it sends, in Hz. */
      readonly onHz?: number;
      /** A performer's name, and the transmitter and side that it hears, as written: `tx.left`. */
      readonly for?: string;
      readonly hears?: string;
    }
  /** Say how a line of the house's goes; nothing where it is to go as it finds its way. */
  | { readonly kind: 'set-via'; readonly run: Place; readonly via?: string }
  /** Give a pack that is there to somebody, to hear a transmitter: `tx.left`. */
  | { readonly kind: 'set-pack'; readonly piece: Place; readonly performer: string; readonly hears: string }
  /** Take a source by another of the models that it may be taken by: that one is written first. */
  | { readonly kind: 'set-way'; readonly source: Place; readonly models: readonly string[] }
  /** Say of a source that it is meant for the audience. */
  | { readonly kind: 'set-privacy'; readonly source: Place; readonly to: 'public' }
  | { readonly kind: 'add-pack'; readonly performer: string; readonly transmitter: string; readonly side?: string }
  | { readonly kind: 'remove-send'; readonly send: Place }
  /** Put a source into a mix, as it is written; at 0 dB where nothing else is said. */
  | { readonly kind: 'add-send'; readonly mix: Place; readonly source: string; readonly levelDb?: number }
  /** Write another level for what a mix has of a source. */
  | { readonly kind: 'set-send'; readonly send: Place; readonly levelDb: number }
  | { readonly kind: 'add-mix'; readonly name: string; readonly performer: string; readonly sends: readonly string[] }
  /** Let somebody hear a mix. */
  | { readonly kind: 'add-listener'; readonly mix: Place; readonly performer: string }
  | { readonly kind: 'set-width'; readonly mix: Place; readonly width: 'mono' | 'stereo' }
  | { readonly kind: 'remove'; readonly statement: Place }
  /** Write one word instead of another: a near match for a name, a unit; nothing where it is to go. */
  | { readonly kind: 'rewrite'; readonly place: Place; readonly with: string }
  /** All of these together. */
  | { readonly kind: 'several'; readonly fixes: readonly Fix[] };
