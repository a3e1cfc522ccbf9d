/**
 * Why not every must is served: the smallest set within those left that cannot stand together, found by leaving out one after the other and
 * keeping out whom the rest cannot do without; and the cheapest purchase with which all would be served.
 */
import { AIMS, type AimName } from './aims';
import type { Asking } from './formulate';
import { Programme, type Term } from './programme';
import { type Purchase, purchasesOf } from './purchases';
import { type Found, type Searching, search } from './search';

export interface Must {
  readonly kind: 'source' | 'listener' | 'house';
  readonly id: string;
  readonly label: string;
}

export interface Conflict {
  /** No proper subset of these has too little. Empty where each by itself has no way at all. */
  readonly musts: readonly Must[];
  /** Time did not run out while it was made small. */
  readonly smallest: boolean;
  /** The cheapest with which the most musts would be served, budget or none: so many `more`, and `all` that have a way. */
  readonly cheapest?: { readonly cents: number; readonly purchases: readonly Purchase[]; readonly more: number; readonly all: boolean };
}

/** Nothing to what is cheapest. */
const NO_MATTER: ReadonlySet<AimName> = new Set(['should', 'could', 'width', 'levels', 'changes', 'order']);
const CHEAPEST: readonly AimName[] = ['must', 'money', ...AIMS.filter((aim) => aim !== 'must' && aim !== 'money' && !NO_MATTER.has(aim))];

export async function conflictOf(
  asking: Omit<Asking, 'cuts'>,
  { formulated, best }: Found,
  searching: Searching,
): Promise<Conflict | undefined> {
  const must = best.reached.find(({ name }) => name === 'must');
  const aim = formulated.aims.find(({ name }) => name === 'must');
  if (!must || !aim) return undefined;
  const all = mustsOf(asking, formulated.columns);
  const offered = offers(asking);
  if (must.value >= aim.bound) {
    // What has no way at all with this money may have one with more.
    return undefined;
  }
  const { musts, smallest } = irreducible(formulated.programme, all, searching);
  let cheapest: Conflict['cheapest'];
  if (offered) {
    const free = await search({ ...asking, cents: undefined }, CHEAPEST, searching);
    const reached = free?.best.reached.find(({ name }) => name === 'must');
    if (free && reached && reached.value > must.value) {
      const cents = free.best.reached.find(({ name }) => name === 'money')?.value ?? 0;
      const [more, all] = [reached.value - must.value, reached.value >= aim.bound];
      cheapest = { cents, purchases: purchasesOf(free.assembled), more, all };
    }
  }
  return { musts, smallest, cheapest };
}

function offers({ stocks, landing }: Omit<Asking, 'cuts'>): boolean {
  return stocks.some(({ cents }) => cents > 0) || landing.devices.some(({ stock }) => stock);
}

interface Wish {
  readonly must: Must;
  readonly terms: readonly Term[];
}

function mustsOf({ wanted }: Omit<Asking, 'cuts'>, columns: Found['formulated']['columns']): Wish[] {
  const terms = <T>(map: ReadonlyMap<T, number>, is: (choice: T) => boolean) =>
    [...map].flatMap(([choice, column]) => (is(choice) ? [{ column, by: 1 }] : []));
  const sources = wanted.sources
    .filter(({ source }) => source.need === 'must')
    .map((each) => ({
      must: { kind: 'source' as const, id: each.source.id, label: each.source.label },
      terms: terms(columns.line, (choice) => choice.wanted === each),
    }));
  const people = wanted.mixes.flatMap((each) =>
    each.listeners.map((performer) => ({
      must: { kind: 'listener' as const, id: performer.id, label: performer.label },
      terms: terms(columns.hearing, (choice) => choice.wanted === each && choice.performer === performer),
    })),
  );
  const house = wanted.mixes
    .filter(({ mix }) => mix.house)
    .map((each) => ({
      must: { kind: 'house' as const, id: each.mix.id, label: each.mix.label },
      terms: terms(columns.toHouse, (choice) => choice.wanted === each),
    }));
  return [...sources, ...people, ...house].filter(({ terms }) => terms.length > 0);
}

function irreducible(programme: Programme, all: readonly Wish[], { solver, limits }: Searching): { musts: Must[]; smallest: boolean } {
  const fits = (wishes: readonly Wish[]): boolean | undefined => {
    const seconds = (limits.until - limits.now()) / 1000;
    if (seconds <= 0) return undefined;
    const asked = new Programme();
    asked.upper.push(...programme.upper);
    asked.rows.push(...programme.rows);
    for (const { terms } of wishes) asked.row(terms, { low: 1 });
    const seeking = solver.open(asked);
    try {
      const found = seeking.seek([], 'least', seconds);
      return found.kind === 'found' ? true : found.kind === 'impossible' ? false : undefined;
    } finally {
      seeking.close();
    }
  };
  let kept = [...all];
  let smallest = true;
  // Many at once as long as that goes, one by one at the end: each that is left then is needed.
  for (let size = Math.ceil(all.length / 2); size >= 1 && smallest; size = size === 1 ? 0 : Math.ceil(size / 2)) {
    for (let at = 0; at < kept.length; ) {
      const without = [...kept.slice(0, at), ...kept.slice(at + size)];
      const fit = fits(without);
      if (fit === undefined) {
        smallest = false;
        break;
      }
      if (fit) at += size;
      else kept = without;
    }
  }
  return { musts: kept.map(({ must }) => must), smallest };
}
