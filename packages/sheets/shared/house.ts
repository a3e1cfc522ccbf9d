/** The house's lines: what it gets on each, where its lead goes on, who brings what, and who powers the microphone. */
import {
  arrives,
  type Checked,
  count,
  failuresOf,
  type HouseLine,
  isHarmed,
  isTheirs,
  kindsAt,
  type Line,
  our,
  repluggedOf,
  type Socket,
  type Touching,
  touching,
  touchShort,
  wholePath,
} from '#engine';
import type { HouseRun, Piece, Place, SignalKind } from '#rig';
import { alike } from './alike';
import type { Context } from './context';
import { about, type Draft, distinct, named, unique } from './draft';
import { tenth } from './figures';
import { forbidden } from './grave';
import { UNNUMBERED } from './laid';
import { compareText } from './leads';
import type { HouseRow } from './model';
import { legs, signalWords } from './path';
import { isInComputer } from './power';
import { bySwitch } from './switched';

export function houseRows(context: Context): readonly Draft<HouseRow>[] {
  return context.once('house rows', allRows);
}

function allRows(context: Context): readonly Draft<HouseRow>[] {
  const rows = [...context.checked.rig.house].sort((a, b) => Number(a.number) - Number(b.number) || compareText(a.number, b.number));
  return distinct<HouseRow>(rows.map((run) => houseRow(context, run)));
}

/**
 * Of the house's lines, those that somebody has a plug of ours or of the source's to put in: not its own microphones. One that is
 * not settled yet is among them, so that it is not forgotten.
 */
export function sharedHouseRows(context: Context): readonly Draft<HouseRow>[] {
  return context.once('shared house rows', sharedRows);
}

function sharedRows(context: Context): readonly Draft<HouseRow>[] {
  return houseRows(context).filter(
    ({ from, weBring, replugged, gets, unfinished }) => gets !== 'own mic' && (from || weBring || replugged || unfinished),
  );
}

/** Of these, those that are plugged as the rig is: what anybody is asked to mute, to open and to power. Every sheet has them from here. */
export function touchedHouseRows(context: Context): readonly Draft<HouseRow>[] {
  return context.once('touched house rows', touchedRows);
}

function touchedRows(context: Context): readonly Draft<HouseRow>[] {
  const harmful = forbidden(context.checked);
  return sharedHouseRows(context).filter(({ place }) => !harmful.has(place));
}

function houseRow(context: Context, run: HouseRun): Draft<HouseRow> {
  const { rig, network } = context.checked;
  const line = context.linesOf(run.id)[0];
  const whole = arrives(line);
  const path = whole ? wholePath(network, line) : [];
  const steps = run.via.flatMap((step) => rig.pieces.get(step.piece) ?? []);
  const isMix = run.takes?.kind === 'mix';
  const brought = broughtFor(context, run);
  const takes = run.takes;
  const source = rig.sources.get(takes?.id ?? '');
  return {
    key: run.number,
    ...UNNUMBERED,
    place: run.place,
    about: about(run.place, takes?.id, source?.by, ...named(steps)),
    unfinished: !run.ownMic && (takes === undefined || !whole),
    number: run.number,
    label: run.label,
    gets: getsWords(context, run, line),
    from: run.ownMic ? '' : whole ? legs(path, { device: isMix }) : steps.map((step) => step.label).join(' → '),
    // Nothing comes out of a computer by itself: what it comes as is not settled.
    signal: whole && !isOfComputer(context, run) ? kindWords(context, line, kindsAt(path)) : '',
    phantom: whole ? phantomWords(context, line) : '',
    ...touchFigures(context, run),
    weBring: pieces(brought.filter((piece) => !isTheirs(piece))),
    theyBring: run.ownMic ? 'mic and lead' : pieces(brought.filter(isTheirs)),
  };
}

/** The house's lines that are silent where what is ours has no mains: a receiver's, a playback's. By their statements. */
export function onOurMains({ checked }: Context): ReadonlySet<Place> {
  const mains = failuresOf(checked.network)
    .supplies()
    .find(({ of }) => 'supply' in of && of.supply === 'mains');
  return new Set(mains?.house.map(({ place }) => place));
}

/** All of the house's lines on which nothing comes while our rig is off. */
export function silentWithoutUs(context: Context): ReadonlySet<Place> {
  const ours = context.checked.rig.house.filter((run) => ['dependent', 'brought'].includes(touchedOf(context, run)?.how ?? ''));
  return new Set([...onOurMains(context), ...ours.map(({ place }) => place)]);
}

/** All that stands in a line before the house's socket: the source, and the gear that its signal comes through. */
export function broughtFor(context: Context, run: HouseRun): Piece[] {
  const { rig, network } = context.checked;
  const line = context.linesOf(run.id)[0];
  const path = arrives(line) ? wholePath(network, line) : [];
  const steps = run.via.flatMap((step) => rig.pieces.get(step.piece) ?? []);
  const passed = unique([...path.map((joint) => joint.from.piece), ...steps]).filter((piece) => piece.kind !== 'house');
  // A mix comes out of gear that stays where it is: there is nothing of it to bring to this line.
  return run.takes?.kind === 'mix' ? passed.filter((piece) => piece.id !== path[0]?.from.piece.id) : passed;
}

/** What our rig does to a line; one that plays inside our computer goes silent with it. */
export function touchedOf(context: Context, run: HouseRun): Pick<HouseLine, 'how' | 'replugged'> | undefined {
  return isOfComputer(context, run) ? { how: 'dependent', replugged: false } : context.checked.impact.of(run);
}

function isOfComputer({ checked }: Context, { takes }: HouseRun): boolean {
  const piece = checked.rig.pieces.get(takes?.id ?? '');
  return piece !== undefined && isInComputer(piece);
}

function touchFigures(context: Context, run: HouseRun): Pick<HouseRow, 'touch' | 'replugged' | 'lossDb'> {
  const { checked } = context;
  if (isOfComputer(context, run)) return { touch: 'depends on our computer', replugged: '' };
  const touched = checked.impact.of(run);
  if (!touched) return { touch: '', replugged: '' };
  const told = touching(checked.network, checked.supplies, touched);
  return {
    touch: touchShort({ ...told, reasons: onceEach(told.reasons) }),
    replugged: told.into === undefined ? '' : `into ${our(told.into)}`,
    lossDb: told.lossDb === undefined ? undefined : tenth(told.lossDb),
  };
}

/** A line that goes through two boxes of one name depends on them in the same words. */
function onceEach(reasons: Touching['reasons']): Touching['reasons'] {
  return [
    ...new Map(reasons.map((reason) => [reason.kind === 'phantom' ? reason.from : `${reason.kind} ${reason.piece}`, reason])).values(),
  ];
}

/** What to know of all the lines together: how many are re-plugged for us, and what hangs on them by copper. */
export function houseRule({ impact }: Checked): string {
  const { lines, replugged } = impact;
  if (lines.length === impact.count && lines.every(({ how }) => how === 'brought')) return '';
  const counted = replugged.length > 0 ? `${repluggedOf(replugged.length, impact.count)}.` : 'No line of the house’s is re-plugged for us.';
  const tapped = lines.filter((each) => each.how === 'tapped').length;
  const loaded =
    tapped > 0
      ? ` Our rig hangs by copper on ${count(tapped, 'line')}, and loads ${tapped === 1 ? 'it' : 'them'} whether it is switched on or off.`
      : '';
  return counted + loaded;
}

function getsWords(context: Context, run: HouseRun, line: Line | undefined): string {
  const { rig } = context.checked;
  if (run.ownMic) return 'own mic';
  if (!run.takes) return 'not said';
  const beside = context.houseLinesAt(run.number).flatMap(({ takes }) => takes?.id ?? []);
  const label = bySwitch(context, run, beside) ?? signalWords(rig, run.takes, line);
  if (run.takes.kind === 'mix') return `our mix: ${label}`;
  const piece = rig.pieces.get(run.takes.id);
  return piece && isTheirs(piece) ? `their own: ${label}` : `ours: ${label}`;
}

const KINDS: Readonly<Record<SignalKind, string>> = {
  mic: 'mic level',
  instrument: 'instrument level',
  line: 'line level',
  phones: 'headphone level',
  speaker: 'LOUDSPEAKER level',
  digital: 'digital',
  radio: 'radio',
};

function kindWords({ checked }: Context, line: Line, kinds: readonly SignalKind[]): string {
  const mode = checked.levels.of(line)?.mode;
  const kind = mode && kinds.includes(mode.kind) ? mode.kind : kinds[0];
  return kind ? KINDS[kind] : '';
}

/** Of a line whose microphone the house's phantom power reaches. */
export const HARMED_BY_48_V = 'off: it would harm the microphone';

function phantomWords({ supplies, checked }: Context, line: Line): string {
  const supply = supplies.of(line);
  if (supplies.needed(line)) {
    if (supply === 'on') return '48 V from the house';
    return supply === 'missing' ? '48 V needed, from nobody yet' : `48 V from ${whose(supplies.needyOn(line)?.supplier?.end)}`;
  }
  if (!supplies.passes(line)) return '';
  const beside = checked.network
    .linesOf(line.signal ?? '')
    .find((other) => other.run.kind === 'input' && supplies.of(other) === 'shared' && supplies.passes(other));
  if (beside) return `off; 48 V from ${whose(beside.end)} arrives here`;
  const source = checked.rig.pieces.get(line.signal ?? '');
  return source && isHarmed(source) ? HARMED_BY_48_V : 'off';
}

/** Of an input that gives phantom power: ours, or that of a desk of theirs that we are on. */
function whose(end: Socket | undefined): string {
  return end && isTheirs(end.piece) ? end.piece.label : 'us';
}

/** What each is, for a source; its own name, for gear. */
function pieces(all: readonly Piece[]): string {
  return alike(unique(all).map((piece) => (piece.kind === 'source' ? piece.model.label : piece.label))).join(', ');
}
