/** Every lead of a rig: its two ends, what runs on it, its length; and the sum of them to pack. */
import {
  type Checked,
  endLabel,
  isTheirs,
  type Joint,
  type JointLead,
  type Lead,
  type LeadEnd,
  type Lengths,
  type Line,
  lengthText,
  mustNotBe,
  plugName,
  signalLabel,
} from '#engine';
import { CONNECTORS, type Performer, type Rig, type Settings, type SignalKind } from '#rig';
import { alike } from './alike';
import { type Draft, distinct, unique } from './draft';
import { earsOf, extensionKind, isExtension } from './extensionLead';
import { leadLength, stock } from './figures';
import type { LeadRow, Wiring } from './model';

export const NO_LENGTH = 'length not known';
export const DO_NOT_PLUG_IN = 'do not plug in';
const DIGITAL: ReadonlySet<string> = new Set(['usb', 'optical', 'coaxial', 'bnc']);

export interface LeadDraft {
  readonly joint: Joint;
  readonly reckoned: JointLead;
  /** The house's own lead: between two things of theirs, or into something of theirs on a line of the house's alone that we do not bring. */
  readonly theirs: boolean;
  /** It makes earphones’ own lead longer: its end B is a socket for their plug. */
  readonly lengthens?: boolean;
  /** What runs on it, by name: `Kick`, `Electronic kit left`. */
  readonly signals: readonly string[];
  readonly row: Draft<LeadRow>;
  /** What of it is to be packed: nothing where it is the gear's own, or the house's. */
  readonly pack: readonly Packed[];
}

/** So many leads of one kind and length. `lengthM` is in metres, undefined where it does not follow from the rig. */
export interface Packed {
  readonly count: number;
  readonly kind: string;
  /** Its two plugs are of different kinds: a lead made for it, or a plain lead with an adapter. */
  readonly adapting: boolean;
  /** The plug into the output, then the one into the input; nothing of what makes another lead longer. */
  readonly plugs?: readonly [LeadEnd, LeadEnd];
  readonly lengthM?: number;
}

/** The leads of joints, in the order given. A joint inside a machine or by radio has none; one that nothing joins is told. */
export function leadRows(checked: Checked, order: readonly Joint[]): LeadDraft[] {
  const all = new Map(checked.leads.map((each) => [each.joint, each]));
  const drafts = order.flatMap((joint) => {
    const each = all.get(joint);
    const plugged = joint.from.port.connector !== undefined || joint.to.port.connector !== undefined;
    return each && (each.lead || plugged) ? [draft(checked, each)] : [];
  });
  const rows = distinct<LeadRow>(drafts.map((each) => each.row));
  return drafts.map((each, index) => ({ ...each, row: rows[index] ?? each.row }));
}

/** What lines carry, each signal once: `Keys left`, `2 × Guitar`. */
export function carriedBy(rig: Rig, lines: readonly Pick<Line, 'signal' | 'channel'>[]): string[] {
  const signals = new Map(lines.map((line) => [`${line.signal} ${line.channel ?? ''}`, line]));
  return alike(
    [...signals.values()].map(({ signal, channel }) => [signalLabel(rig, signal), channel ?? ''].join(' ').trim()).filter(Boolean),
  );
}

function draft(checked: Checked, each: JointLead): LeadDraft {
  const { rig, network } = checked;
  const { joint, lead } = each;
  const lines = network.linesThrough(joint);
  const runs = unique([...joint.runs.map((run) => run.id), ...lines.map((line) => line.run.id)]);
  const wiring = lead && !mustNotBe(joint) ? wiringOf(lead, each.kind) : undefined;
  const theirs = isTheirLead(checked, each);
  const signals = carriedBy(rig, lines);
  // An extension lead is the lead to what it makes longer.
  const longer = joint.to.piece.kind === 'fresh' && isExtension(joint.to.piece.model);
  const listener = longer ? listenerOf(rig, joint) : undefined;
  const into = joint.to.piece.model.ports.find(({ direction }) => direction === 'output')?.connector;
  const row: Draft<LeadRow> = {
    key: `${joint.from.piece.name ?? joint.from.piece.label}.${joint.from.port.id}>${joint.to.piece.name ?? joint.to.piece.label}.${joint.to.port.id}`,
    place: runs[0] ?? 'rig',
    about: runs,
    unfinished: wiring !== undefined && each.lengthM === undefined && each.ownM === undefined,
    carries: signals.join(', '),
    from: plugName(joint.from),
    fromEnd: lead && wiring ? endLabel(lead.ends[0]) : '',
    to: listener ? earsOf(listener) : plugName(joint.to),
    toEnd: longer && into ? `${CONNECTORS[into].label} socket` : lead && wiring ? endLabel(lead.ends[1]) : '',
    wiring,
    kind: longer && wiring ? `${wiring}, extension` : kindWords(each, wiring, theirs),
    length: wiring ? lengthWords(each, rig.settings) : '',
  };
  if (!lead || !wiring || theirs || (each.ownM !== undefined && each.lengthM === undefined))
    return { joint, reckoned: each, theirs, signals, row, pack: [] };
  const pack = packed(lead, wiring, each.lengthM, rig.settings);
  if (!longer) return { joint, reckoned: each, theirs, signals, row, pack };
  const made = { kind: extensionKind(row.fromEnd, row.toEnd), adapting: false, plugs: undefined };
  const lengthened = pack.map((part, index) => (index === 0 ? { ...part, ...made } : part));
  // Where the earphones are written, their plug is the end of a lead of its own.
  const lengthens = !checked.leads.some(({ joint: next }) => next.from.piece === joint.to.piece);
  return { joint, reckoned: each, theirs, lengthens, signals, row, pack: lengthened };
}

/** Whose ears a run ends at, where it is for one person alone. */
function listenerOf(rig: Rig, { runs }: Joint): Performer | undefined {
  const all = unique(runs.flatMap((run) => (run.kind === 'output' ? (rig.mixes.get(run.carries ?? '')?.for ?? []) : [])));
  return all.length === 1 ? rig.performers.get(all[0] ?? '') : undefined;
}

/** A plug of theirs that goes into our gear first is still on their lead. A tail of ours, and what makes it longer, is ours. */
function isTheirLead({ impact }: Checked, { joint, ownM }: JointLead): boolean {
  const { from, to, runs } = joint;
  if (isTheirs(from.piece) && isTheirs(to.piece)) return true;
  if (!isTheirs(to.piece) || ownM !== undefined) return false;
  return runs.every((run) => run.kind === 'house' && impact.of(run)?.how !== 'brought');
}

/** Beyond the longest that can be had, several are joined: one with the two plugs, and plain ones to make it longer. */
function packed(lead: Lead, wiring: Wiring, lengthM: number | undefined, settings: Settings): Packed[] {
  const { count, eachM } = lengthM === undefined ? { count: 1, eachM: undefined } : stock(lengthM, settings);
  const { adapting } = lead;
  const made = { kind: leadKind(lead, wiring), adapting, plugs: lead.ends, lengthM: eachM };
  if (!adapting || count === 1) return [{ ...made, count }];
  const end = lead.ends.find(({ connector }) => connector === 'xlr') ?? lead.ends[0];
  const plain = leadKind({ ...lead, ends: [end, end], adapting: false }, wiring);
  return [
    { ...made, count: 1 },
    { kind: plain, adapting: false, plugs: [end, end], lengthM: eachM, count: count - 1 },
  ];
}

function kindWords({ joint, lead }: JointLead, wiring: Wiring | undefined, theirs: boolean): string {
  if (mustNotBe(joint)) return DO_NOT_PLUG_IN;
  if (!lead || !wiring) return 'nothing joins them';
  return [wiring, lead.adapting ? 'adapter' : '', theirs ? 'the house’s' : ''].filter(Boolean).join(', ');
}

/** `10 m`, `own lead, 5 m`, `own lead, 3 m, and 5 m more`. */
export function lengthWords(each: JointLead, settings: Settings): string {
  const more = each.lengthM === undefined ? undefined : leadLength(each.lengthM, settings);
  if (each.ownM === undefined) return more ?? NO_LENGTH;
  const own = lengthText(each.ownM, settings);
  return more === undefined ? `own lead, ${own}` : `own lead, ${own}, and ${more} more`;
}

/** `XLR`, `6.35 mm TRS jack to XLR male`. */
export function plugsWords({ ends: [from, to] }: Lead): string {
  return from.connector === to.connector ? CONNECTORS[from.connector].label : `${endLabel(from)} to ${endLabel(to)}`;
}

/** `XLR lead, balanced`; `XLR female to 6.35 mm TRS jack, balanced`. */
export function leadKind(lead: Lead, wiring: Wiring): string {
  const [from, to] = lead.ends;
  const plugs = from.connector === to.connector ? `${plugsWords(lead)} lead` : plugsWords(lead);
  return wiring === 'digital' ? plugs : `${plugs}, ${wiring}`;
}

export function wiringOf(lead: Lead, kind: SignalKind | undefined): Wiring {
  if (lead.ends.some((end) => DIGITAL.has(CONNECTORS[end.connector].family))) return 'digital';
  if (kind === 'speaker') return 'speaker';
  if (kind === 'phones') return 'stereo';
  return lead.balanced ? 'balanced' : 'unbalanced';
}

/** How many of each kind and length to pack: by kind, then by length, what has no length last. */
export function totals(drafts: readonly Pick<LeadDraft, 'pack'>[]): (Packed & { readonly key: string })[] {
  const found = new Map<string, Packed & { count: number }>();
  for (const each of drafts.flatMap(({ pack }) => pack)) {
    const key = `${each.kind} ${each.lengthM ?? ''}`;
    const there = found.get(key);
    if (there) there.count += each.count;
    else found.set(key, { ...each });
  }
  return [...found]
    .sort(([, a], [, b]) => compareText(a.kind, b.kind) || (a.lengthM ?? Infinity) - (b.lengthM ?? Infinity) || 0)
    .map(([key, total]) => ({ ...total, key }));
}

export function stockWords(lengthM: number | undefined, lengths: Lengths): string {
  return lengthM === undefined ? NO_LENGTH : lengthText(lengthM, lengths);
}

/** By code unit, so that it is the same on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
