/** What has changed, in words: one line for each thing that somebody does, or has to know. The same words in every rendering. */
import {
  count,
  decibels,
  hertz,
  type Lengths,
  lengthText,
  list,
  portList,
  type Supply,
  signalLabel,
  type Touching,
  tidy,
  touchShort,
} from '#engine';
import { CONNECTORS, type LeadHad, type Place, type Position, type Rig } from '#rig';
import type { Compared } from './compare';
import type { Changed, Move } from './moves';
import type { Entry, Fields, Kind, Value } from './plain';
import type { Side } from './side';

export const GROUPS = ['people', 'gear', 'plugs', 'set', 'mixes', 'house', 'rig'] as const;
export type Group = (typeof GROUPS)[number];

export interface ChangeLine {
  /** Unique among all lines, and the same for the same change. */
  readonly key: string;
  readonly group: Group;
  /** What it is about, as it is called now, or was: `Interface input 3`. */
  readonly subject: string;
  /** What happens to it: `plug moves`, `new`, `gone`, `gain`. */
  readonly what: string;
  /** Nothing where it was not there, or is not any more. */
  readonly before: string;
  readonly after: string;
  /** Where it stands in the text of each. */
  readonly places: { readonly before?: Place; readonly after?: Place };
  /** Ids of what somebody has to go to, in the new rig or, where it is gone, in the old. */
  readonly at: readonly string[];
}

export function changeLines(compared: Compared): ChangeLine[] {
  return new Lines(compared).all();
}

class Lines {
  private readonly lines: ChangeLine[] = [];
  private readonly before: Side;
  private readonly after: Side;

  constructor(private readonly compared: Compared) {
    this.before = compared.before;
    this.after = compared.after;
  }

  all(): ChangeLine[] {
    const { moves, settings, house } = this.compared;
    for (const { kind, before, after } of moves.renamed) this.renaming(kind, before, after);
    for (const move of moves.moves) this.move(move);
    for (const { before, after, channel, was, is } of settings) {
      const run = this.after.rig.inputs.find(({ id }) => id === after);
      if (!run) continue;
      const port = run.to.ports.length > 1 ? [run.to.ports[channel] ?? ''] : run.to.ports;
      const subject = `${labelOf(this.after.rig, run.to.piece)} input ${portList(port)}`;
      const places = { before, after };
      const at = [run.to.piece];
      // A gain that is written is told as that.
      const written = moves.moves.some(
        (move) => move.what === 'changed' && this.after.places.get(move.after) === after && has(move, 'gainDb'),
      );
      if (was.gainDb !== is.gainDb && !written) {
        const says = (db: number | undefined) => (db === undefined ? 'not known' : decibels(db));
        this.add({
          key: `gain ${after} ${channel}`,
          group: 'set',
          subject,
          what: 'gain to set',
          before: says(was.gainDb),
          after: says(is.gainDb),
          places,
          at,
        });
      }
      if (was.phantom !== is.phantom)
        this.add({
          key: `phantom ${after} ${channel}`,
          group: 'set',
          subject,
          what: '48 V',
          before: SUPPLY[was.phantom],
          after: SUPPLY[is.phantom],
          places,
          at,
        });
    }
    for (const { before, after, was, is } of house) {
      const run = this.after.rig.house.find(({ id }) => id === after);
      const says = (each: Touching | undefined) =>
        each ? [touchShort(each), each.into === undefined ? '' : `their plug goes into our ${each.into}`].filter(Boolean).join('; ') : '';
      if (run)
        this.add({
          key: `touch ${after}`,
          group: 'house',
          subject: houseName(run.number, run.label),
          what: 'what we do to it',
          before: says(was),
          after: says(is),
          places: { before, after },
          at: [run.piece],
        });
    }
    const rank = new Map(GROUPS.map((group, index) => [group, index]));
    return this.lines.toSorted((a, b) => (rank.get(a.group) ?? 0) - (rank.get(b.group) ?? 0));
  }

  private add(line: ChangeLine): void {
    if (line.before !== line.after || line.what === 'new' || line.what === 'gone') this.lines.push(line);
  }

  private renaming(kind: Kind, before: string, after: string): void {
    const [old, anew] = [nameOf(before), nameOf(after)];
    this.add({
      key: `name ${after}`,
      group: groupOf(kind),
      subject: kind === 'model' ? modelLabel(this.after.rig, nameOf(after)) : labelOf(this.after.rig, after),
      what: 'called',
      before: old,
      after: anew,
      places: this.placesOf(before, after),
      at: [after],
    });
  }

  private move(move: Move): void {
    if (move.kind === 'model' && move.what !== 'changed') {
      // A kind of gear comes and goes with the gear of that kind.
      return;
    }
    if (move.kind === 'send' && move.what !== 'changed' && this.isWholeMix(move)) return;
    if (move.what === 'come') this.come(move.kind, move.after, move.fields);
    else if (move.what === 'gone') this.gone(move.kind, move.before, move.fields);
    else this.changed(move);
  }

  /** Whether the mix that it is in has come or gone with it. */
  private isWholeMix(move: Extract<Move, { fields: Fields }>): boolean {
    const mix = String(move.fields.mix);
    return this.compared.moves.moves.some((each) => each.kind === 'mix' && each.what === move.what && keyOf(each) === mix);
  }

  private come(kind: Kind, key: string, fields: Fields): void {
    const { rig } = this.after;
    this.add({
      key: `come ${key}`,
      group: groupOf(kind),
      subject: subjectOf(rig, kind, fields),
      what: 'new',
      before: '',
      after: whole(rig, kind, fields, this.after.plain),
      places: this.placesOf(undefined, key),
      at: standing(kind, key, fields),
    });
  }

  private gone(kind: Kind, key: string, fields: Fields): void {
    const { rig } = this.before;
    this.add({
      key: `gone ${key}`,
      group: groupOf(kind),
      subject: subjectOf(rig, kind, fields),
      what: 'gone',
      before: whole(rig, kind, fields, this.before.plain),
      after: '',
      places: this.placesOf(key, undefined),
      at: standing(kind, key, fields),
    });
  }

  private changed({ kind, before, after, fields }: Extract<Move, { what: 'changed' }>): void {
    const [was, is] = [this.before.plain.get(before) as Entry, this.after.plain.get(after) as Entry];
    const subject = subjectOf(this.after.rig, kind, is.fields);
    const places = this.placesOf(before, after);
    const at = standing(kind, after, is.fields);
    const add = (what: string, from: string, to: string, group = groupOf(kind)) =>
      this.add({ key: `${what} ${before} ${after}`, group, subject, what, before: from, after: to, places, at });
    const left = new Map<string, Changed>(fields.map((each) => [each.field, each]));
    if (left.has('piece') || left.has('ports') || left.has('number')) {
      const says = (side: Side, entry: Entry) => subjectOf(side.rig, kind, entry.fields);
      this.add({
        key: `plug ${before} ${after}`,
        group: groupOf(kind),
        subject: signal(this.after.rig, is.fields) || subject,
        what: kind === 'house' ? 'house line' : 'plugged into',
        before: says(this.before, was),
        after: says(this.after, is),
        places,
        at,
      });
      for (const field of ['piece', 'ports', 'number']) left.delete(field);
    }
    if (kind === 'send' && (left.has('levelDb') || left.has('panPercent'))) {
      add(change(was.fields.levelDb, is.fields.levelDb), sendWords(was.fields), sendWords(is.fields));
      left.delete('levelDb');
      left.delete('panPercent');
    }
    if (kind === 'model') {
      // Without a label it is printed by its name, and that is told already.
      if (left.get('label')?.before === was.fields.name && left.get('label')?.after === is.fields.name) left.delete('label');
      if (left.size === 0) return;
      const what = [...left.keys()].map((field) => WORDS[field] ?? field);
      add('figures of this kind of gear', '', list(what.sort()));
      return;
    }
    for (const { field, before: from, after: to } of left.values()) {
      // Without a label it is printed by its name, and that is told already.
      if (field === 'label' && from === was.fields.name && to === is.fields.name) continue;
      const group = field === 'gainDb' || field === 'pad' || field === 'phantom' ? 'set' : groupOf(kind);
      add(WORDS[field] ?? field, say(this.before.rig, field, from), say(this.after.rig, field, to), group);
    }
  }

  private placesOf(before: string | undefined, after: string | undefined) {
    const was = before === undefined ? undefined : this.before.places.get(before);
    const is = after === undefined ? undefined : this.after.places.get(after);
    return { ...(was ? { before: was } : {}), ...(is ? { after: is } : {}) };
  }
}

function has(move: Extract<Move, { what: 'changed' }>, field: string): boolean {
  return move.fields.some((each) => each.field === field);
}

function keyOf(move: Move): string {
  return move.what === 'gone' ? move.before : move.after;
}

function groupOf(kind: Kind): Group {
  switch (kind) {
    case 'performer':
      return 'people';
    case 'source':
    case 'gear':
      return 'gear';
    case 'input':
    case 'output':
      return 'plugs';
    case 'mix':
    case 'send':
      return 'mixes';
    case 'house':
      return 'house';
    case 'rig':
    case 'model':
      return 'rig';
  }
}

/** What somebody goes to. */
function standing(kind: Kind, key: string, fields: Fields): string[] {
  if (kind === 'house') return [`box:${fields.number}`];
  if (kind === 'input' || kind === 'output') return [String(fields.piece)];
  if (kind === 'mix' || kind === 'send' || kind === 'rig' || kind === 'model') return [];
  return [key];
}

function labelOf(rig: Rig, id: string): string {
  return rig.performers.get(id)?.label ?? (signalLabel(rig, id) || nameOf(id));
}

function nameOf(key: string): string {
  return key.slice(key.indexOf(':') + 1);
}

function houseName(number: string, label: string): string {
  return label === '' ? `house ${number}` : `house ${number}, ${label}`;
}

function subjectOf(rig: Rig, kind: Kind, fields: Fields): string {
  switch (kind) {
    case 'rig':
      return 'the rig';
    case 'input':
    case 'output':
      return `${labelOf(rig, String(fields.piece))} ${kind} ${portList(fields.ports as readonly string[])}`;
    case 'house':
      return houseName(String(fields.number), String(fields.label ?? ''));
    case 'send':
      return `${labelOf(rig, String(fields.mix))}: ${[labelOf(rig, String(fields.source)), fields.channel].filter(Boolean).join(' ')}`;
    default:
      return String(fields.label ?? fields.name);
  }
}

function signal(rig: Rig, fields: Fields): string {
  const taken = fields.takes as { readonly id: string; readonly port?: string } | undefined;
  return taken ? [labelOf(rig, taken.id), taken.port].filter(Boolean).join(' ') : '';
}

/** All that is said of what comes or goes. */
function whole(rig: Rig, kind: Kind, fields: Fields, plain: ReadonlyMap<string, Entry>): string {
  const of = (...names: readonly string[]) =>
    names.flatMap((field) => {
      const said = fields[field];
      const says = said === undefined || (Array.isArray(said) && said.length === 0) ? '' : say(rig, field, said);
      return says === '' ? [] : [LEADING[field] ? `${LEADING[field]} ${says}` : says];
    });
  switch (kind) {
    case 'performer':
      return of('at').join(', ');
    case 'source':
      return of('model', 'by', 'at', 'onHz', 'holding').join(', ');
    case 'gear':
      return of('model', 'for', 'at', 'onHz', 'hears', 'holding').join(', ');
    case 'input':
    case 'output':
      return [
        ...of('takes', 'via', 'gainDb'),
        ...(fields.pad === true ? ['pad'] : []),
        ...(fields.phantom === undefined ? [] : [`48 V ${fields.phantom}`]),
      ].join(', ');
    case 'house':
      return fields.ownMic === true ? 'own mic' : of('takes', 'via').join(', ');
    case 'send':
      return sendWords(fields);
    case 'mix': {
      const key = `mix:${fields.name}`;
      const sends = [...plain.values()].flatMap((entry) =>
        entry.kind === 'send' && entry.fields.mix === key
          ? [`${[labelOf(rig, String(entry.fields.source)), entry.fields.channel].filter(Boolean).join(' ')} ${sendWords(entry.fields)}`]
          : [],
      );
      const whom = fields.house === true ? ['for the house'] : of('for');
      return `${[fields.stereo === true ? 'stereo' : 'mono', ...whom].join(', ')}${sends.length > 0 ? `: ${list(sends)}` : ''}`;
    }
    default:
      return '';
  }
}

const LEADING: Readonly<Record<string, string>> = { by: 'by', at: 'at', onHz: 'on', via: 'via', gainDb: 'gain', for: 'for' };

/** `-3 dB`, `-3 dB, left 20 %`. */
function sendWords({ levelDb, panPercent }: Fields): string {
  const pan = Number(panPercent);
  const side = pan === 0 ? '' : `, ${pan < 0 ? 'left' : 'right'} ${tidy(Math.abs(pan), 0)} %`;
  return `${decibels(Number(levelDb))}${side}`;
}

/** `3 dB up`, `2 dB down`; `side` where the level stays. */
function change(before: Value | undefined, after: Value | undefined): string {
  const by = Number(after) - Number(before);
  if (by === 0) return 'side';
  return `${decibels(Math.abs(by))} ${by > 0 ? 'up' : 'down'}`;
}

const SUPPLY: Readonly<Record<Supply, string>> = {
  on: 'on',
  shared: 'on, by a shared switch',
  off: 'off',
  house: 'from the house',
  elsewhere: 'from another input',
  missing: 'needed, and from nobody',
  none: 'none',
};

/** What each field is called. */
const WORDS: Readonly<Record<string, string>> = {
  label: 'label',
  at: 'place',
  ears: 'earphones',
  model: 'kind',
  for: 'for whom',
  hears: 'hears',
  onHz: 'frequency',
  holding: 'whose it is',
  by: 'who plays it',
  typical: 'usual level',
  peak: 'loudest peak',
  lowestHz: 'lowest note',
  highestHz: 'highest frequency',
  need: 'how much it is needed',
  private: 'for the band alone',
  privateOutputs: 'what of it is for the band alone',
  stereo: 'width',
  house: 'for the house',
  takes: 'takes',
  via: 'goes through',
  gainDb: 'gain',
  pad: 'pad',
  phantom: '48 V',
  ownMic: 'own microphone',
  noHouse: 'house',
  houseAt: 'the house’s stage box',
  houseBox: 'kind of stage box',
  date: 'date',
  venue: 'venue',
  contacts: 'whom to call',
  region: 'region',
  country: 'country',
  licensed: 'licence',
  rateHz: 'sample rate',
  bufferSamples: 'buffer',
  budget: 'budget',
  setS: 'length of the set',
  checkS: 'length of the sound check',
  listeningDbSpl: 'usual level in the ears',
  circuit: 'circuit of the mains',
  stageM: 'stage',
  headroomDb: 'headroom',
  marginDb: 'margin',
  lengthsM: 'lengths of leads',
  leads: 'leads that there are',
  sharedMains: 'mains shared with the house',
  guard: 'distances of frequencies',
  avoid: 'frequencies to avoid',
  scans: 'scans of what is on the air',
  ports: 'sockets and their figures',
  mixes: 'number of mixes',
  latencyS: 'latency',
  power: 'power',
  phantomA: 'phantom power in all',
  tunesHz: 'tuning range',
  ratesHz: 'sample rates',
};

function say(rig: Rig, field: string, value: Value | undefined): string {
  if (value === undefined || value === null) return field === 'gainDb' ? 'not written' : field === 'phantom' ? 'not said' : '';
  const fields = value as Fields;
  switch (field) {
    case 'at':
    case 'houseAt':
      return position(value as unknown as Position, rig.settings);
    case 'for':
      return list((value as readonly string[]).map((id) => labelOf(rig, id)));
    case 'hears':
      return [labelOf(rig, String(fields.piece)), fields.port].filter(Boolean).join(' ');
    case 'by':
      return labelOf(rig, String(value));
    case 'takes':
      return signal(rig, { takes: value });
    case 'via':
      return (value as readonly Fields[]).map((step) => stepWords(rig, step)).join(', ') || 'nothing';
    case 'model':
    case 'ears':
    case 'houseBox':
      return modelLabel(rig, String(value));
    case 'holding':
      return [fields.how, fields.price ? money(fields.price as Fields) : '', fields.spare && fields.how !== 'spare' ? 'spare' : '']
        .filter(Boolean)
        .join(' ');
    case 'budget':
      return money(fields);
    case 'onHz':
    case 'rateHz':
    case 'lowestHz':
    case 'highestHz':
      return hertz(Number(value));
    case 'gainDb':
    case 'headroomDb':
    case 'marginDb':
      return decibels(Number(value));
    case 'listeningDbSpl':
      return decibels(Number(value), 'dB SPL');
    case 'typical':
    case 'peak':
      return fields.dbSpl === undefined ? decibels(Number(fields.dbu), 'dBu') : decibels(Number(fields.dbSpl), 'dB SPL');
    case 'setS':
    case 'checkS':
      return `${tidy(Number(value) / 60, 0)} min`;
    case 'stageM':
      return `${lengthText(Number(fields.width), rig.settings)} by ${lengthText(Number(fields.depth), rig.settings)}`;
    case 'lengthsM':
      return (value as readonly number[]).map((each) => lengthText(each, rig.settings)).join(', ');
    case 'leads':
      return list(
        (value as unknown as readonly LeadHad[]).map(
          (had) =>
            `${had.count} ${[...new Set(had.plugs)].map((plug) => CONNECTORS[plug].label).join(' to ')}, ${lengthText(had.lengthM, rig.settings)}`,
        ),
      );
    case 'contacts':
    case 'privateOutputs':
      return list(value as readonly string[]);
    case 'circuit':
      return `${tidy(Number(fields.currentA), 1)} A at ${tidy(Number(fields.voltageV), 0)} V`;
    case 'avoid':
      return (value as readonly Fields[])
        .map(({ low, high, label }) => `${hertz(Number(low))} to ${hertz(Number(high))}${label === undefined ? '' : ` (${label})`}`)
        .join(', ');
    case 'scans':
      return (value as readonly Fields[])
        .map(({ file, aboveDbm, ranges }) => `${file}: ${count(Number(ranges), 'range')} above ${decibels(Number(aboveDbm), 'dBm')}`)
        .join(', ');
    case 'guard':
      return `carriers ${hertz(Number(fields.carriersHz))}, pairs ${hertz(Number(fields.pairsHz))}, triples ${hertz(Number(fields.triplesHz))}, fifths ${hertz(Number(fields.fifthHz))}`;
    case 'noHouse':
      return value === 'none' ? 'none' : 'loudspeakers of our own';
    case 'stereo':
      return value === true ? 'stereo' : 'mono';
    case 'bufferSamples':
      return count(Number(value), 'sample');
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'object' ? '' : String(value);
}

function stepWords(rig: Rig, { piece, model, port }: Fields): string {
  return [piece === undefined ? modelLabel(rig, String(model)) : labelOf(rig, String(piece)), port].filter(Boolean).join(' ');
}

function modelLabel(rig: Rig, id: string): string {
  for (const piece of rig.pieces.values()) if (piece.model.id === id) return piece.model.label;
  for (const performer of rig.performers.values()) if (performer.ears?.id === id) return performer.ears.label;
  return id;
}

function money({ amount, currency }: Fields): string {
  return `${tidy(Number(amount), 2)} ${currency}`;
}

/** `1 m left, 4.5 m back`, as the players see it, from the middle of the front edge. */
function position({ x, y }: Position, lengths: Lengths): string {
  const far = (m: number) => lengthText(Math.abs(m), lengths, 1);
  const side = /^0 /.test(far(x)) ? 'middle' : `${far(x)} ${x > 0 ? 'left' : 'right'}`;
  return `${side}, ${far(y)} ${y < 0 ? 'to the front' : 'back'}`;
}
