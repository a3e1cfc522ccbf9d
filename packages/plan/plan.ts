/** A plan for what a rig has not written: what is wanted, from what, the best of it, and what is left out. */
import { type Checked, check, costsOf, type Finding } from '#engine';
import type { InputRun, Piece, Rig } from '#rig';
import { AFTER_A_LOSS, AIMS, type AimName } from './aims';
import type { Assembled } from './assemble';
import { type Conflict, conflictOf } from './conflict';
import { type Landing, landingOf, type Preset } from './devices';
import type { Asking } from './formulate';
import { frontierOf, type Step } from './frontier';
import type { Reached } from './lexicographic';
import { type LineChoice, LineFinder, type Through, widthsOf } from './lines';
import { type Hearing, listeningOf, type OutBlock, type ToHouse } from './listening';
import { type Purchase, purchasesOf } from './purchases';
import { type LeftOut, type Reason, reasonsOf } from './reasons';
import { type Searching, search } from './search';
import type { Solver } from './solver';
import { type Offer, stocksOf } from './stock';
import { Trials } from './trial';
import { tuned, type Untuned } from './tune';
import { type Asked, type Wanted, wantedOf } from './wanted';

export interface PlanOptions extends Asked {
  readonly offers: readonly Offer[];
  readonly solver: Solver;
  /** Instead of the rig's own budget. */
  readonly budget?: { readonly amount: number; readonly currency: string };
  /** Whether to tell what money would buy, step by step. */
  readonly frontier?: boolean;
  /** How long to look, in milliseconds; what has been found by then is told with how far it is from proven. */
  readonly limitMs?: number;
  /** Milliseconds, from any beginning. */
  readonly now: () => number;
  /** Waited for now and then: it may let others in, and throws where nobody wants the plan any more. */
  readonly breathe?: (progress: Progress) => Promise<void>;
}

export interface Progress {
  readonly stage: 'trying' | 'choosing' | 'explaining';
  /** From 0 to 1. */
  readonly done: number;
}

export interface Plan {
  /** The rig as it was read. */
  readonly before: Checked;
  /** With the plan in it. */
  readonly after: Checked;
  readonly wanted: Wanted;
  readonly assembled: Assembled;
  readonly reached: readonly Reached<AimName>[];
  readonly proven: boolean;
  readonly reasons: ReadonlyMap<LineChoice | Hearing | ToHouse, Reason>;
  readonly leftOut: readonly LeftOut[];
  readonly conflict?: Conflict;
  readonly purchases: readonly Purchase[];
  /** In hundredths: what is written already, what the plan adds, and what there is. */
  readonly money: { readonly written: number; readonly planned: number; readonly budget?: number; readonly currency: string };
  readonly frontier: readonly Step[];
  /** How many rigs have been checked to find it. */
  readonly trials: number;
  /** Prices that could not be used, as they are in another currency. */
  readonly otherCurrency: readonly Offer[];
  /** Errors that no plan could avoid. */
  readonly grave: readonly Finding[];
  /** What is on the air by this plan, and has no frequency. */
  readonly untuned: readonly Untuned[];
}

const DEFAULT_LIMIT_MS = 20_000;

/** Everything that a plan chooses from, tried out. */
export interface Prepared {
  readonly wanted: Wanted;
  /** The rig with what stands, checked. */
  readonly standing: Checked;
  readonly asking: Omit<Asking, 'cuts'>;
  readonly finder: LineFinder;
  readonly trials: Trials;
  readonly written: number;
  readonly budget?: number;
  readonly currency: string;
}

export type Preparing = Pick<PlanOptions, 'afresh' | 'without' | 'offers' | 'budget' | 'breathe'>;

/** What is there and what can be had, before anything has been tried. */
function groundOf(before: Checked, { offers, budget, ...asked }: Omit<Preparing, 'breathe'>) {
  const wanted = wantedOf(before, asked);
  const { rig } = wanted;
  const standing = rig === before.rig ? before : check(rig);
  const net = standing.network;
  const given = budget ?? rig.settings.budget;
  const currency = given?.currency ?? offers.find(({ price }) => price)?.price?.currency ?? 'EUR';
  const stocks = stocksOf(net, offers, currency, wanted.lost, wanted.loose);
  const landing = landingOf(net, stocks, wanted.lost, widthsOf(wanted.sources), presetBy(standing));
  const written = costsOf(rig, currency).cents;
  const most = given && Math.round(given.amount * 100);
  // Without a budget nothing is bought: what money would buy is told instead.
  const cents = most === undefined ? 0 : Math.max(0, most - written);
  return { wanted, rig, standing, net, currency, stocks, landing, written, budget: most, cents };
}

/**
 * Whether a mix that leaves nowhere has a way to all whom it is for, taken by itself, with what is there and what the budget buys. Tried with the
 * engine; whether it goes together with all else is for the plan to say.
 */
export function isHearable(before: Checked, options: Pick<PlanOptions, 'offers' | 'budget'>, mix: string): boolean {
  const { wanted, rig, net, stocks, landing, cents } = groundOf(before, options);
  const [one] = wanted.mixes.filter((each) => each.mix.id === mix);
  if (!one) return false;
  const had = stocks.filter((stock) => stock.pieces.length > 0 || stock.cents <= cents);
  const { hearings, toHouse } = listeningOf(net, rig, landing, had, [one], new Trials(), wanted.lost);
  if (one.mix.house) return toHouse.length > 0;
  return one.listeners.length > 0 && one.listeners.every((listener) => hearings.some(({ performer }) => performer === listener));
}

export async function prepare(before: Checked, options: Preparing): Promise<Prepared> {
  const { offers, breathe = async () => {} } = options;
  const { wanted, rig, standing, net, currency, stocks, landing, written, budget, cents } = groundOf(before, options);
  const trials = new Trials();
  const finder = new LineFinder(rig, landing.blocks, stocks, offers, trials, isChange);
  const lines = await finder.all(wanted.sources, (done) => breathe({ stage: 'trying', done: done / (wanted.sources.length + 1) }));
  const listening = listeningOf(net, rig, landing, stocks, wanted.mixes, trials, wanted.lost);
  const asking: Omit<Asking, 'cuts'> = {
    wanted,
    landing,
    stocks,
    lines,
    listening,
    leftA: leftOf(standing, landing),
    cents,
    isChange,
  };
  return { wanted, standing, asking, finder, trials, written, budget, currency };
}

/** Rejects with what `breathe` throws, and else never. Undefined where time ran out before anything was found. */
export async function plan(before: Checked, options: PlanOptions): Promise<Plan | undefined> {
  const { solver, now, offers, limitMs = DEFAULT_LIMIT_MS, breathe = async () => {} } = options;
  const until = now() + limitMs;
  const { wanted, standing, asking, finder, trials, written, budget, currency } = await prepare(before, options);
  const searching: Searching = {
    solver,
    limits: { until, now },
    breathe: () => breathe({ stage: 'choosing', done: 0 }),
    cuts: [],
    before: standing,
  };
  const best = await search(asking, wanted.lost.size > 0 ? AFTER_A_LOSS : AIMS, searching);
  if (!best) return undefined;
  await breathe({ stage: 'explaining', done: 0 });
  const reasons = reasonsOf(asking, best, finder);
  const conflict = await conflictOf(asking, best, searching);
  const { assembled, untuned } = tuned(best.assembled);
  const planned = wanted.lost.size > 0 ? undefined : { found: best, cents: asking.cents };
  const frontier = options.frontier
    ? await frontierOf(budget === undefined ? { ...asking, cents: undefined } : asking, planned, searching)
    : [];
  return {
    before,
    after: assembled === best.assembled ? best.checked : check(assembled.rig),
    wanted,
    assembled,
    reached: best.best.reached,
    proven: best.best.proven,
    reasons: reasons.chosen,
    leftOut: reasons.leftOut,
    conflict,
    purchases: purchasesOf(best.assembled),
    money: { written, planned: best.best.reached.find(({ name }) => name === 'money')?.value ?? 0, budget, currency },
    frontier,
    trials: trials.count,
    otherCurrency: offers.filter(({ price }) => price !== undefined && price.currency !== currency),
    grave: best.grave,
    untuned,
  };
}

/** Whether what is written has a phantom switch on, or would be harmed by it. */
function presetBy(standing: Checked): Preset {
  const { rig, supplies } = standing;
  return (device, inputs) => {
    if (inputs.some((id) => supplies.live.has(`${device.id}.${id}`))) return 'on';
    return wouldHarm(standing, rig, device, inputs) ? 'off' : undefined;
  };
}

function wouldHarm(standing: Checked, rig: Rig, device: Piece, ports: readonly string[]): boolean {
  const mine = (run: InputRun) => run.to.piece === device.id && run.to.ports.some((id) => ports.includes(id));
  if (!rig.inputs.some(mine)) return false;
  const there = new Set(standing.findings.map(({ code, place }) => `${code} ${place}`));
  const on = check({ ...rig, inputs: rig.inputs.map((run) => (mine(run) && run.phantom === undefined ? { ...run, phantom: 'on' } : run)) });
  return on.findings.some(
    ({ code, place, severity }) => severity !== 'note' && code.startsWith('phantom/') && !there.has(`${code} ${place}`),
  );
}

function leftOf({ supplies }: Checked, { devices }: Landing): Map<number, number> {
  return new Map(
    devices.flatMap(({ id, piece }): [number, number][] => {
      const most = piece.model.phantomA;
      if (most === undefined) return [];
      const taken = supplies.needy.reduce((sum, { supplier, drawsA }) => {
        const here = supplier?.end.piece === piece && supplier.line.run.kind === 'input';
        return here ? sum + (drawsA ?? 0.01) : sum;
      }, 0);
      return [[id, Math.max(0, most - taken)]];
    }),
  );
}

/** Whether it is written otherwise than it was. What was not written is no change. */
function isChange(choice: LineChoice | Hearing | ToHouse): boolean {
  if ('apart' in choice) {
    const { wanted, way, block } = choice;
    // What a source is taken by first is written, too.
    if (wanted.was.length === 0) return way.model > 0;
    const [was] = wanted.was;
    if (
      !was ||
      way.model > 0 ||
      was.to.piece !== block?.device.piece.id ||
      !was.to.ports.every((id) => block.ports.some((port) => port.id === id))
    )
      return true;
    return !sameWay(choice, was);
  }
  const { was, wore } = choice.wanted;
  if (was.length === 0) return false;
  const on = (block: OutBlock) =>
    was.filter(({ from }) => from.piece === block.device.piece.id && from.ports.every((id) => block.ports.some((port) => port.id === id)));
  if (!('how' in choice)) return on(choice.block).length === 0;
  const { how, performer } = choice;
  if (how.kind === 'radio') {
    const before = wore.get(performer.id);
    const side = how.by.sides === 'one' ? how.by.side : undefined;
    return before?.piece !== how.by.air.piece.id || before.port !== side;
  }
  const through = (id: string | undefined) => how.amplifier?.pieces.some(({ piece }) => piece.id === id) ?? id === undefined;
  return !on(how.block).some(({ via }) => (via.length === 0 ? how.amplifier === undefined : via.some(({ piece }) => through(piece))));
}

function sameWay({ way, off }: LineChoice, was: InputRun): boolean {
  const pieceIn = (step: Through | undefined, id: string) => step?.stock.pieces.some(({ piece }) => piece.id === id) === true;
  const legIn = ({ stock, leg }: Through, port: string | undefined) =>
    port === undefined || leg === undefined || stock.units.some(({ legs }) => legs[leg]?.some(({ id }) => id === port));
  return (
    was.via.length === way.steps.length &&
    was.via.every(({ piece, port }, index) => pieceIn(way.steps[index], piece) && legIn(way.steps[index] as Through, port)) &&
    (was.takes?.port === undefined || way.takes === undefined || was.takes.port === way.takes) &&
    (was.phantom === 'off') === off
  );
}
