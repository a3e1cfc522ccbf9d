/** How loud earphones get on an output that is not made for them. */
import { CONNECTORS, type Mode, voltsOfDbu } from '#rig';
import type { Network } from './network';
import { driverOf, type Way } from './ways';

/** What music players may give at most with their own earphones is 100 dB SPL (EN 50332-1, from memory). */
export const HARMFUL_DB_SPL = 100;
/** Of earphones that say nothing of theirs: common practice, no source. */
export const USUAL_EARPHONES = { ohm: 32, dbSplPerMw: 105 };
const USUAL_DRIVE_OHM = 150;

export interface LoudInEars {
  /** The highest level that the output can give, at each ear. */
  readonly dbSpl: number;
  readonly maxDbu: number;
  readonly earsOhm: number;
  readonly dbSplPerMw: number;
  /** One ear gets it the right way round and the other upside down; otherwise one ear gets nothing. */
  readonly inverted: boolean;
}

/** Undefined where the output that drives a way does not state how much it gives at most, or is no line output. */
export function loudInEars(net: Network, { mix, line, end }: Way): LoudInEars | undefined {
  const driving = (driverOf(net, end) ?? line.start)?.port;
  const drive = driving?.modes.find(({ kind }) => kind === 'line');
  if (!driving?.connector || drive?.maxDbu === undefined) return undefined;
  const worn = net.rig.performers.get(mix.for[0] ?? '')?.ears?.ports.flatMap(({ modes }) => modes);
  const plugged = end.port.direction === 'input' ? end.port.modes : worn;
  const ears = plugged?.find(({ kind }) => kind === 'phones');
  const earsOhm = ears?.impedanceOhm ?? USUAL_EARPHONES.ohm;
  const dbSplPerMw = ears?.sensitivityDbSplPerMw ?? USUAL_EARPHONES.dbSplPerMw;
  const inverted = drive.balanced && CONNECTORS[driving.connector].poles >= 3;
  return { dbSpl: earsDbSpl(drive, inverted, earsOhm, dbSplPerMw), maxDbu: drive.maxDbu, earsOhm, dbSplPerMw, inverted };
}

/**
 * At each ear, in dB SPL: the power in it above 1 mW, added to its sensitivity. Of a balanced output each half drives one ear, with
 * half the EMF behind half the impedance; of another all of it drives one. `loadOhm`: with all else that hangs on the same output.
 */
export function earsDbSpl(
  drive: Pick<Mode, 'maxDbu' | 'impedanceOhm'>,
  inverted: boolean,
  earsOhm: number,
  dbSplPerMw: number,
  loadOhm = earsOhm,
): number {
  const share = inverted ? 0.5 : 1;
  const [ohm, load] = [Math.max(1e-3, earsOhm), Math.max(1e-3, loadOhm)];
  const volts = (share * voltsOfDbu(drive.maxDbu ?? 0) * load) / (share * (drive.impedanceOhm ?? USUAL_DRIVE_OHM) + load);
  return dbSplPerMw + 10 * Math.log10(Math.max(1e-30, volts ** 2 / ohm / 1e-3));
}
