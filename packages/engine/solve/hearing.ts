/** How loud it can get in the ears of each listener: the highest level that what drives their earphones gives, with every knob up. An estimate. */
import type { Mix, Mode, Model, Performer, Piece, Run } from '#rig';
import { earsDbSpl, USUAL_EARPHONES } from './loudInEars';
import { type Line, type Network, push, type Socket, socket } from './network';
import { type Seat, seatsFor, seatsOf } from './seats';
import { driverOf, type Way, waysOf } from './ways';

export interface Hearing {
  readonly performer: Performer;
  readonly mix: Mix;
  readonly run: Run;
  /** What drives the earphones: a pack, an amplifier, an output. */
  readonly driver: Socket;
  readonly driveOhm?: number;
  readonly earphones?: Model;
  readonly earsOhm: number;
  readonly dbSplPerMw: number;
  /** Their impedance, or how loud they are at 1 mW, is not stated. */
  readonly assumed: boolean;
  /** Who else has earphones on the same driver, by plain wire. */
  readonly others: readonly Performer[];
  /** The earphones of all of them side by side; their own where there are no others. */
  readonly loadOhm: number;
  /** The highest, with no limiter and all others unplugged; nothing where the driver does not say what it gives. */
  readonly highestDbSpl?: number;
  /** With the limiter on that its model states. */
  readonly limitedDbSpl?: number;
  /** The highest while the others are plugged in, with the limiter on where there is one. */
  readonly togetherDbSpl?: number;
  /** How much of the driver's voltage is lost in its own impedance, with all plugged in: positive. */
  readonly lossDb?: number;
}

/** One for each listener of a mix and each socket that they can hear it at. */
export function hearings(net: Network): readonly Hearing[] {
  const { rig, kept } = net;
  const ways = waysOf(net);
  const seats = seatsOf(net);
  return kept.once('hearings', undefined, [ways, seats, rig.pieces, rig.performers], () => heardBy(net, ways, seats));
}

function heardBy(net: Network, ways: readonly Way[], seats: ReadonlyMap<string, readonly Seat[]>): Hearing[] {
  const { rig } = net;
  const packs = [...rig.pieces.values()].filter(({ hears }) => hears);
  const plugged = pluggedInto(net, seats);
  const found = new Map<string, Hearing>();
  for (const { mix, line, end, how } of ways) {
    for (const id of mix.for) {
      const performer = rig.performers.get(id);
      if (!performer) continue;
      const places =
        how === 'radio'
          ? heardWith(packs, performer, end.piece)
          : seatsFor(net, id, mix.id).flatMap(({ at, lines }) => (lines.includes(line) ? at : []));
      for (const at of places) {
        const driver = driverOf(net, at);
        const key = `${id} ${mix.id} ${driver?.key}`;
        if (!driver || found.has(key)) continue;
        const there = clashes(line) ? [] : (plugged.get(driver.key) ?? []);
        const others = there.filter((other) => other.performer !== performer && other.at !== at);
        found.set(key, hearing(mix, line.run, driver, wornAt(performer, at), others));
      }
    }
  }
  return [...found.values()];
}

/** What somebody wears, where it is plugged in. */
interface Worn {
  readonly performer: Performer;
  readonly at: Socket;
  readonly model?: Model;
  readonly mode?: Mode;
  readonly ohm: number;
}

/** Their own, or those that the rig has there as gear. */
function wornAt(performer: Performer, at: Socket): Worn {
  const model = at.port.direction === 'input' ? at.piece.model : performer.ears;
  const mode = phonesOf(at.port.direction === 'input' ? at.port.modes : model?.ports.flatMap(({ modes }) => modes));
  return { performer, at, model, mode, ohm: Math.max(1e-3, mode?.impedanceOhm ?? USUAL_EARPHONES.ohm) };
}

/** What is plugged into each driver while everybody is where they belong: into each socket once, whatever mixes come out of it. */
function pluggedInto(net: Network, seats: ReadonlyMap<string, readonly Seat[]>): ReadonlyMap<string, readonly Worn[]> {
  const plugged = new Map<string, Worn[]>();
  const taken = new Set<string>();
  for (const { performer, at, own, lines } of [...seats.values()].flat()) {
    const driver = own && !taken.has(at.key) && !lines.every(clashes) ? driverOf(net, at) : undefined;
    if (!driver) continue;
    taken.add(at.key);
    push(plugged, driver.key, wornAt(performer, at));
  }
  return plugged;
}

/** Two plugs in one socket are told there: one of them is not in it. */
function clashes({ joints }: Line): boolean {
  return joints.some((joint) => joint.clashes);
}

function heardWith(packs: readonly Piece[], performer: Performer, transmitter: Piece): Socket[] {
  return packs
    .filter((pack) => pack.hears?.piece === transmitter.id && pack.for.includes(performer.id))
    .flatMap((pack) => pack.model.ports.flatMap((port) => (port.direction === 'output' && phonesOf(port.modes) ? socket(pack, port) : [])));
}

function phonesOf(modes: readonly Mode[] | undefined): Mode | undefined {
  return modes?.find(({ kind }) => kind === 'phones');
}

/** `others`: what else is plugged into the driver. */
function hearing(mix: Mix, run: Run, driver: Socket, worn: Worn, others: readonly Worn[]): Hearing {
  const { performer, model, mode, ohm: earsOhm } = worn;
  const drive = phonesOf(driver.port.modes) as Mode;
  const dbSplPerMw = mode?.sensitivityDbSplPerMw ?? USUAL_EARPHONES.dbSplPerMw;
  // Side by side, what they conduct adds up; the driver's own impedance and they share its voltage as a divider does.
  const loadOhm = 1 / [worn, ...others].reduce((sum, { ohm }) => sum + 1 / ohm, 0);
  const at = (maxDbu: number, load: number) =>
    earsDbSpl({ maxDbu, impedanceOhm: drive.impedanceOhm ?? 0 }, false, earsOhm, dbSplPerMw, load);
  const { maxDbu, limiterDbu, impedanceOhm } = drive;
  const limitDbu = limiterDbu === undefined ? undefined : Math.min(limiterDbu, maxDbu ?? limiterDbu);
  const mostDbu = limitDbu ?? maxDbu;
  return {
    performer,
    mix,
    run,
    driver,
    driveOhm: impedanceOhm,
    earphones: model,
    earsOhm,
    dbSplPerMw,
    assumed: mode?.impedanceOhm === undefined || mode.sensitivityDbSplPerMw === undefined,
    others: others.map((other) => other.performer),
    loadOhm,
    highestDbSpl: maxDbu === undefined ? undefined : at(maxDbu, earsOhm),
    limitedDbSpl: limitDbu === undefined ? undefined : at(limitDbu, earsOhm),
    togetherDbSpl: mostDbu === undefined ? undefined : at(mostDbu, loadOhm),
    lossDb: impedanceOhm === undefined ? undefined : 20 * Math.log10((loadOhm + impedanceOhm) / loadOhm),
  };
}
