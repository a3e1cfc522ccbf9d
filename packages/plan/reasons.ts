/** Why each line is where it is, and why what is left out is left out, read from the solution. */
import type { Finding } from '#engine';
import type { Piece } from '#rig';
import { Affordable, type Affording } from './affording';
import type { AimName } from './aims';
import type { Block } from './devices';
import type { Asking, Columns } from './formulate';
import { type LineChoice, type LineFinder, type Refusal, uses } from './lines';
import type { Hearing, ToHouse } from './listening';
import { keepsTo, worth } from './programme';
import type { Found } from './search';
import { idleUnits } from './stock';

export interface Reason {
  /** Inputs that do not take it, as it could get there best, with what is wrong. */
  readonly refused: readonly { readonly blocks: readonly Block[]; readonly finding: Finding }[];
  /** It could be elsewhere, and would be worse: the best of these, and the first aim by which it is. */
  readonly better?: { readonly than: LineChoice; readonly aim: AimName; readonly by: number };
  /** Elsewhere is taken. */
  readonly crowded: boolean;
  /** As good in every respect. */
  readonly equally: readonly LineChoice[];
  /** There is room for it, and the money does not reach for what it needs besides. */
  readonly unaffordable?: Affording;
  /** There is room for it, and what makes the mixes makes no more of them. */
  readonly mixers?: readonly Piece[];
}

/** Something that was asked for and is not served. */
export interface LeftOut {
  readonly kind: 'source' | 'listener' | 'house';
  /** The source's, the mix's or the performer's id. */
  readonly id: string;
  readonly label: string;
  readonly need: 'must' | 'should' | 'could';
  readonly reason: Reason;
}

export interface Reasons {
  readonly chosen: ReadonlyMap<LineChoice | Hearing | ToHouse, Reason>;
  readonly leftOut: readonly LeftOut[];
}

/** Equal ones beyond this many are no news. */
const MOST_EQUAL = 4;

export function reasonsOf(asking: Omit<Asking, 'cuts'>, found: Found, finder: LineFinder): Reasons {
  const { formulated, best, assembled } = found;
  const { columns, programme, aims } = formulated;
  const chosen = new Map<LineChoice | Hearing | ToHouse, Reason>();
  const here = aims.filter(({ name }) => name !== 'order');
  const reached = new Map(here.map((aim) => [aim.name, worth(aim.terms, best.values)]));
  const bySource = new Map<string, LineChoice[]>();
  for (const choice of columns.line.keys()) {
    const { id } = choice.wanted.source;
    bySource.set(id, [...(bySource.get(id) ?? []), choice]);
  }
  for (const { choice } of assembled.inputs) {
    const equally: LineChoice[] = [];
    let better: Reason['better'];
    let crowded = false;
    let rank = -1;
    for (const other of bySource.get(choice.wanted.source.id) ?? []) {
      // On the same inputs by the same way: which of the two it is, nobody chooses.
      if (other === choice || keyOf(other) === keyOf(choice)) continue;
      const values = settled(asking, columns, best.values, choice, other);
      if (!keepsTo(programme, values)) {
        crowded ||= other.block !== choice.block;
        continue;
      }
      const at = here.findIndex(({ name, terms }) => worth(terms, values) !== reached.get(name));
      const aim = here[at];
      if (!aim) equally.push(other);
      else if (at > rank) {
        rank = at;
        better = { than: other, aim: aim.name, by: Math.abs(worth(aim.terms, values) - (reached.get(aim.name) ?? 0)) };
      }
    }
    const refused = refusalsOf(asking.lines.refusals, choice.wanted.source.id, finder, bySource.get(choice.wanted.source.id) ?? []);
    chosen.set(choice, { refused, better, crowded, equally: distinct(equally, choice) });
  }
  return { chosen, leftOut: leftOut(asking, found, finder, bySource) };
}

/** The solution with one line instead of another, and the switches and purchases that follow from it. */
function settled(asking: Omit<Asking, 'cuts'>, columns: Columns, best: ArrayLike<number>, from: LineChoice, to: LineChoice): Int32Array {
  const values = Int32Array.from(best);
  const set = (choice: LineChoice, value: number) => {
    const column = columns.line.get(choice);
    if (column !== undefined) values[column] = value;
  };
  set(from, 0);
  set(to, 1);
  const lines = [...columns.line].flatMap(([choice, column]) => (values[column] ? [choice] : []));
  for (const { id, set } of asking.landing.switches) {
    const on = lines.filter(({ block, state }) => block?.switches?.id === id && state === 'on');
    const size = on[0]?.block?.stretches[0]?.length ?? 1;
    const width = on.reduce((sum, choice) => sum + choice.width, 0);
    if (!set) values[columns.bank[id] as number] = on[0]?.block?.stretches.length === 1 ? 1 : Math.ceil(width / size);
  }
  for (const [stock, column] of columns.bought) {
    const change = uses(to, stock) - uses(from, stock);
    if (change === 0) continue;
    const all = lines.reduce((sum, choice) => sum + uses(choice, stock), 0);
    values[column] = Math.max(0, Math.ceil((all - idleUnits(stock)) / stock.units.length));
  }
  return values;
}

/** One of each block and way. */
function distinct(equally: readonly LineChoice[], choice: LineChoice): LineChoice[] {
  const seen = new Set<string>([keyOf(choice)]);
  return equally
    .filter((each) => {
      const fresh = !seen.has(keyOf(each));
      seen.add(keyOf(each));
      return fresh;
    })
    .slice(0, MOST_EQUAL);
}

function keyOf({ block, way }: LineChoice): string {
  return JSON.stringify([block?.id, way.takes, way.model, way.steps.map(({ stock, leg }) => [stock.model.id, leg])]);
}

/** For blocks with no way at all, the refusal of the plainest way. */
function refusalsOf(refusals: readonly Refusal[], source: string, finder: LineFinder, choices: readonly LineChoice[]): Reason['refused'] {
  const open = new Set(choices.map(({ block }) => block));
  const byCode = new Map<string, { blocks: Block[]; finding: Finding }>();
  const told = new Set<Block>();
  for (const refusal of refusals) {
    const { wanted, block } = refusal;
    if (wanted.source.id !== source || open.has(block) || told.has(block)) continue;
    told.add(block);
    const finding = finder.again(refusal);
    if (!finding) continue;
    const there = byCode.get(finding.code);
    if (there) there.blocks.push(block);
    else byCode.set(finding.code, { blocks: [block], finding });
  }
  return [...byCode.values()];
}

function leftOut(
  asking: Omit<Asking, 'cuts'>,
  found: Found,
  finder: LineFinder,
  bySource: ReadonlyMap<string, readonly LineChoice[]>,
): LeftOut[] {
  const { wanted, listening } = asking;
  const { assembled } = found;
  const affordable = new Affordable(asking, found);
  const served = new Set(assembled.inputs.map(({ choice }) => choice.wanted));
  const nothing = { refused: [], crowded: false, equally: [] };
  const sources = wanted.sources
    .filter((each) => !served.has(each) && !each.houseOnly)
    .map(({ source }): LeftOut => {
      const choices = bySource.get(source.id) ?? [];
      const reason = {
        ...nothing,
        crowded: choices.length > 0,
        refused: refusalsOf(asking.lines.refusals, source.id, finder, choices),
        unaffordable: affordable.of(choices),
      };
      return { kind: 'source', id: source.id, label: source.label, need: source.need, reason };
    });
  const heard = new Set([
    ...assembled.outputs.flatMap(({ choice }) => ('how' in choice ? [`${choice.wanted.mix.id} ${choice.performer.id}`] : [])),
    ...assembled.packs.map(({ choice }) => `${choice.wanted.mix.id} ${choice.performer.id}`),
    ...assembled.worn.map((choice) => `${choice.wanted.mix.id} ${choice.performer.id}`),
  ]);
  const people = wanted.mixes.flatMap((each) =>
    each.listeners
      .filter((performer) => !heard.has(`${each.mix.id} ${performer.id}`))
      .map((performer): LeftOut => {
        const ways = listening.hearings.filter((hearing) => hearing.wanted === each && hearing.performer === performer);
        const mixers = ways
          .filter((way) => affordable.fits(way))
          .map(({ how }) => (how.kind === 'wired' ? how : how.by).block.device.piece);
        const reason = { ...nothing, crowded: ways.length > 0, unaffordable: affordable.of(ways), mixers: [...new Set(mixers)] };
        return { kind: 'listener', id: performer.id, label: performer.label, need: 'must', reason };
      }),
  );
  const brought = new Set(assembled.outputs.flatMap(({ choice }) => ('how' in choice || 'air' in choice ? [] : [choice.wanted])));
  const house = wanted.mixes
    .filter((each) => each.mix.house && !brought.has(each))
    .map((each): LeftOut => {
      const crowded = listening.toHouse.some((way) => way.wanted === each);
      return { kind: 'house', id: each.mix.id, label: each.mix.label, need: 'must', reason: { ...nothing, crowded } };
    });
  return [...sources, ...people, ...house];
}
