/** Where a line that finds no port could go after all: another device, another output of its source, a DI. */
import { boxed, FROM_A_BOX } from '../../cure/boxes';
import type { Fix } from '../../cure/fix';
import { isMovable } from '../../cure/move';
import { outOf } from '../../solve/arriving';
import { linksOf, openInputs } from '../../solve/links';
import { shortages } from '../../solve/matching';
import { signalLabel } from '../../solve/naming';
import type { Line, Network } from '../../solve/network';
import { canTake, type Demand } from '../../solve/ports';
import type { Route } from '../../solve/ways';
import type { Crowd } from './crowd';

/** Of so many lines ways out are looked for; more would help nobody. */
const MOST_LINES = 12;
const MOST_CURES = 3;

/** What would bring a line to a port that takes it. */
interface WayOut {
  readonly fix: Fix;
  /** The port it ends at: `gear:iface.3`. */
  readonly at: string;
  /** What it then asks of the same gear; nothing where it goes to other gear. */
  readonly demand?: Demand;
  readonly how: { readonly elsewhere: string } | { readonly instead: string } | { readonly boxed: string };
}

export interface Room {
  /** Each of them lets all lines be placed; where several lines are too many, one that does all it takes. */
  readonly fixes: readonly Fix[];
  /** Free ports of other gear: `preamps.5`. */
  readonly elsewhere: readonly string[];
  /** Other outputs of a source: `keys.jack`. */
  readonly instead: readonly string[];
  /** Sources that would fit behind a DI. */
  readonly boxed: readonly string[];
}

type Routes = (device: string) => ReadonlyMap<string, Route>;

/** Ways out for a crowd of lines, `lefts` of the crowd's, that is `excess` too large. Each is tried by matching anew. */
export function room(net: Network, routes: Routes, crowd: Crowd, lefts: readonly number[], excess: number): Room {
  const { plugs } = crowd;
  // First whoever is on a port that does not take it; then the last that was written.
  const misplaced = (index: number) => {
    const port = plugs[index]?.end?.port;
    const demand = crowd.demands[index];
    return port && demand && !canTake(port, demand) ? 1 : 0;
  };
  const order = lefts
    .toReversed()
    .sort((a, b) => misplaced(b) - misplaced(a))
    .slice(0, MOST_LINES);
  let demands: readonly (Demand | undefined)[] = crowd.demands;
  let left = tooMany(crowd, demands);
  const ways: WayOut[] = [];
  for (const index of order) {
    const alone = excess === 1;
    if (ways.length === (alone ? MOST_CURES : excess)) break;
    // Moving somebody else helps little while the one on the wrong port stays there.
    if (alone && ways.length > 0 && misplaced(index) < misplaced(order[0] as number)) break;
    for (const way of waysOut(net, routes, crowd, plugs[index] as Line)) {
      if (ways.some(({ at }) => at === way.at)) continue;
      const then = demands.with(index, way.demand);
      if (tooMany(crowd, then) >= left) continue;
      ways.push(way);
      if (!alone) {
        demands = then;
        left = tooMany(crowd, then);
      }
      break;
    }
  }
  const how = ways.map((way) => way.how);
  const enough = ways.length >= excess;
  return {
    fixes: excess === 1 ? ways.map(({ fix }) => fix) : enough ? [{ kind: 'several', fixes: ways.flatMap(({ fix }) => parts(fix)) }] : [],
    elsewhere: how.flatMap((each) => ('elsewhere' in each ? [each.elsewhere] : [])),
    instead: how.flatMap((each) => ('instead' in each ? [each.instead] : [])),
    boxed: how.flatMap((each) => ('boxed' in each ? [each.boxed] : [])),
  };
}

const parts = (fix: Fix): readonly Fix[] => (fix.kind === 'several' ? fix.fixes : [fix]);

/** How many lines find no place. */
function tooMany(crowd: Crowd, demands: readonly (Demand | undefined)[]): number {
  const found = shortages(demands.flatMap((demand) => (demand ? [crowd.wishes(demand)] : [])));
  const count = (side: 'lefts' | 'rights') => new Set(found.flatMap((each) => each[side])).size;
  return count('lefts') - count('rights');
}

function waysOut(net: Network, routes: Routes, crowd: Crowd, line: Line): WayOut[] {
  const { run } = line;
  if (run.kind !== 'input' || !isMovable(run) || run.takes?.kind !== 'source') return [];
  return [...elsewhere(net, routes, crowd, line), ...(run.via.length === 0 ? [...instead(net, crowd, line), ...behindBox(net, line)] : [])];
}

/** Free ports of other gear, from which every mix that has the source still gets it. */
function elsewhere(net: Network, routes: Routes, { piece, plugs, demands }: Crowd, line: Line): WayOut[] {
  const demand = demands[plugs.indexOf(line)];
  const mixes = new Set(
    [...net.rig.mixes.values()].flatMap((mix) => (mix.sends.some(({ source }) => source === line.signal) ? mix.id : [])),
  );
  const makers = new Set(net.rig.outputs.flatMap((each) => (mixes.has(each.carries ?? '') ? each.from.piece : [])));
  if (makers.size === 0) makers.add(piece.id);
  const links = linksOf(net);
  const [first = '', ...others] = makers;
  return [...routes(first).keys()].flatMap((id): WayOut[] => {
    const device = net.rig.pieces.get(id);
    if (!device?.name || device === piece || !demand || !others.every((maker) => routes(maker).has(id))) return [];
    const here = links.filter((link) => link.from === device);
    return openInputs(net, device)
      .filter((port) => canTake(port, demand) && (makers.has(id) || here.some((link) => link.carried.includes(port.id))))
      .map((port) => ({
        fix: { kind: 'move', run: line.run.id, port: port.id, gear: device.name },
        at: `${id}.${port.id}`,
        how: { elsewhere: `${device.name}.${port.id}` },
      }));
  });
}

/** A free output of the source that fits a free port as it is. */
function instead(net: Network, { piece }: Crowd, line: Line): WayOut[] {
  const { run, start } = line;
  const source = net.rig.sources.get(line.signal ?? '');
  if (run.kind !== 'input' || !source || !start || start.port.separate) return [];
  return start.piece.model.ports.flatMap((output): WayOut[] => {
    if (output.direction !== 'output' || output.separate || net.leaving.has(`${start.piece.id}.${output.id}`)) return [];
    const demand = outOf(start.piece.model, output.id)[0];
    const port = demand && openInputs(net, piece).find((each) => canTake(each, demand));
    if (!demand || !port) return [];
    const taken = `${source.name}.${output.id}`;
    const fixes: Fix[] = [
      { kind: 'move', run: run.id, port: port.id },
      { kind: 'rewrite', place: `${run.id}/takes`, with: taken },
    ];
    return [{ fix: { kind: 'several', fixes }, at: `${piece.id}.${port.id}`, demand, how: { instead: taken } }];
  });
}

/** An instrument or a line behind a DI, on an input for microphones. */
function behindBox(net: Network, line: Line): WayOut[] {
  const kinds = line.start?.port.modes.map((mode) => mode.kind) ?? [];
  if (kinds.length === 0 || kinds.includes('mic') || kinds.includes('speaker') || kinds.includes('digital')) return [];
  return boxed(net, line, 'first').flatMap((fix): WayOut[] => {
    const step = parts(fix).find((each) => each.kind === 'add-step');
    const move = parts(fix).find((each) => each.kind === 'move');
    if (!step || !line.end) return [];
    return [
      {
        fix,
        at: `${line.end.piece.id}.${move?.port ?? line.end.port.id}`,
        demand: { output: FROM_A_BOX, kinds: ['mic'], phantom: step.model === 'active-di' },
        how: { boxed: signalLabel(net.rig, line.signal) },
      },
    ];
  });
}
