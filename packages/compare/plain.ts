/**
 * A rig as plain data for comparing: every statement is an entry with fields, known by what it is about. Nothing in it depends on where
 * something stands in a file, or on the order of statements.
 */
import type { HouseRun, InputRun, Model, OutputRun, Piece, Place, PortRef, Rig, Taken } from '#rig';

export type Value = string | number | boolean | null | readonly Value[] | { readonly [field: string]: Value };
export type Fields = Readonly<Record<string, Value>>;

export const KINDS = ['rig', 'model', 'performer', 'source', 'gear', 'input', 'house', 'mix', 'send', 'output'] as const;
export type Kind = (typeof KINDS)[number];

export interface Entry {
  readonly kind: Kind;
  readonly fields: Fields;
}

/** By key: `source:voice`, `input:gear:iface.3`, `mix:ilse/source:voice`. Of several with the same, the second is `…~2`, in the order of what is in them. */
export type Plain = ReadonlyMap<string, Entry>;

/** What a rig is as plain data, and where each entry stands in the text. */
export interface Read {
  readonly plain: Plain;
  readonly places: ReadonlyMap<string, Place>;
}

export function plainOf(rig: Rig): Read {
  return keyed(entriesOf(rig));
}

export interface Standing extends Entry {
  readonly place: Place;
}

/** Gives every entry its key. */
export function keyed(entries: readonly Standing[]): Read {
  const groups = new Map<string, Standing[]>();
  for (const entry of entries) {
    const key = contentKey(entry);
    const group = groups.get(key);
    if (group) group.push(entry);
    else groups.set(key, [entry]);
  }
  const plain = new Map<string, Entry>();
  const places = new Map<string, Place>();
  for (const key of [...groups.keys()].sort(byText)) {
    const group = [...(groups.get(key) ?? [])].sort((a, b) => byText(stable(a.fields), stable(b.fields)));
    for (const [index, { kind, fields, place }] of group.entries()) {
      const own = index === 0 ? key : `${key}~${index + 1}`;
      plain.set(own, { kind, fields });
      places.set(own, place);
    }
  }
  return { plain, places };
}

/** What an entry is known by, before those that are alike are told apart. */
function contentKey({ kind, fields }: Entry): string {
  switch (kind) {
    case 'rig':
      return 'rig';
    case 'input':
    case 'output':
      return `${kind}:${fields.piece}.${(fields.ports as readonly string[]).join()}`;
    case 'house':
      return `house:${fields.number}`;
    case 'send':
      return `${fields.mix}/${fields.source}${fields.channel === undefined ? '' : `.${fields.channel}`}`;
    default:
      return `${kind}:${fields.name}`;
  }
}

function entriesOf(rig: Rig): Standing[] {
  const entries: Standing[] = [];
  const add = (kind: Kind, place: Place, fields: Readonly<Record<string, unknown>>) => {
    entries.push({ kind, place, fields: clean(fields) as Fields });
  };
  const { settings } = rig;
  const box = [...rig.pieces.values()].find(({ kind }) => kind === 'house');
  add('rig', 'rig', {
    label: rig.label,
    noHouse: rig.noHouse,
    houseAt: box?.at,
    houseBox: box?.model.id,
    ...settings,
    // Whether the usual rate is written or left out is all the same.
    rateSaid: undefined,
    inFeet: undefined,
    contacts: [...settings.contacts].sort(byText),
    scans: settings.scans.map(({ file, aboveDbm, loud }) => ({ file, aboveDbm, ranges: loud.length, loud: stable(loud) })),
    avoid: settings.avoid.map(({ low, high, label }) => ({ low, high, label })).sort((a, b) => byText(stable(a), stable(b))),
  });
  const models = new Map<string, Model>();
  const use = (model: Model | undefined) => {
    if (model) models.set(stable(figuresOf(model)), model);
    return model?.id;
  };
  for (const { name, label, at, ears, place } of rig.performers.values()) add('performer', place, { name, label, at, ears: use(ears) });
  for (const source of rig.sources.values()) {
    const { id: _, place, ...rest } = source;
    // Whether it is said that it is private, or sounds so, is all the same.
    add('source', place, { ...rest, soundsPrivate: undefined, ...pieceFields(rig.pieces.get(source.id), use) });
  }
  for (const piece of rig.pieces.values()) {
    use(piece.model);
    if (piece.kind !== 'gear') continue;
    const { name, label, hears } = piece;
    const heard = hears && { piece: hears.piece, port: hears.port };
    add('gear', piece.place, { name, label, for: [...piece.for].sort(), hears: heard, ...pieceFields(piece, use) });
  }
  for (const { id, name, label, stereo, house, sends, place, ...mix } of rig.mixes.values()) {
    add('mix', place, { name, label, stereo, house, for: [...mix.for].sort() });
    for (const { source, channel, levelDb, panPercent, place: at } of sends)
      add('send', at, { mix: id, source, channel, levelDb, panPercent });
  }
  for (const run of rig.inputs) add('input', run.place, inputFields(rig, run));
  for (const run of rig.house) add('house', run.place, houseFields(rig, run));
  for (const run of rig.outputs) add('output', run.place, outputFields(rig, run));
  for (const model of models.values()) add('model', model.place, figuresOf(model));
  return entries;
}

function pieceFields(piece: Piece | undefined, use: (model: Model) => string | undefined) {
  return piece && { model: use(piece.model), at: piece.at, holding: piece.holding, onHz: piece.onHz };
}

function figuresOf({ id, place: _, ...model }: Model): Readonly<Record<string, unknown>> {
  // Its own name is the first of its line.
  return { name: id, ...model, lineage: model.lineage.slice(1), ports: model.ports.map(({ place: __, ...port }) => port) };
}

function inputFields(rig: Rig, { to, takes, via, gainDb, pad, phantom }: InputRun) {
  return { piece: to.piece, ports: to.ports, takes: takenFields(takes), via: steps(rig, via), gainDb, pad, phantom };
}

function houseFields(rig: Rig, { number, label, ownMic, takes, via }: HouseRun) {
  return { number, label, ownMic, takes: takenFields(takes), via: steps(rig, via) };
}

function outputFields(rig: Rig, { from, carries, via }: OutputRun) {
  return { piece: from.piece, ports: from.ports, takes: carries === undefined ? undefined : { id: carries }, via: steps(rig, via) };
}

function takenFields(takes: Taken | undefined) {
  return takes && { id: takes.id, port: takes.port };
}

/** A fresh piece is what it is; gear is itself. */
function steps(rig: Rig, via: readonly PortRef[]) {
  return via.map(({ piece, port }) => {
    const fresh = rig.pieces.get(piece);
    return fresh?.kind === 'fresh' ? { model: fresh.model.id, port } : { piece, port };
  });
}

/** An entry with other names for what it names. */
export function withNames({ kind, fields }: Entry, name: (id: string) => string): Entry {
  const of = (value: Value | undefined) => (typeof value === 'string' ? name(value) : value);
  const within = (value: Value | undefined, field: string) => {
    if (value === undefined || value === null || typeof value !== 'object' || Array.isArray(value)) return value;
    const inside = value as Fields;
    return inside[field] === undefined ? value : { ...inside, [field]: of(inside[field]) };
  };
  /** A model goes by its bare name wherever it is meant. */
  const ofModel = (value: Value | undefined) => (typeof value === 'string' ? name(`model:${value}`).slice('model:'.length) : value);
  const changed: Record<string, Value | undefined> = { ...fields };
  if (kind === 'gear' || kind === 'source') changed.model = ofModel(fields.model);
  if (kind === 'performer') changed.ears = ofModel(fields.ears);
  if (kind === 'rig') changed.houseBox = ofModel(fields.houseBox);
  if (kind === 'model') changed.lineage = (fields.lineage as readonly Value[]).map((each) => ofModel(each) as Value);
  if (kind === 'gear' || kind === 'mix') changed.for = (fields.for as readonly string[]).map(name).sort();
  if (kind === 'gear') changed.hears = within(fields.hears, 'piece') as Value | undefined;
  if (kind === 'source') changed.by = of(fields.by);
  if (kind === 'send') {
    changed.mix = of(fields.mix);
    changed.source = of(fields.source);
  }
  if (kind === 'input' || kind === 'output') changed.piece = of(fields.piece);
  if (kind === 'input' || kind === 'output' || kind === 'house') {
    changed.takes = within(fields.takes, 'id') as Value | undefined;
    changed.via = (fields.via as readonly Value[]).map((step): Value => {
      const { model, ...rest } = step as Fields;
      return (model === undefined ? within(step, 'piece') : { ...rest, model: ofModel(model) }) as Value;
    });
  }
  return { kind, fields: clean(changed) as Fields };
}

/** Without what is not said, so that it is the same when it comes back from JSON. */
function clean(value: unknown): Value {
  if (Array.isArray(value)) return value.map(clean);
  if (value === null || typeof value !== 'object') return value as Value;
  return Object.fromEntries(Object.entries(value).flatMap(([field, each]) => (each === undefined ? [] : [[field, clean(each)] as const])));
}

/** As JSON with the fields in order: the same for the same data. */
export function stable(value: unknown): string {
  return JSON.stringify(value, (_, each) =>
    each !== null && typeof each === 'object' && !Array.isArray(each)
      ? Object.fromEntries(Object.entries(each).sort(([a], [b]) => byText(a, b)))
      : each,
  );
}

export function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
