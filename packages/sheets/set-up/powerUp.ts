/** Phantom power, and gains to start from: when all is plugged, with ears out. */
import {
  arrives,
  type Checked,
  type Fix,
  isHarmed,
  isTheirs,
  type Line,
  list,
  type Needy,
  portList,
  type Socket,
  socketName,
  statementOf,
  tidy,
  wholePath,
} from '#engine';
import type { Piece, Place, Rig } from '#rig';
import { alike } from '../shared/alike';
import { type Context, grouped } from '../shared/context';
import { unique } from '../shared/draft';
import { forbidden } from '../shared/grave';
import { inputRows, knobOf } from '../shared/inputs';
import { tableRow } from '../shared/tableRow';
import { gainAt } from '../shared/tells';
import type { TableBlock, TableRow } from '../sheet';
import { muteRow, STILL_MUTED } from './mute';
import { stepTable } from './table';

export function phantomTable(context: Context): TableBlock {
  const { checked } = context;
  return stepTable({
    id: 'phantom',
    title: 'Phantom power (48 V), when all is plugged',
    columns: ['Where', 'What to do', 'For'],
    rows: [...never(context), ...muted(context), ...ours(context).map(switchRow), ...missing(context)],
    empty: checked.rig.inputs.length > 0 ? 'Nothing needs phantom power from us: leave all of it off.' : 'Nothing is plugged in yet.',
    remark: 'Ears out, mixes down: it thumps. Wait a few seconds after switching before anything is turned up.',
  });
}

/** What the house powers is on before its lines are heard with our rig off. */
function ours(context: Context): PhantomSwitch[] {
  return phantomSwitches(context).filter(({ theirs }) => !theirs);
}

/** Before anything is switched, if anything is. */
function muted(context: Context): TableRow[] {
  if (ours(context).every(({ harms }) => harms.length > 0)) return [];
  return muteRow(context, (lines) => [lines, STILL_MUTED, 'it thumps in the hall']);
}

/** A source that phantom power would destroy, where a switch of ours that it hangs on is wanted on. */
interface Harm {
  readonly source: Place;
  readonly label: string;
  readonly fixes: readonly Fix[];
}

/** By the key of the input that it comes from. */
function harms({ checked, linesOf }: Context): ReadonlyMap<string, readonly Harm[]> {
  const found = new Map<string, Harm[]>();
  for (const { code, place, about, fixes } of checked.findings) {
    const [source] = code === 'phantom/harmful' ? about.flatMap((id) => checked.rig.sources.get(id) ?? []) : [];
    if (!source) continue;
    for (const { end, signal } of linesOf(statementOf(place))) {
      if (end && signal === source.id && checked.supplies.live.has(end.key))
        found.set(end.key, [...(found.get(end.key) ?? []), { source: source.place, label: source.label, fixes }]);
    }
  }
  return found;
}

/** What it can destroy, first. What a transformer keeps from an input that is on is in no danger there. */
function never(context: Context): TableRow[] {
  const { rig, network, supplies } = context.checked;
  const harmed = harms(context);
  const isSafe = ({ key }: Socket) => supplies.live.has(key) && !harmed.has(key);
  return [...rig.sources.values()].flatMap((source) => {
    const piece = rig.pieces.get(source.id);
    if (!piece || !isHarmed(piece)) return [];
    const all = network.linesOf(source.id).flatMap((line) => line.end ?? []);
    const ends = alike([...new Map(all.filter((end) => !isSafe(end)).map((end) => [end.key, socketName(end)])).values()]);
    if (all.length > 0 && ends.length === 0) return [];
    const where = ends.length > 0 ? list(ends) : 'not plugged in';
    return [tableRow(`never ${source.id}`, [where, 'see that it is off, and stays off', source.label], { place: source.place })];
  });
}

export interface PhantomSwitch {
  readonly key: string;
  /** `Interface 1..4`, `house 7`. */
  readonly where: string;
  readonly theirs: boolean;
  /** Of the house's, by number, where it is at the end of one. */
  readonly line?: string;
  /** One for all of several inputs. */
  readonly shared: boolean;
  readonly needs: readonly string[];
  /** What it would destroy when it is on: it has to stay off as the rig is. */
  readonly harms: readonly Harm[];
  readonly place: Place;
  readonly about: readonly Place[];
}

/** What has to be on: ours, switch by switch, then what the house powers. What is not plugged as the rig is needs none. */
export function phantomSwitches(context: Context): PhantomSwitch[] {
  const { checked } = context;
  const harmed = harms(context);
  const needy = pluggedNeedy(checked);
  const unplugged = new Set(checked.supplies.needy.filter((each) => !needy.includes(each)).map(({ piece }) => piece));
  const groups = new Map<string, { piece: Piece; ports: string[]; shared: boolean; wanted: boolean; needs: Set<Piece>; harms: Harm[] }>();
  for (const { socket, because } of checked.supplies.live.values()) {
    const { piece, port } = socket;
    if (piece.kind === 'house') continue;
    const shared = port.modes.some((mode) => mode.phantom === 'shared');
    const key = shared ? `${piece.id} bank ${port.bank}` : socket.key;
    const group = groups.get(key) ?? { piece, ports: [], shared, wanted: false, needs: new Set(), harms: [] };
    group.ports.push(port.id);
    group.harms.push(...(harmed.get(socket.key) ?? []));
    if (!because || !unplugged.has(because)) group.wanted = true;
    if (because && !unplugged.has(because)) group.needs.add(because);
    groups.set(key, group);
  }
  const wanted = [...groups].filter(([, group]) => group.wanted);
  const ours = wanted.map(([key, { piece, ports, shared, needs, harms }]): PhantomSwitch => {
    const order = piece.model.ports.map(({ id }) => id);
    const sorted = unique(ports).sort((a, b) => order.indexOf(a) - order.indexOf(b));
    const where = `${piece.label} ${portList(sorted)}`;
    const about = unique(harms.map(({ source }) => source));
    return {
      key,
      where,
      theirs: isTheirs(piece),
      shared: shared && sorted.length > 1,
      needs: alike([...needs].map(({ label }) => label)),
      harms,
      place: piece.place,
      about,
    };
  });
  const theirs = needy.flatMap(({ piece, supplier }): PhantomSwitch[] => {
    const run = supplier?.line.run;
    if (run?.kind !== 'house') return [];
    const about = piece.kind === 'fresh' ? [] : [piece.place];
    return [
      {
        key: `${run.id} ${piece.id}`,
        where: `house ${run.number}`,
        theirs: true,
        line: run.number,
        shared: false,
        needs: [piece.label],
        harms: [],
        place: run.place,
        about,
      },
    ];
  });
  const rank = new Map(checked.rig.house.map(({ place }, index) => [place, index]));
  return [...ours, ...theirs.sort((a, b) => (rank.get(a.place) ?? 0) - (rank.get(b.place) ?? 0))];
}

/** What needs it and is plugged into what supplies it. */
function pluggedNeedy(checked: Checked): Needy[] {
  const harmful = forbidden(checked);
  return checked.supplies.needy.filter(({ supplier }) => supplier === undefined || !harmful.has(supplier.line.run.place));
}

function switchRow({ key, where, shared, needs, harms, place, about }: PhantomSwitch): TableRow {
  const what = harms.length > 0 ? doNot(harms) : shared ? 'on: one switch for all of these' : 'on';
  return tableRow(key, [where, what, needs.length > 0 ? list(needs) : 'the rig says so'], { place, about });
}

/** `do not switch on: Ribbon is on this switch, and 48 V can destroy it. First put …, or plug it into input 5`. */
function doNot(harms: readonly Harm[]): string {
  const harmed = new Map(harms.map(({ source, label }) => [source, label]));
  const names = alike([...harmed.values()]);
  const many = harmed.size > 1;
  const fixes = harms.flatMap((harm) => harm.fixes);
  const ports = unique(fixes.flatMap((fix) => (fix.kind === 'move' ? [fix.port] : [])));
  const off = fixes.some((fix) => fix.kind === 'set-phantom' && fix.to === 'off');
  const cures = [
    ...(ports[0] === undefined ? [] : [`plug ${many ? 'them into inputs' : 'it into an input'} on another switch (${portList(ports)})`]),
    `put an isolating transformer into ${many ? 'the lead of each' : 'its lead'}`,
    ...(off ? ['take "phantom on" out of the rig'] : []),
  ];
  return `do not switch on: ${list(names)} ${many ? 'are' : 'is'} on this switch, and 48 V can destroy ${many ? 'them' : 'it'}. First ${cures.join(', or ')}`;
}

function missing({ checked }: Context): TableRow[] {
  return checked.supplies.needy.flatMap(({ piece, suppliers }) =>
    suppliers.length > 0
      ? []
      : [
          tableRow(`missing ${piece.id}`, ['nowhere yet', 'it is needed and comes from nobody', piece.label], {
            place: piece.place.split('/', 1)[0],
            unfinished: true,
          }),
        ],
  );
}

export function gainTable(context: Context): TableBlock {
  const { rig } = context.checked;
  const padded = new Set(rig.inputs.filter(({ pad }) => pad).map(({ place }) => place));
  const all = inputRows(context).filter(({ gainDb }) => gainDb !== undefined);
  const theirs = new Set(rig.inputs.flatMap(({ to, place }) => (isOfTheirs(rig, to.piece) ? place : [])));
  const rows = all.filter(({ place }) => !theirs.has(place));
  // Behind a switch, two sources come to one input, which has one knob: the lower gain suits both.
  const knobs = [...grouped(rows, ({ written, key }) => written || key).values()];
  return stepTable({
    id: 'gains',
    title: 'Gains to start from',
    columns: ['Port', 'Source', { title: 'Gain', unit: 'dB', number: true }, 'Pad'],
    rows: knobs.flatMap((here) => {
      const first = here[0];
      if (!first) return [];
      const { key, place, port } = first;
      const named = new Map(here.map(({ place, source }) => [`${place} ${source}`, source]));
      const sources = alike([...named.values()]);
      const switched = here.every(({ place }) => context.linesOf(place).some((line) => comesBySwitch(context, line)));
      // Two plugs in one socket: which of them it will be, the rig has yet to say.
      const how = switched ? 'by a switch: the lower gain' : 'not settled which';
      const source = named.size > 1 ? `${list(sources)}, ${how}` : first.source;
      const settled = named.size < 2 || switched;
      // The lowest; one that the knob has not got is told with what is set instead.
      const [lowest] = here.toSorted((a, b) => (knobOf(a) ?? 0) - (knobOf(b) ?? 0));
      const written = lowest?.instead === undefined ? '' : ` (written: ${tidy(lowest.gainDb ?? 0, 1)})`;
      const gain = lowest && (written === '' ? lowest.gainDb : `${lowest.instead}${written}`);
      const pad = here.some((row) => padded.has(row.place)) ? 'in' : '';
      return [
        tableRow(key, [port, source, settled ? gain : undefined, pad], {
          name: `${port}: ${list(sources)}`,
          unfinished: !settled,
          place,
          about: unique(here.flatMap(({ about }) => about)),
          tells: here.flatMap(({ place }) => [place, ...gainAt(place)]),
        }),
      ];
    }),
    remark: all.length > rows.length && rows.length > 0 ? THEIR_GAINS : undefined,
    empty: all.length > 0 && rows.length === 0 ? THEIR_GAINS : 'No gain follows from the rig yet.',
  });
}

const THEIR_GAINS = 'What comes in on gear of the house’s has its gain from them.';

function isOfTheirs(rig: Rig, id: string): boolean {
  const piece = rig.pieces.get(id);
  return piece !== undefined && isTheirs(piece);
}

function comesBySwitch({ checked }: Context, line: Line): boolean {
  return arrives(line) && wholePath(checked.network, line).some(({ from }) => from.port.tie?.how === 'switch');
}
