/**
 * Every line that a plan can write for a source: an output of it, a way, and a block of inputs to land on; each tried with the engine.
 *
 * Ways of one box are tried where the plain one leaves something to be wished for, ways of two where one box does not do. So a plan is the
 * best of those with the least that stands in a line.
 */
import { type Finding, floorLength, mates, placed, samePlace, statementOf, stockLength } from '#engine';
import { freshId, type HouseRun, type InputRun, type Model, type Piece, type Port, type PortRef, type Position, type Rig } from '#rig';
import { isBetter } from './aims';
import type { Block } from './devices';
import { isBox, type Offer, type Stock, type Unit } from './stock';
import type { Trials, Verdict, Without } from './trial';
import type { WantedSource } from './wanted';

/** A box on the way. `leg` is which of its legs our line takes, where they are not alike. */
export interface Through {
  readonly stock: Stock;
  readonly leg?: number;
}

export interface Way {
  /** Which of the ways to take the source: 0 is as it is written. */
  readonly model: number;
  /** The output taken, where there are several of one signal. */
  readonly takes?: string;
  readonly steps: readonly Through[];
}

export interface LineChoice {
  readonly id: number;
  readonly wanted: WantedSource;
  readonly way: Way;
  /** Nothing where our line is written already and only the house's is wanted. */
  readonly block?: Block;
  /** How many inputs it takes. */
  readonly width: number;
  /** A line of its own for each channel, as each goes through a box of its own. */
  readonly apart: boolean;
  /** What the house puts at the end of its own lines. */
  readonly theirs?: Offer;
  /** Our line says that phantom power stays off: the house gives it. */
  readonly off: boolean;
  /** For which state of the phantom switch that it shares this holds. */
  readonly state: 'on' | 'off' | 'any';
  readonly verdict: Verdict;
}

/** Why a source cannot go to a block. */
export interface Refusal {
  readonly wanted: WantedSource;
  readonly block: Block;
  readonly way: Way;
  readonly verdict: Verdict;
}

export interface Lines {
  readonly choices: readonly LineChoice[];
  readonly refusals: readonly Refusal[];
}

/** More than one output's worth of ways for one source is no help. */
const MOST_CHOICES = 400;

export function uses(choice: Pick<LineChoice, 'way' | 'width' | 'apart'>, stock: Stock): number {
  const count = choice.way.steps.filter((step) => step.stock === stock).length;
  return count * (choice.apart || stock.units.length >= choice.width ? choice.width : 1);
}

/** The models that a source may be taken by, the written one first. */
export function modelsOf({ source, piece }: WantedSource): readonly Model[] {
  return [piece.model, ...(source.instead ?? [])];
}

/** How many channels of its own a source has, one at least. */
function widthOf(wanted: WantedSource, way: Pick<Way, 'model'>): number {
  const ports = modelsOf(wanted)[way.model]?.ports ?? [];
  return Math.max(1, ports.filter(({ direction, separate }) => direction === 'output' && separate).length);
}

/** The widths of lines that sources may have. */
export function widthsOf(wanted: readonly WantedSource[]): number[] {
  return [...new Set(wanted.flatMap((each) => modelsOf(each).map((_, model) => widthOf(each, { model }))))];
}

/** Whether a line is written otherwise than it was. */
type IsChange = (choice: LineChoice) => boolean;

export class LineFinder {
  private readonly choices: LineChoice[] = [];
  private readonly refusals: Refusal[] = [];
  private readonly verdicts = new Map<string, Verdict>();
  private readonly refused = new Map<string, Verdict>();
  private readonly needy = new Set<string>();
  private readonly boxes: readonly Through[];
  private readonly theirs: readonly Offer[];

  constructor(
    private readonly rig: Rig,
    private readonly blocks: readonly Block[],
    stocks: readonly Stock[],
    offers: readonly Offer[],
    private readonly trials: Trials,
    private readonly isChange: IsChange,
  ) {
    // The cheapest first: what does no better than they is then not tried.
    this.boxes = stocks
      .flatMap((stock) => {
        const unit = stock.units[0];
        if (!unit || !isBox(unit) || stock.offer?.how === 'theirs') return [];
        return unit.legs.length === 1 ? [{ stock }] : unit.legs.map((_, leg) => ({ stock, leg }));
      })
      .sort((one, other) => one.stock.cents - other.stock.cents);
    this.theirs = offers.filter(({ how, model }) => {
      const unit = stocks.find((stock) => stock.offer?.model === model)?.units[0];
      return how === 'theirs' && unit !== undefined && isBox(unit);
    });
  }

  /** `between` is waited for before each source. */
  async all(wanted: readonly WantedSource[], between: (done: number) => Promise<void>): Promise<Lines> {
    for (const [index, each] of wanted.entries()) {
      await between(index);
      if (each.houseOnly) this.housesWay(each);
      else this.of(each);
    }
    return { choices: this.choices, refusals: this.refusals };
  }

  private of(wanted: WantedSource): void {
    const found: LineChoice[] = [];
    for (const [index, model] of modelsOf(wanted).entries()) {
      const outputs = model.ports.filter(({ direction }) => direction === 'output');
      const channels = outputs.filter(({ separate }) => separate);
      const takes = channels.length > 0 ? [undefined] : outputs.length === 1 ? [undefined] : outputs.map(({ id }) => id);
      const width = Math.max(1, channels.length);
      for (const block of this.blocks) {
        if (!block.stretches.some(({ length }) => length >= width)) continue;
        const here = takes.flatMap((taken) => {
          const output = outputs.find(({ id }) => id === taken) ?? channels[0] ?? outputs[0];
          return output ? this.onBlock(wanted, { model: index, takes: taken }, output, width, block) : [];
        });
        found.push(...undominated(here, this.isChange));
      }
    }
    this.choices.push(...found.slice(0, MOST_CHOICES));
  }

  /** All that is possible on one block, from one output of the source. */
  private onBlock(wanted: WantedSource, way: Omit<Way, 'steps'>, output: Port, width: number, block: Block): LineChoice[] {
    const port = block.ports[0] as Port;
    const found: LineChoice[] = [];
    const tried = (steps: readonly Through[]) => {
      const choices = this.tried(wanted, { ...way, steps }, width, block, found);
      found.push(...choices);
      return choices;
    };
    const fits = (steps: readonly Through[]) => {
      let from: readonly Port[] = [output];
      for (const { stock, leg } of steps) {
        const unit = stock.units[0] as Unit;
        if (!from.some((each) => mates(each, unit.inputs[0] as Port))) return false;
        from = leg === undefined ? unit.outputs : (unit.legs[leg] ?? []);
      }
      return from.some((each) => mates(each, port));
    };
    if (fits([]) && tried([]).some(isPerfect)) return found;
    for (const box of this.boxes) {
      if (!fits([box]) || found.some((choice) => isAsGoodAs(choice, box.stock, this.needsIt(wanted, way, box)))) continue;
      for (const { verdict } of tried([box])) if (verdict.needsPhantom) this.needy.add(this.throughIt(wanted, way, box));
    }
    if (found.length > 0) return found;
    for (const first of this.boxes) {
      for (const second of this.boxes) if (first.stock !== second.stock && fits([first, second])) tried([first, second]);
    }
    return found;
  }

  private throughIt(wanted: WantedSource, way: Omit<Way, 'steps'>, { stock, leg }: Through): string {
    return JSON.stringify([this.sayOf(wanted, way), way.takes, stock.id, leg]);
  }

  /** What needs phantom power through a box on one input needs it on any. */
  private needsIt(wanted: WantedSource, way: Omit<Way, 'steps'>, box: Through): boolean {
    return this.needy.has(this.throughIt(wanted, way, box));
  }

  /** One way on one block, for each state of its phantom switch in which it goes. What is no better than one of `known` is not tried to the end. */
  private tried(wanted: WantedSource, way: Way, width: number, block: Block, known: readonly LineChoice[]): LineChoice[] {
    const apart = width > 1 && way.steps.some(({ stock }) => stock.units.length !== width);
    const base = { wanted, way, block, width, apart };
    const make = (theirs: Offer | undefined, off: boolean, state: LineChoice['state'], verdict: Verdict): LineChoice => ({
      ...base,
      id: 0,
      theirs,
      off,
      state,
      verdict,
    });
    const judge = (theirs: Offer | undefined, off: boolean, neighbour: boolean) => this.judge({ ...base, theirs, off }, neighbour);
    const neighbours = block.switches !== undefined;
    // By itself, and beside a neighbour that has the switch on, which does nothing to a line that is not told as such.
    const judged = (theirs: Offer | undefined) => {
      const beside = judge(theirs, false, neighbours);
      return { theirs, beside, verdict: neighbours && isOfPhantom(beside) ? judge(theirs, false, false) : beside };
    };
    const isNoNews = (verdict: Verdict) => known.some((other) => dominates(other, make(undefined, false, 'any', verdict), this.isChange));
    const plain = judged(undefined);
    let best = plain;
    if (wanted.open.length > 0 && canBeSpared(plain.verdict) && !isNoNews({ ...plain.verdict, ...SPARED })) {
      for (const theirs of this.theirs) {
        const other = judged(theirs);
        if (isBetter(other.verdict, best.verdict)) best = other;
      }
    }
    const { theirs, verdict, beside } = best;
    const found: LineChoice[] = [];
    // A neighbour's phantom power makes no line better that needs none.
    if (!verdict.blocked && !verdict.needsPhantom && isNoNews(verdict)) return [];
    if (verdict.needsPhantom) {
      if (!verdict.blocked) found.push(make(theirs, false, neighbours ? 'on' : 'any', verdict));
      if (this.rig.house.some(({ takes }) => takes?.id === wanted.source.id)) {
        const without = judge(theirs, true, false);
        if (!without.blocked && !without.needsPhantom) found.push(make(theirs, true, neighbours ? 'off' : 'any', without));
      }
    } else if (!verdict.blocked) {
      if (!beside.blocked && isSame(verdict, beside)) found.push(make(theirs, false, 'any', verdict));
      else {
        found.push(make(theirs, false, 'off', verdict));
        if (!beside.blocked) found.push(make(theirs, false, 'on', beside));
      }
    }
    if (found.length === 0) this.refusals.push({ wanted, block, way, verdict });
    return found;
  }

  /** The engine's word on a line; that for a line of the same kind, where it has been tried before. */
  private judge(choice: Omit<LineChoice, 'id' | 'state' | 'verdict'>, neighbour: boolean): Verdict {
    const { wanted, way, block, theirs, off, width } = choice;
    const key = JSON.stringify([
      this.sayOf(wanted, way),
      way.takes,
      way.steps.map(({ stock, leg }) => [stock.id, leg]),
      block?.says,
      block?.device.piece.model.id,
      width,
      theirs?.model.id,
      off,
      neighbour,
      this.spans(choice),
    ]);
    const ends = this.ends(choice);
    const known = this.verdicts.get(key) ?? ends.map((end) => this.refused.get(end)).find((verdict) => verdict !== undefined);
    if (known) return known;
    const { rig, lines, own } = trialRig(this.rig, choice, neighbour);
    const verdict = this.trials.line(rig, lines, own, this.without(choice, neighbour));
    this.verdicts.set(key, verdict);
    const { blocked } = verdict;
    if (blocked && !/^phantom\//.test(blocked.code)) {
      const [ours, houses] = ends as [string, string];
      const at = statementOf(blocked.place);
      if (wanted.open.some(({ id }) => id === at)) this.refused.set(houses, verdict);
      else if (lines.some(({ id }) => id === at)) this.refused.set(ours, verdict);
    }
    return verdict;
  }

  /** What stands beside a line that is tried. */
  private without({ wanted, way, block, theirs }: Omit<LineChoice, 'id' | 'state' | 'verdict'>, neighbour: boolean): Without {
    const beside = neighbour ? block : undefined;
    const far = this.houseOf(wanted) && this.span(placed(this.rig, wanted.piece), this.houseOf(wanted)?.at, true);
    return {
      key: `${wanted.source.id} ${way.model} ${theirs?.model.id} ${beside?.id}`,
      kind: JSON.stringify([this.sayOf(wanted, way), theirs?.model.id, beside && [beside.says, beside.device.piece.model.id], far]),
    };
  }

  /**
   * A way by each of its ends: ours with the input that it lands on, and the house's. What one end refuses, but for phantom power, it refuses
   * whatever stands at the other, and however far they are from each other.
   */
  private ends({ wanted, way, block, theirs, width }: Pick<LineChoice, 'wanted' | 'way' | 'block' | 'theirs' | 'width'>): [string, string] {
    const said = [this.sayOf(wanted, way), way.takes, way.steps.map(({ stock, leg }) => [stock.id, leg]), width];
    return [JSON.stringify(['ours', ...said, block?.says]), JSON.stringify(['house', ...said, theirs?.model.id])];
  }

  /** What is wrong with a refused line, of this source itself and not of one of its kind. */
  again({ wanted, block, way }: Refusal): Finding | undefined {
    const width = widthOf(wanted, way);
    const apart = width > 1 && way.steps.some(({ stock }) => stock.units.length !== width);
    const { rig, lines, own } = trialRig(this.rig, { wanted, way, block, width, apart, off: false }, false);
    const key = `${wanted.source.id} ${way.model} again`;
    return this.trials.line(rig, lines, own, { key, kind: key }).blocked;
  }

  private readonly said = new Map<WantedSource, string[]>();

  /** All of a source that the engine can look at, but where it stands. */
  private sayOf(wanted: WantedSource, { model }: Pick<Way, 'model'>): string {
    const said = this.said.get(wanted) ?? [];
    this.said.set(wanted, said);
    said[model] ??= this.says(wanted, model);
    return said[model];
  }

  private says(wanted: WantedSource, index: number): string {
    const { source } = wanted;
    const runs = this.rig.house.filter(({ takes }) => takes?.id === source.id);
    if (runs.some(({ via }) => via.length > 0) || wanted.houseOnly) return source.id;
    const model = modelsOf(wanted)[index]?.id;
    const { typical, peak, lowestHz, highestHz } = source;
    return JSON.stringify([
      model,
      typical,
      peak,
      lowestHz,
      highestHz,
      [source.private, source.privateOutputs],
      runs.map(({ ownMic, takes }) => [ownMic, takes?.port]),
    ]);
  }

  /**
   * How long the leads of a line may be: from each thing on the way to the next, or further where copper alone joins them; and from each that
   * can give it to the house's. By the metre and by the lead's length, as what is told of leads goes by these; exactly where something has a
   * plug on its own lead, which reaches or does not.
   */
  private spans({ wanted, way, block }: Pick<LineChoice, 'wanted' | 'way' | 'block'>): unknown {
    const { rig } = this;
    const models = [modelsOf(wanted)[way.model], block?.device.piece.model, ...way.steps.map(({ stock }) => stock.model)];
    const exact = models.some((model) => model?.ports.some(({ tailM }) => tailM !== undefined));
    const span = (one: Position | undefined, other: Position | undefined) => this.span(one, other, exact);
    const points = [placed(rig, wanted.piece), ...way.steps.map(({ stock }) => stock.at)];
    const landing = block?.device.piece.at;
    const house = this.houseOf(wanted);
    const spans: unknown[] = house ? points.map((point) => span(point, house.at)) : [];
    for (const [from, point] of points.entries()) {
      for (let to = from + 1; to <= points.length; to++) {
        spans.push(span(point, to < points.length ? points[to] : landing));
        const box = way.steps[to - 1];
        if (!box || !isCopper(box)) break;
      }
    }
    return spans;
  }

  private houseOf({ source }: WantedSource): Piece | undefined {
    const run = this.rig.house.find(({ takes }) => takes?.id === source.id);
    return run && this.rig.pieces.get(run.piece);
  }

  private span(one: Position | undefined, other: Position | undefined, exact: boolean): unknown {
    const metres = floorLength(one, other);
    if (metres === undefined) return null;
    return exact ? [metres, samePlace(one, other)] : [Math.ceil(metres - 1e-9), stockLength(this.rig, metres)];
  }

  /** Our line stands; the house's is led through a box, and takes the side of it that is free. */
  private housesWay(wanted: WantedSource): void {
    const ways: Way[] = [{ model: 0, steps: [] }, ...this.boxes.map((box) => ({ model: 0, steps: [box] }))];
    for (const way of ways) {
      for (const theirs of [undefined, ...this.theirs]) {
        const choice = { wanted, way, width: 1, apart: false, theirs, off: false };
        const verdict = this.judge(choice, false);
        if (!verdict.blocked) this.choices.push({ ...choice, id: 0, state: 'any', verdict });
      }
    }
  }
}

/** Whether what comes out of our leg is driven by what went in. */
function isCopper({ stock, leg }: Through): boolean {
  const unit = stock.units[0];
  const outputs = (leg === undefined ? unit?.outputs : unit?.legs[leg]) ?? [];
  return outputs.some(({ modes, tie }) => modes.length === 0 && tie && !tie.isolated && (tie.how === 'parallel' || tie.how === 'switch'));
}

export function isClean({ warnings, dependent, replugged, metal, levels }: Verdict): boolean {
  return warnings.length + dependent + replugged + metal + levels === 0;
}

function isOfPhantom({ blocked, warnings }: Verdict): boolean {
  return (blocked ? [blocked, ...warnings] : warnings).some(({ code }) => code.startsWith('phantom/'));
}

/** Nothing that stands in a line could make it better. */
function isPerfect({ verdict, state }: LineChoice): boolean {
  return isClean(verdict) && !verdict.needsPhantom && state === 'any';
}

/** What the house puts at its own end can spare; what its line hangs on, and what it goes into first, is all before that. */
const SPARED = { blocked: undefined, wrong: 0, metal: 0, levels: 0 } as const;

function canBeSpared({ blocked, warnings, metal, levels }: Verdict): boolean {
  return blocked !== undefined || warnings.length + metal + levels > 0;
}

/**
 * Whether a line leaves nothing to be wished for that a box could bring, which costs no less than what is in the line: the plain one nothing
 * but phantom power, if the box needs that as well; one through another box nothing at all.
 */
function isAsGoodAs({ way, verdict, state }: LineChoice, box: Stock, needsPhantom: boolean): boolean {
  if (!isClean(verdict) || way.steps.length > 1) return false;
  const [step] = way.steps;
  if (!step) return needsPhantom;
  if (state !== 'any' || verdict.needsPhantom) return false;
  // One with a plug on its own lead may spare a lead, one that stands somewhere some length.
  if (box.at || box.model.ports.some(({ tailM }) => tailM !== undefined)) return false;
  return step.stock.endless || isNoDearer(step.stock, box);
}

const MEASURES = ['dependent', 'replugged', 'metal', 'levels', 'leads', 'length', 'drawsA'] as const;

function isSame(one: Verdict, other: Verdict): boolean {
  return one.wrong === other.wrong && MEASURES.every((measure) => one[measure] === other[measure]);
}

/** Without those that another one on the same block betters, or equals, with no more boxes. */
function undominated(choices: readonly LineChoice[], isChange: IsChange): LineChoice[] {
  const kept: LineChoice[] = [];
  for (const choice of choices) {
    if (kept.some((other) => dominates(other, choice, isChange))) continue;
    for (let index = kept.length - 1; index >= 0; index--)
      if (dominates(choice, kept[index] as LineChoice, isChange)) kept.splice(index, 1);
    kept.push(choice);
  }
  return kept;
}

/** Whatever else is planned, it can stand instead of the other one, and the plan is no worse: it takes nothing more, and comes first in the order of the aims. */
function dominates(one: LineChoice, other: LineChoice, isChange: IsChange): boolean {
  if (one.way.model !== other.way.model || (one.state !== other.state && one.state !== 'any')) return false;
  if (one.verdict.needsPhantom && !other.verdict.needsPhantom) return false;
  if (one.verdict.drawsA > other.verdict.drawsA) return false;
  if (other.wanted.was.length > 0 && isChange(one) && !isChange(other)) return false;
  const rest = other.way.steps.map(({ stock }) => stock);
  for (const { stock } of one.way.steps) {
    if (stock.endless) continue;
    const at = rest.includes(stock) ? rest.indexOf(stock) : rest.findIndex((each) => isNoDearer(stock, each));
    if (at < 0) return false;
    rest.splice(at, 1);
  }
  return !isBetter(other.verdict, one.verdict);
}

/** In every respect. */
export function noWorse(one: Verdict, other: Verdict): boolean {
  return one.wrong <= other.wrong && MEASURES.every((measure) => one[measure] <= other[measure]);
}

/** Whether one thing more of a stock can be had for no more than what one of another costs, of which none is there. */
export function isNoDearer(stock: Stock, than: Stock): boolean {
  return (
    stock.offer !== undefined &&
    stock.cents <= than.cents &&
    than.offer !== undefined &&
    than.pieces.length === 0 &&
    than.units.length === 1
  );
}

// ---- as a rig ------------------------------------------------------------------------------------

/** The piece that stands for a stock in a trial, and one of its units. */
export function standIn(stock: Stock, count = 0): Piece {
  const first = stock.pieces[0]?.piece;
  // What has no name of its own stands in by one, as others do.
  if (first && count === 0 && first.kind !== 'fresh') return first;
  const id = `gear:#${stock.id}.${count}`;
  return {
    id,
    kind: 'gear',
    name: `#${stock.id}.${count}`,
    label: stock.model.label,
    model: stock.model,
    at: stock.at,
    for: [],
    place: '',
  };
}

/** The name of the port by which a step goes through a unit; nothing where the piece alone says it. */
export function portOf({ stock, leg }: Through, unit: Unit): string | undefined {
  if (leg !== undefined) return unit.legs[leg]?.[0]?.id;
  return stock.model.ports.filter(({ direction }) => direction === 'input').length > 1 ? unit.outputs[0]?.id : undefined;
}

function trialRig(rig: Rig, choice: Omit<LineChoice, 'id' | 'state' | 'verdict'>, neighbour: boolean) {
  const { wanted, way, block, width, apart, theirs, off } = choice;
  const { source } = wanted;
  const pieces = new Map<string, Piece>();
  const model = modelsOf(wanted)[way.model] as Model;
  pieces.set(source.id, { ...wanted.piece, model });
  const channels = model.ports.filter(({ direction, separate }) => direction === 'output' && separate);
  const lines: InputRun[] = [];
  const via = (channel: number): PortRef[] =>
    way.steps.map((step, index) => {
      const piece = standIn(step.stock, channel);
      pieces.set(piece.id, piece);
      const unit = (channel === 0 ? step.stock.pieces[0]?.idle[0] : undefined) ?? (step.stock.units[0] as Unit);
      const whole = width > 1 && !apart;
      return { piece: piece.id, port: whole ? undefined : portOf(step, unit), place: `input:plan.${channel}/via.${index}` };
    });
  if (block) {
    pieces.set(block.device.piece.id, block.device.piece);
    const stretch = block.stretches.find(({ length }) => length >= width) ?? block.ports;
    const ports = stretch.slice(0, width).map(({ id }) => id);
    for (const [channel, mine] of (apart ? ports.map((id) => [id]) : [ports]).entries()) {
      const id = `input:plan.${channel}`;
      lines.push({
        kind: 'input',
        id,
        to: { piece: block.device.piece.id, ports: mine, place: `${id}/port` },
        takes: { kind: 'source', id: source.id, port: apart ? channels[channel]?.id : way.takes, place: `${id}/takes` },
        via: via(channel),
        pad: false,
        phantom: off ? 'off' : undefined,
        place: id,
      });
    }
  }
  const inputs = rig.inputs.filter(({ takes }) => takes?.id === source.id);
  const house = rig.house.flatMap((run): HouseRun[] => {
    if (run.takes?.id !== source.id) return [];
    if (!wanted.open.includes(run)) return [run];
    return [{ ...run, via: [...(block ? [] : via(0)), ...theirsOn(run, theirs, pieces)] }];
  });
  for (const run of [...inputs, ...house]) {
    for (const id of [run.kind === 'input' ? run.to.piece : run.piece, ...run.via.map(({ piece }) => piece)]) {
      const piece = rig.pieces.get(id);
      if (piece && !pieces.has(id)) pieces.set(id, piece);
      if (!piece?.name)
        for (let at = 1; rig.pieces.has(freshId(id, at)); at++) pieces.set(freshId(id, at), rig.pieces.get(freshId(id, at)) as Piece);
    }
  }
  const sources = new Map([[source.id, source]]);
  if (neighbour && block?.switches) {
    const [mine] = block.switches.banks;
    const other = block.device.piece.model.ports.find(
      ({ direction, bank, id }) => direction === 'input' && bank === mine && !lines.some(({ to }) => to.ports.includes(id)),
    );
    if (other) {
      const id = 'source:#neighbour';
      pieces.set(id, { id, kind: 'source', name: '#neighbour', label: 'a neighbour', model: NEIGHBOUR, for: [], place: id });
      sources.set(id, { id, name: '#neighbour', label: 'a neighbour', need: 'must', private: false, place: id });
      inputs.push({
        kind: 'input',
        id: 'input:#neighbour',
        to: { piece: block.device.piece.id, ports: [other.id], place: 'input:#neighbour/port' },
        takes: { kind: 'source', id, place: 'input:#neighbour/takes' },
        via: [],
        pad: false,
        place: 'input:#neighbour',
      });
    }
  }
  const own = new Set([...lines, ...wanted.open].map(({ id }) => id));
  // Of people only where they stand is of any matter to a line.
  for (const [id, piece] of pieces) {
    const at = piece.at ?? placed(rig, piece);
    if (at !== piece.at) pieces.set(id, { ...piece, at });
  }
  const performers = new Map();
  const whole: Rig = { ...rig, pieces, sources, performers, inputs: [...inputs, ...lines], house, outputs: [], mixes: new Map() };
  return { rig: whole, lines, own };
}

/** What the house puts at the end of its line, as a step. */
export function theirsOn(run: HouseRun, theirs: Offer | undefined, pieces: Map<string, Piece>): PortRef[] {
  if (!theirs) return [];
  const id = `${run.id}/via.theirs`;
  const { model } = theirs;
  pieces.set(id, { id, kind: 'fresh', label: model.label, model, holding: model.holding, for: [], place: id });
  return [{ piece: id, place: id }];
}

/** A microphone that has the switch of its bank on. */
const NEIGHBOUR: Model = {
  id: '#neighbour',
  label: 'a neighbour',
  lineage: ['#neighbour'],
  ports: [
    {
      id: 'out',
      direction: 'output',
      connector: 'xlr',
      modes: [{ kind: 'mic', impedanceOhm: 150, phantom: 'needed', drawsA: 0.001, balanced: true, floating: false }],
      separate: false,
      bank: 0,
      place: '',
    },
  ],
  sideSelect: false,
  monoSwitch: false,
  origins: [],
  place: '',
};
