/** How loud it can get in the ears of each listener: the highest level that what drives their earphones gives, with every knob up. An estimate. */
import type { Mix, Mode, Model, Performer, Piece, Run } from '#rig';
import { belongs } from './earphones';
import { earsDbSpl, USUAL_EARPHONES } from './loudInEars';
import { type Network, type Socket, socket } from './network';
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
  /** The highest, with no limiter; nothing where the driver does not say what it gives. */
  readonly highestDbSpl?: number;
  /** With the limiter on that its model states. */
  readonly limitedDbSpl?: number;
  /** How much of the driver's voltage is lost in its own impedance: positive. */
  readonly lossDb?: number;
}

/** One for each listener of a mix and each socket that they can hear it at. */
export function hearings(net: Network): readonly Hearing[] {
  const { rig, kept } = net;
  const ways = waysOf(net);
  return kept.once('hearings', undefined, [ways, rig.pieces, rig.performers], () => heardBy(net, ways));
}

function heardBy(net: Network, ways: readonly Way[]): Hearing[] {
  const { rig } = net;
  const packs = [...rig.pieces.values()].filter(({ hears }) => hears);
  const found = new Map<string, Hearing>();
  for (const { mix, line, end, how } of ways) {
    // A loudspeaker on a phones socket is in nobody's ears.
    if (how === 'other' || end.port.direction === 'input') continue;
    for (const id of mix.for) {
      const performer = rig.performers.get(id);
      if (!performer) continue;
      const drivers =
        how === 'radio'
          ? heardWith(packs, performer, end.piece)
          : belongs(end.piece.for, performer)
            ? [driverOf(net, end)].flatMap((driver) => driver ?? [])
            : [];
      for (const driver of drivers) {
        const key = `${id} ${mix.id} ${driver.key}`;
        if (!found.has(key)) found.set(key, hearing(performer, mix, line.run, driver));
      }
    }
  }
  return [...found.values()];
}

function heardWith(packs: readonly Piece[], performer: Performer, transmitter: Piece): Socket[] {
  return packs
    .filter((pack) => pack.hears?.piece === transmitter.id && pack.for.includes(performer.id))
    .flatMap((pack) => pack.model.ports.flatMap((port) => (port.direction === 'output' && phonesOf(port.modes) ? socket(pack, port) : [])));
}

function phonesOf(modes: readonly Mode[] | undefined): Mode | undefined {
  return modes?.find(({ kind }) => kind === 'phones');
}

function hearing(performer: Performer, mix: Mix, run: Run, driver: Socket): Hearing {
  const drive = phonesOf(driver.port.modes) as Mode;
  const worn = phonesOf(performer.ears?.ports.flatMap(({ modes }) => modes));
  const earsOhm = worn?.impedanceOhm ?? USUAL_EARPHONES.ohm;
  const dbSplPerMw = worn?.sensitivityDbSplPerMw ?? USUAL_EARPHONES.dbSplPerMw;
  const at = (maxDbu: number) => earsDbSpl({ maxDbu, impedanceOhm: drive.impedanceOhm ?? 0 }, false, earsOhm, dbSplPerMw);
  const { maxDbu, limiterDbu, impedanceOhm } = drive;
  return {
    performer,
    mix,
    run,
    driver,
    driveOhm: impedanceOhm,
    earphones: performer.ears,
    earsOhm,
    dbSplPerMw,
    assumed: worn?.impedanceOhm === undefined || worn.sensitivityDbSplPerMw === undefined,
    highestDbSpl: maxDbu === undefined ? undefined : at(maxDbu),
    limitedDbSpl: limiterDbu === undefined ? undefined : at(Math.min(limiterDbu, maxDbu ?? limiterDbu)),
    lossDb: impedanceOhm === undefined ? undefined : 20 * Math.log10((earsOhm + impedanceOhm) / earsOhm),
  };
}
