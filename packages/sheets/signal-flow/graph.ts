/**
 * A rig as a graph with ports: who makes sound, what it goes through, where it lands, who is in which mix, and how that comes
 * to ears and to the house. Nothing here knows where anything is drawn.
 */
import {
  arrives,
  type Checked,
  hertz,
  isRadio,
  isTheirs,
  type Joint,
  type JointLead,
  kindsAt,
  type Line,
  list,
  mustNotBe,
  plugName,
  type Socket,
  seatedAt,
  sideOf,
  signalLabel,
  socket,
  wholePath,
} from '#engine';
import type { HouseRun, Mix, Piece, Place, SignalKind } from '#rig';
import { leadListOf } from '../leads/list';
import { unique } from '../shared/draft';
import { forbidden, forbids } from '../shared/grave';
import { carriedBy, wiringOf } from '../shared/leads';

export interface Graph {
  readonly nodes: readonly Node[];
  readonly edges: readonly Edge[];
}

export interface Node {
  readonly id: string;
  readonly kind: 'player' | 'box' | 'mix' | 'listener' | 'house';
  readonly title: string;
  /** Under the title, each cut to the width of the node. */
  readonly under: readonly string[];
  readonly place?: Place;
  /** What goes in, from the top, and what comes out. */
  readonly left: readonly Row[];
  readonly right: readonly Row[];
  /** Something of it is not said yet. */
  readonly unfinished?: boolean;
}

/** A port with what is written at it. */
export interface Row {
  readonly id: string;
  readonly text: string;
  /** Stands behind it, and is never cut. */
  readonly after?: string;
  readonly place?: Place;
  readonly unfinished?: boolean;
}

/** `house` is a lead that goes to the house alone. `inside` is a way within a machine; `none` are two sockets that no lead may or can join. */
export type Way = 'lead' | 'house' | 'digital' | 'radio' | 'inside' | 'speaker' | 'none';

export interface Edge {
  readonly id: string;
  /** Rows. */
  readonly from: End;
  readonly to: End;
  readonly way: Way;
  readonly label: string;
  readonly place?: Place;
  /** What it belongs to, so that what belongs together can be drawn together: a source's id, or a mix's. */
  readonly of: string;
  readonly half: Half;
  /** Only for a joint: two plugs cannot be in one socket. */
  readonly clashes?: boolean;
  readonly joint?: Joint;
  /** Of its lead, in the list of leads. */
  readonly number?: number;
}

export interface End {
  readonly node: string;
  readonly row: string;
}

/** `in`: what comes to our inputs and to the house. `out`: from the mixes to the ears. */
export type Half = 'in' | 'out';

const KIND_WORDS: Readonly<Record<SignalKind, string>> = {
  mic: 'mic',
  instrument: 'instrument',
  line: 'line',
  phones: 'phones',
  speaker: 'speaker',
  digital: 'digital',
  radio: 'radio',
};

/** So many of a mix are named; the others are counted. */
const MOST_NAMED = 8;

export function graphOf(checked: Checked): Graph {
  return new Maker(checked).make();
}

interface Draft extends Omit<Node, 'left' | 'right' | 'under'> {
  under: string[];
  readonly left: Map<string, Row>;
  readonly right: Map<string, Row>;
}

class Maker {
  private readonly nodes = new Map<string, Draft>();
  private readonly edges = new Map<string, Edge>();
  /** Outputs that mixes leave by: they stand on a node of their own, behind the mixes. */
  private readonly leaving = new Set<string>();
  /** The line that ends in an input. */
  private readonly ending = new Map<string, Line>();
  /** The devices that inputs of ours are on. */
  private readonly landing: ReadonlySet<string>;
  private readonly devices: ReadonlySet<string>;
  private readonly houseRuns: ReadonlyMap<string, HouseRun>;
  private readonly leads: ReadonlyMap<Joint, JointLead>;
  private readonly numbers: ReadonlyMap<Joint, number | undefined>;
  private readonly harmful: ReturnType<typeof forbidden>;

  constructor(private readonly checked: Checked) {
    const { rig, network } = checked;
    this.landing = new Set(rig.inputs.map((run) => run.to.piece));
    this.devices = new Set(rig.outputs.map((run) => run.from.piece));
    this.houseRuns = new Map(rig.house.map((run) => [run.piece, run]));
    this.leads = new Map(checked.leads.map((each) => [each.joint, each]));
    this.numbers = new Map(leadListOf(checked).map(({ joint, number }) => [joint, number]));
    this.harmful = forbidden(checked);
    for (const run of rig.outputs) for (const port of run.from.ports) this.leaving.add(`${run.from.piece}.${port}`);
    for (const line of network.lines) if (arrives(line) && line.end && endsAsWritten(line)) this.ending.set(line.end.key, line);
  }

  make(): Graph {
    const { rig, network } = this.checked;
    this.players();
    for (const joint of this.inOrder()) this.join(joint);
    this.notJoined();
    for (const mix of rig.mixes.values()) this.mix(mix);
    this.outputsOfNothing();
    for (const line of network.lines) if (line.run.kind === 'output') this.ears(line);
    this.withoutMix();
    this.houseOwn();
    const rank = new Map([...rig.pieces.keys()].map((id, index) => [id, index]));
    const nodes = [...this.nodes.values()].map(({ left, right, ...node }) => ({
      ...node,
      left: this.sorted(node.id, left, 'input', rank),
      right: this.sorted(node.id, right, 'output', rank),
    }));
    return { nodes, edges: [...this.edges.values()] };
  }

  /** Ports stand as the gear has them; what is no port comes last. */
  private sorted(node: string, rows: ReadonlyMap<string, Row>, direction: 'input' | 'output', rank: ReadonlyMap<string, number>): Row[] {
    const piece = this.checked.rig.pieces.get(node.replace(/^(at|out) /, ''));
    const ports = piece?.model.ports.filter((port) => port.direction === direction).map((port) => port.id) ?? [];
    const at = (row: Row) => {
      if (node === HOUSE) return rank.get(row.id) ?? rank.size;
      const index = ports.indexOf(row.id.replace(/^from /, ''));
      return index < 0 ? ports.length : index;
    };
    return node.startsWith('at ') || node.startsWith('out ') || node === HOUSE
      ? [...rows.values()].sort((a, b) => at(a) - at(b))
      : [...rows.values()];
  }

  // ---- nodes ---------------------------------------------------------------------------------------

  private node(id: string, made: () => Omit<Draft, 'id' | 'left' | 'right'>): Draft {
    let node = this.nodes.get(id);
    if (!node) {
      node = { id, ...made(), left: new Map(), right: new Map() };
      this.nodes.set(id, node);
    }
    return node;
  }

  private edge(edge: Edge): void {
    this.edges.set(edge.id, edge);
  }

  private row(node: Draft, side: 'left' | 'right', row: Row): End {
    if (!node[side].has(row.id)) node[side].set(row.id, row);
    return { node: node.id, row: row.id };
  }

  private players(): void {
    const { rig, network } = this.checked;
    for (const performer of rig.performers.values()) {
      for (const source of rig.sources.values()) if (source.by === performer.id) this.sourceRows(source.id);
    }
    for (const source of rig.sources.values()) {
      if (source.by === undefined || !rig.performers.has(source.by)) this.sourceRows(source.id);
      const piece = rig.pieces.get(source.id);
      const used = piece?.model.ports.some((port) => network.leaving.has(socket(piece, port).key));
      if (used) continue;
      this.row(this.playerOf(source.id), 'right', {
        id: source.id,
        text: source.label,
        after: 'not plugged in',
        place: source.place,
        unfinished: true,
      });
    }
  }

  private playerOf(source: string): Draft {
    const { rig } = this.checked;
    const by = rig.performers.get(rig.sources.get(source)?.by ?? '');
    if (by) return this.node(by.id, () => ({ kind: 'player', title: by.label, under: [], place: by.place }));
    const theirs = rig.pieces.get(source)?.holding?.how === 'theirs';
    return theirs
      ? this.node('from the house', () => ({ kind: 'player', title: 'From the house', under: [] }))
      : this.node('on stage', () => ({ kind: 'player', title: 'On stage', under: [] }));
  }

  private sourceRows(source: string): void {
    const piece = this.checked.rig.pieces.get(source);
    for (const port of piece?.model.ports ?? []) {
      if (piece && port.direction === 'output' && this.checked.network.leaving.has(socket(piece, port).key))
        this.out(socket(piece, port), undefined);
    }
  }

  private boxOf(piece: Piece, leaves: boolean): Draft {
    const { rig } = this.checked;
    const theirs = isTheirs(piece) && !/\bhouse/i.test(piece.label) ? ['the house’s'] : [];
    const both = this.landing.has(piece.id) && this.devices.has(piece.id);
    if (leaves) {
      return this.node(`out ${piece.id}`, () => ({
        kind: 'box',
        title: piece.label,
        under: [...(both ? ['outputs'] : []), ...theirs],
        place: piece.place,
      }));
    }
    const hears = piece.hears && rig.pieces.get(piece.hears.piece);
    const side = hears && piece.hears?.port ? [`hears ${piece.hears.port}`] : [];
    const tuned = piece.onHz !== undefined && piece.model.ports.some((port) => port.direction === 'output' && isRadio(port));
    return this.node(`at ${piece.id}`, () => ({
      kind: 'box',
      title: piece.label,
      under: [...(both ? ['inputs'] : []), ...theirs, ...side, ...(tuned ? [hertz(piece.onHz)] : [])],
      place: piece.place,
    }));
  }

  /** The row of an output. */
  private out(from: Socket, place: Place | undefined): End {
    const { piece, port } = from;
    const source = this.checked.rig.sources.get(piece.id);
    const outputs = piece.model.ports.filter((other) => other.direction === 'output');
    if (source) {
      const text = outputs.length > 1 ? `${source.label} ${port.id}` : source.label;
      return this.row(this.playerOf(source.id), 'right', { id: `${source.id}.${port.id}`, text, place: source.place });
    }
    const leaves = this.leaving.has(from.key);
    const text = outputs.length > 1 || leaves ? port.id : '';
    return this.row(this.boxOf(piece, leaves), 'right', { id: port.id, text, place });
  }

  /** The row of an input: on what signals land, with what lands there. */
  private into(to: Socket, place: Place | undefined): End {
    const { piece, port } = to;
    const { rig, network } = this.checked;
    const line = this.ending.get(to.key);
    if (piece.kind === 'house') {
      const run = this.houseRuns.get(piece.id);
      const node = this.house();
      return this.row(node, 'left', { id: piece.id, text: `${run?.number ?? ''} ${run?.label ?? piece.label}`.trim(), place: run?.place });
    }
    const source = rig.sources.get(piece.id);
    if (source) return this.row(this.playerOf(source.id), 'left', { id: `${source.id}.${port.id}`, text: port.id, place: source.place });
    const inputs = piece.model.ports.filter((other) => other.direction === 'input');
    const bare = inputs.length > 1 ? port.id : '';
    if (line?.run.kind !== 'input') return this.row(this.boxOf(piece, false), 'left', { id: port.id, text: bare, place });
    const kinds = kindsAt(wholePath(network, line));
    const kind = kinds.find((each) => port.modes.some((mode) => mode.kind === each)) ?? kinds[0];
    const signal = [signalLabel(rig, line.signal), line.channel ?? ''].join(' ').trim();
    return this.row(this.boxOf(piece, false), 'left', {
      id: port.id,
      text: `${port.id} ${signal}`.trim(),
      after: kind && KIND_WORDS[kind],
      place: line.run.place,
    });
  }

  private house(): Draft {
    return this.node(HOUSE, () => ({ kind: 'house', title: 'The house’s desk', under: [] }));
  }

  // ---- joints --------------------------------------------------------------------------------------

  /** As they are plugged, line by line; each once. */
  private inOrder(): Joint[] {
    const { network } = this.checked;
    const joints = new Set<Joint>();
    for (const line of network.lines) for (const joint of line.joints) joints.add(joint);
    for (const joint of network.joints) joints.add(joint);
    return [...joints];
  }

  private join(joint: Joint): void {
    const { rig, network } = this.checked;
    const run = joint.runs[0];
    const place = run?.place;
    const lines = network.linesThrough(joint);
    const mix = lines.map((line) => line.signal).find((id) => id !== undefined && rig.mixes.has(id));
    const what = carriedBy(rig, lines);
    const names = `${plugName(joint.from)} to ${plugName(joint.to)}`;
    const plain = wayOf(joint, this.leads.get(joint));
    const harm = forbids(this.harmful, unique([...joint.runs, ...lines.map((line) => line.run)].map(({ id }) => id)));
    const toHouse = plain === 'lead' && lines.length > 0 && lines.every((line) => line.run.kind === 'house');
    const way = harm ? 'none' : toHouse ? 'house' : plain;
    const told = [
      what.length > 0 ? `${list(what)}: ${names}` : names,
      ...(joint.clashes ? ['another plug is in that socket already'] : []),
      ...(harm || mustNotBe(joint) ? ['do not plug in'] : way === 'none' ? ['nothing joins them'] : []),
    ];
    this.edge({
      id: `${sideOf(joint.from)} > ${sideOf(joint.to)}`,
      from: this.out(joint.from, place),
      to: this.into(joint.to, place),
      way,
      label: told.join('; '),
      place,
      of: mix ?? this.madeBy(joint),
      half: mix !== undefined || run?.kind === 'output' ? 'out' : 'in',
      clashes: joint.clashes,
      joint,
      number: this.numbers.get(joint),
    });
  }

  /** The source that a joint's signal is made by; else the gear it starts from. */
  private madeBy(joint: Joint): string {
    const { network } = this.checked;
    const seen = new Set<Joint>();
    let at = joint;
    while (!seen.has(at)) {
      seen.add(at);
      const { piece, port } = at.from;
      if (this.landing.has(piece.id)) break;
      const before = (port.tie?.inputs ?? []).flatMap((input) => network.entering.get(`${piece.id}.${input}`) ?? [])[0];
      if (!before) break;
      at = before;
    }
    return at.from.piece.id;
  }

  /** Inputs and house lines that are written and to which nothing comes. */
  private notJoined(): void {
    const { rig, network } = this.checked;
    for (const run of rig.inputs) {
      const piece = rig.pieces.get(run.to.piece);
      if (!piece) continue;
      for (const id of run.to.ports) {
        const port = piece.model.ports.find((each) => each.id === id && each.direction === 'input');
        if (port && network.entering.has(socket(piece, port).key)) continue;
        const signal = run.takes ? signalLabel(rig, run.takes.id) : '';
        this.row(this.boxOf(piece, false), 'left', {
          id,
          text: `${id} ${signal}`.trim(),
          after: run.takes ? 'not joined' : 'source not known',
          place: run.place,
          unfinished: true,
        });
      }
    }
    for (const run of rig.house) {
      if (run.ownMic || this.nodes.get(HOUSE)?.left.has(run.piece)) continue;
      this.row(this.house(), 'left', {
        id: run.piece,
        text: `${run.number} ${run.label}`.trim(),
        after: run.takes ? 'not joined' : 'source not known',
        place: run.place,
        unfinished: true,
      });
    }
  }

  // ---- mixes and ears ------------------------------------------------------------------------------

  private mix(mix: Mix): void {
    const { rig } = this.checked;
    const runs = rig.outputs.filter((run) => run.carries === mix.id);
    const members = carriedBy(
      rig,
      mix.sends.map(({ source, channel }) => ({ signal: source, channel })),
    );
    const named = members.length > MOST_NAMED ? [...members.slice(0, MOST_NAMED - 1), `${members.length - MOST_NAMED + 1} more`] : members;
    const node = this.node(mix.id, () => ({
      kind: 'mix',
      title: mix.label,
      under: [
        `${mix.stereo ? 'stereo' : 'mono'}: ${named.length > 0 ? list(named) : 'nothing in it yet'}`,
        ...(runs.length === 0 ? ['no output yet'] : []),
      ],
      place: mix.place,
      unfinished: runs.length === 0 || named.length === 0,
    }));
    const fed = new Set<string>();
    for (const run of runs) {
      const piece = rig.pieces.get(run.from.piece);
      if (!piece) continue;
      if (this.nodes.has(`at ${piece.id}`) && !fed.has(piece.id)) {
        fed.add(piece.id);
        this.edge({
          id: `inside ${piece.id} > ${mix.id}`,
          from: this.row(this.boxOf(piece, false), 'right', { id: 'to the mixes', text: 'to the mixes' }),
          to: this.row(node, 'left', { id: 'in', text: '' }),
          way: 'inside',
          label: `${piece.label} makes ${mix.label}`,
          place: mix.place,
          of: mix.id,
          half: 'out',
        });
      }
      run.from.ports.forEach((id, index) => {
        const side = mix.stereo && run.from.ports.length > 1 ? ['left', 'right'][index] : undefined;
        this.leave(mix, node, piece, id, side, run.place);
      });
    }
  }

  private leave(mix: Mix, node: Draft, piece: Piece, id: string, side: string | undefined, place: Place): void {
    const port = piece.model.ports.find((each) => each.id === id && each.direction === 'output');
    if (!port) return;
    const box = this.boxOf(piece, true);
    this.row(box, 'right', { id, text: id, place });
    const edge = `inside ${mix.id} > ${piece.id}.${id}`;
    if (this.edges.has(edge)) return;
    this.edge({
      id: edge,
      from: this.row(node, 'right', { id: 'out', text: '' }),
      to: this.row(box, 'left', { id: `from ${id}`, text: [mix.label, side ?? ''].join(' ').trim(), place }),
      way: 'inside',
      label: `${mix.label} leaves by ${piece.label} ${id}`,
      place,
      of: mix.id,
      half: 'out',
    });
  }

  /** Outputs that are written without a mix. */
  private outputsOfNothing(): void {
    const { rig } = this.checked;
    for (const run of rig.outputs) {
      const piece = rig.pieces.get(run.from.piece);
      if (!piece || rig.mixes.has(run.carries ?? '')) continue;
      for (const id of run.from.ports) {
        const box = this.boxOf(piece, true);
        box.right.delete(id);
        this.row(box, 'right', { id, text: id, after: 'mix not known', place: run.place, unfinished: true });
      }
    }
  }

  /** From where a mix comes out to those who hear it: by a lead of their own, or by the packs that hear the transmitter. */
  private ears(line: Line): void {
    const { rig } = this.checked;
    const mix = rig.mixes.get(line.signal ?? '');
    if (!mix || mix.house) return;
    const air = line.open.find((open) => isRadio(open.port));
    if (air) {
      const side = line.joints.at(-1)?.to.port.id;
      for (const pack of rig.pieces.values()) {
        if (pack.hears?.piece !== air.piece.id || (pack.hears.port !== undefined && pack.hears.port !== side)) continue;
        this.onAir(air, pack, mix);
      }
      return;
    }
    const seats = seatedAt(this.checked.network, line).filter(({ at: { port } }) => port.direction === 'output');
    for (const { at, performer } of seats) this.hear(this.out(at, line.run.place), at, performer.id, mix, line.run.place);
    const [end] = line.open;
    if (!end || seats.length > 0) return;
    // Nothing drives earphones there: as it is written.
    const own = line.joints.flatMap((joint) => joint.to.piece.for);
    const others = new Set(this.checked.network.linesOf(mix.id).flatMap((other) => other.joints.flatMap((joint) => joint.to.piece.for)));
    const listeners = own.length > 0 ? own.filter((id) => mix.for.includes(id)) : mix.for.filter((id) => !others.has(id));
    for (const id of listeners) this.hear(this.out(end, line.run.place), end, id, mix, line.run.place);
  }

  private onAir(air: Socket, pack: Piece, mix: Mix): void {
    const inputs = pack.model.ports.filter((port) => port.direction === 'input');
    const input = inputs.find(isRadio) ?? inputs[0];
    const edge = `${sideOf(air)} ~ ${pack.id}`;
    if (!this.edges.has(edge)) {
      this.edge({
        id: edge,
        from: this.out(air, air.piece.place),
        to: this.row(this.boxOf(pack, false), 'left', { id: input?.id ?? 'air', text: '' }),
        way: 'radio',
        label: `${mix.label}: ${air.piece.label} to ${pack.label}, by radio`,
        place: pack.place,
        of: mix.id,
        half: 'out',
      });
    }
    const outputs = pack.model.ports.filter((port) => port.direction === 'output');
    const output = outputs[0];
    for (const id of pack.for) {
      const from = this.row(this.boxOf(pack, false), 'right', { id: output?.id ?? 'ears', text: '' });
      this.hear(from, output && socket(pack, output), id, mix, pack.place);
    }
  }

  private hear(from: End, end: Socket | undefined, performer: string, mix: Mix, place: Place): void {
    const who = this.checked.rig.performers.get(performer);
    if (!who) return;
    const edge = `${from.node}.${from.row} > ears ${performer}`;
    if (this.edges.has(edge)) return;
    this.edge({
      id: edge,
      from,
      to: this.row(this.listener(performer), 'left', { id: 'ears', text: '' }),
      way: 'lead',
      label: `${end ? plugName(end) : mix.label} to ${who.label}’s ears`,
      place,
      of: mix.id,
      half: 'out',
    });
  }

  private listener(performer: string): Draft {
    const who = this.checked.rig.performers.get(performer);
    return this.node(`ears ${performer}`, () => ({
      kind: 'listener',
      title: who?.label ?? '',
      under: who?.ears ? [who.ears.label] : ['ears'],
      place: who?.place,
    }));
  }

  private withoutMix(): void {
    const { rig } = this.checked;
    const hears = new Set([...rig.mixes.values()].flatMap((mix) => mix.for));
    for (const performer of rig.performers.values()) {
      const id = `ears ${performer.id}`;
      if (this.nodes.has(id)) continue;
      const why = hears.has(performer.id) ? 'no way to the ears yet' : 'no mix yet';
      this.node(id, () => ({ kind: 'listener', title: performer.label, under: [why], place: performer.place, unfinished: true }));
    }
  }

  private houseOwn(): void {
    const own = this.checked.rig.house.filter((run) => run.ownMic).length;
    if (own > 0) this.house().under.push(`${own === 1 ? '1 line' : `${own} lines`} of its own, not ours`);
  }
}

const HOUSE = 'house';

/** Where the port that a line is written for is not there, it ends in the last thing on its way. */
function endsAsWritten({ run, end }: Line): boolean {
  return run.kind !== 'input' || end?.piece.id === run.to.piece;
}

function wayOf(joint: Joint, each: JointLead | undefined): Way {
  const { from, to } = joint;
  if (mustNotBe(joint)) return 'none';
  if (isRadio(from.port) || isRadio(to.port)) return 'radio';
  if (from.port.connector === undefined && to.port.connector === undefined) return 'inside';
  if (!each?.lead) return 'none';
  const wiring = wiringOf(each.lead, each.kind);
  return wiring === 'digital' || wiring === 'speaker' ? wiring : 'lead';
}
