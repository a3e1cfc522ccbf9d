/**
 * The best plan by trying every combination there is: each source on each of its lines or left out, each listener by each of their ways or
 * left out. What follows from a choice (switches, links, purchases) is worked out here anew, without the programme.
 */
import { AIMS, type AimName, type Asking, idleUnits, type LineChoice, uses } from '#plan';

type Listening = Asking['listening'];
type Hearing = Listening['hearings'][number];
type Transmission = Listening['transmissions'][number];

export const COMPARED: readonly AimName[] = AIMS.filter((name) => name !== 'order');

/** How many combinations there are. */
export function combinations({ wanted, lines, listening }: Omit<Asking, 'cuts'>): number {
  const sources = wanted.sources.map((each) => lines.choices.filter((choice) => choice.wanted === each).length + 1);
  const people = wanted.mixes.flatMap((each) =>
    each.listeners.map(
      (performer) => listening.hearings.filter((hearing) => hearing.wanted === each && hearing.performer === performer).length + 1,
    ),
  );
  return [...sources, ...people].reduce((product, count) => product * count, 1);
}

/** The values of the aims, in their order, of the best. */
export function byBruteForce(asking: Omit<Asking, 'cuts'>): number[] {
  const { wanted, lines, listening } = asking;
  const slots: (readonly (LineChoice | Hearing)[])[] = [
    ...wanted.sources.map((each) => lines.choices.filter((choice) => choice.wanted === each)),
    ...wanted.mixes.flatMap((each) =>
      each.listeners.map((performer) => listening.hearings.filter((hearing) => hearing.wanted === each && hearing.performer === performer)),
    ),
  ];
  let best: number[] | undefined;
  const chosen: (LineChoice | Hearing)[] = [];
  const go = (at: number) => {
    const slot = slots[at];
    if (!slot) {
      const values = valuesOf(asking, chosen);
      if (values && (!best || isBetter(values, best))) best = values;
      return;
    }
    go(at + 1);
    for (const choice of slot) {
      chosen.push(choice);
      if (roomFor(asking, chosen)) go(at + 1);
      chosen.pop();
    }
  };
  go(0);
  if (!best) throw new Error('Not even nothing can be planned.');
  return best;
}

/** The first three are to be many, all others few. */
function isBetter(one: readonly number[], other: readonly number[]): boolean {
  const at = one.findIndex((value, index) => value !== other[index]);
  if (at < 0) return false;
  const [mine, theirs] = [one[at] as number, other[at] as number];
  return at < 3 ? mine > theirs : mine < theirs;
}

const isLine = (choice: LineChoice | Hearing): choice is LineChoice => 'apart' in choice;

/** What can be seen of a part already: sockets and switches. */
function roomFor(asking: Omit<Asking, 'cuts'>, chosen: readonly (LineChoice | Hearing)[]): boolean {
  const lines = chosen.filter(isLine);
  for (const block of asking.landing.blocks) {
    const width = lines.filter((choice) => choice.block === block).reduce((sum, choice) => sum + choice.width, 0);
    if (width > block.ports.length) return false;
  }
  for (const switches of asking.landing.switches) {
    const here = lines.filter(({ block }) => block?.switches === switches);
    const size = asking.landing.blocks.find((block) => block.switches === switches)?.stretches[0]?.length ?? 1;
    const width = (state: 'on' | 'off') => here.filter((choice) => choice.state === state).reduce((sum, choice) => sum + choice.width, 0);
    // Of one switch on several stretches any line decides it.
    const needs = (state: 'on' | 'off') => (switches.banks.length === 1 ? Math.min(1, width(state)) : Math.ceil(width(state) / size));
    const [on, off] = [needs('on'), needs('off')];
    if (on + off > switches.banks.length || (switches.set === 'on' && off > 0) || (switches.set === 'off' && on > 0)) return false;
  }
  return true;
}

function valuesOf(asking: Omit<Asking, 'cuts'>, chosen: readonly (LineChoice | Hearing)[]): number[] | undefined {
  const { landing, stocks, listening, wanted, leftA, cents } = asking;
  const lines = chosen.filter(isLine);
  const hearings = chosen.filter((choice): choice is Hearing => !isLine(choice));
  const transmissions = new Set<Transmission>(hearings.flatMap(({ how }) => (how.kind === 'radio' ? [how.by] : [])));
  // Phantom current.
  for (const { id } of landing.devices) {
    const left = leftA.get(id);
    const drawn = lines.filter(({ block }) => block?.device.id === id).reduce((sum, { verdict }) => sum + verdict.drawsA, 0);
    if (left !== undefined && drawn > left + 1e-6) return undefined;
  }
  // Links: of two expanders on one socket only one is linked.
  let links = 0;
  let money = 0;
  const sockets = new Set<string>();
  const used = new Set(lines.flatMap(({ block }) => block?.device ?? []));
  for (const device of used) {
    if (device.makes || device.linked.length > 0) continue;
    const link = landing.links.find(({ from, to, input }) => from === device && !sockets.has(`${to.id} ${input.id}`));
    if (!link) return undefined;
    sockets.add(`${link.to.id} ${link.input.id}`);
    links += 1;
  }
  for (const device of used) if (device.stock) money += device.stock.cents;
  // Mixes: each in one width, made once.
  for (const each of wanted.mixes) {
    const mine = hearings.filter((hearing) => hearing.wanted === each);
    if (new Set(mine.map(({ stereo }) => stereo)).size > 1) return undefined;
    const sent = [...transmissions].filter((transmission) => transmission.wanted === each);
    if (sent.length > Math.max(1, each.listeners.length)) return undefined;
  }
  const leaving = [
    ...hearings.flatMap(({ how, stereo }) => (how.kind === 'wired' ? [{ block: how.block, width: stereo && how.amplifier ? 2 : 1 }] : [])),
    ...[...transmissions].map(({ block, stereo }) => ({ block, width: stereo ? 2 : 1 })),
  ];
  for (const block of listening.blocks) {
    const width = leaving.filter((each) => each.block === block).reduce((sum, each) => sum + each.width, 0);
    if (width > block.ports.length) return undefined;
  }
  const makers = landing.devices.filter(({ piece }) => piece.model.mixes);
  for (const { piece } of makers) {
    const mixer = piece.model.mixes;
    const made = wanted.mixes.flatMap((each) => hearings.find((hearing) => hearing.wanted === each) ?? []);
    const stereo = made.filter((hearing) => hearing.stereo).length;
    const needed = mixer?.width === 'stereo' ? stereo + Math.ceil((made.length - stereo) / 2) : made.length + stereo;
    if (mixer && needed > mixer.count) return undefined;
  }
  for (const air of listening.airs) {
    if (air.stock) continue;
    const here = [...transmissions].filter((transmission) => transmission.air === air);
    const sides = here.flatMap(({ sides, side }) => (sides === 'one' ? [side] : air.sides.map(({ id }) => id)));
    if (new Set(sides).size < sides.length) return undefined;
  }
  // Things and money.
  for (const stock of stocks) {
    if (stock.endless) continue;
    const air = listening.airs.find((each) => each.stock === stock);
    const units =
      lines.reduce((sum, choice) => sum + uses(choice, stock), 0) +
      hearings.filter(({ how }) => (how.kind === 'wired' ? how.amplifier : how.pack) === stock).length +
      [...transmissions].filter((each) => each.air === air).reduce((sum, { sides }) => sum + (sides === 'one' ? 1 : (air?.size ?? 0)), 0);
    const more = units - (air ? 0 : idleUnits(stock));
    if (more <= 0) continue;
    if (!stock.offer) return undefined;
    money += Math.ceil(more / (air?.size ?? stock.units.length)) * stock.cents;
  }
  if (cents !== undefined && money > cents) return undefined;
  const verdicts = [...lines, ...hearings, ...transmissions].map(({ verdict }) => verdict);
  const sum = (measure: (verdict: (typeof verdicts)[number]) => number) => verdicts.reduce((total, verdict) => total + measure(verdict), 0);
  const served = (need: string) => lines.filter(({ wanted: { source } }) => source.need === need).length;
  const values: Record<AimName, number> = {
    must: served('must') + hearings.length,
    should: served('should'),
    could: served('could'),
    width: wanted.mixes.filter((each) => each.mix.stereo && hearings.some((hearing) => hearing.wanted === each && !hearing.stereo)).length,
    dependent: sum(({ dependent }) => dependent),
    replugged: sum(({ replugged }) => replugged),
    metal: sum(({ metal }) => metal),
    warnings: sum(({ wrong }) => wrong),
    money,
    levels: sum(({ levels }) => levels),
    changes: lines.filter(({ way }) => way.model > 0).length,
    leads: sum(({ leads }) => leads) + links,
    length: sum(({ length }) => length),
    order: 0,
  };
  return COMPARED.map((name) => values[name]);
}
