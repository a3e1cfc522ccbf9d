/** What a source loses by itself: a piezo its low notes into what loads it, a coil its highs into its lead, any other its level. */
import type { Mode } from '#rig';
import { boxed } from '../../cure/boxes';
import type { Fix } from '../../cure/fix';
import { LEAD_F_PER_M, LEVEL_HZ, type OutputState, ratioDb, type Solution } from '../../solve/circuit';
import { size } from '../../solve/complex';
import { cornerHz, highPassLossDb, topEndHz, topEndLossDb } from '../../solve/filters';
import type { Solved } from '../../solve/levels';
import { carriesSpeakerLevel } from '../../solve/mating';
import { socketName } from '../../solve/naming';
import { type Joint, type Line, type Network, stepOf } from '../../solve/network';
import { gives48V } from '../../solve/ports';
import { type Finding, finding } from '../finding';
import { madeHere } from '../related';

const USUAL_LOWEST_HZ = 80;

/** Everything that is plugged into a pickup, as a resistor and a capacitor across it. */
function loadOf({ load }: OutputState): { ohm: number; farad: number } {
  const { re, im } = load.between;
  return { ohm: 1 / re, farad: im / (2 * Math.PI * LEVEL_HZ) };
}

/** Where to tell of what a pickup is plugged into. */
function spot(net: Network, joint: Joint | undefined): { joint: Joint; line: Line | undefined; step: number; place: string } | undefined {
  const run = joint?.runs[0];
  if (!joint || !run) return undefined;
  const step = stepOf(run, joint.to.piece);
  const line = net.linesThrough(joint).find((each) => each.run === run);
  return { joint, line, step, place: step >= 0 ? `${run.id}/via.${step}` : `${run.id}/takes` };
}

/** Of what is plugged into a pickup by copper, the lead to what loads it most. */
function heaviest(net: Network, { root, outputs, plugs }: Solution): Joint | undefined {
  const load = (joint: Joint) => plugs.get(joint)?.load.between.re ?? 0;
  const most = (joints: readonly Joint[]) =>
    joints.reduce<Joint | undefined>((best, each) => (!best || load(each) > load(best) ? each : best), undefined);
  let found = most(net.leaving.get(root.socket.key) ?? []);
  for (const { socket, by } of outputs.values()) {
    // In the order in which the signal reaches them, so that what hangs on a lead comes after it.
    if (!found || by?.plug.joint !== found || by.tie.how !== 'parallel') continue;
    const behind = most(net.leaving.get(socket.key) ?? []);
    if (behind && load(behind) > load(found) / 2) found = behind;
  }
  return found;
}

/** An electronic box made for pickups, which is not made lighter by another one. */
function isActiveDi({ to }: Joint): boolean {
  return to.piece.model.ports.some(({ tie, modes }) => tie?.how === 'active' && tie.inputs.includes(to.port.id) && modes.length > 0);
}

/** A piezo's own capacitance, and its lead's, against what it is plugged into take the low notes away. */
export function lowEnd(net: Network, { source, piece }: Solved, solution: Solution): Finding[] {
  const { root } = solution;
  const drive = root.socket.port.modes.find((mode) => mode.capacitanceF !== undefined);
  if (drive?.capacitanceF === undefined || !(root.load.between.re > 0)) return [];
  const { ohm, farad } = loadOf(root);
  const corner = cornerHz(drive.capacitanceF + Math.max(0, farad), ohm);
  const lowest = source.lowestHz ?? piece.model.lowestHz ?? USUAL_LOWEST_HZ;
  const at = spot(net, heaviest(net, solution));
  if (corner <= lowest || !at) return [];
  const fixes =
    at.step >= 0
      ? activeInstead(net, at.joint, at.place)
      : boxed(net, at.line, 'first').filter((fix) => fix.kind !== 'add-step' || fix.model === 'active-di');
  return [
    finding(
      'levels/low-end',
      at.place,
      {
        source: source.label,
        into: at.joint.to.piece.label,
        loadOhm: ohm,
        active: isActiveDi(at.joint),
        cornerHz: corner,
        lowestHz: lowest,
        lossDb: highPassLossDb(corner, lowest),
      },
      { about: [source.id], related: [madeHere(source)], fixes },
    ),
  ];
}

/** Where what a source loses into all that is plugged into it becomes a finding: common practice, no source. */
const LOAD_LIMIT_DB = 2;

/** A source held back by what its one line is plugged into; of several lines it is told what the split costs, of a piezo its low end. */
export function loading(net: Network, { source }: Solved, solution: Solution): Finding[] {
  const { root } = solution;
  const lossDb = ratioDb(size(root.emf.between)) - ratioDb(root.ratio);
  const drive = root.socket.port.modes[0];
  if (!(lossDb > LOAD_LIMIT_DB) || !(root.load.between.re > 0) || drive?.capacitanceF !== undefined) return [];
  const plugs = [...solution.plugs.values()];
  const before = new Set(plugs.map(({ upstream }) => upstream.by?.plug));
  const ends = plugs.filter((plug) => !before.has(plug)).length;
  const at = spot(net, heaviest(net, solution));
  if (ends > 1 || carriesSpeakerLevel(root.socket.port) || !at) return [];
  const figures = { source: source.label, from: socketName(root.socket), into: at.joint.to.piece.label, lossDb };
  return [
    finding(
      'levels/loading',
      at.place,
      { ...figures, ohm: drive?.impedanceOhm, loadOhm: loadOf(root).ohm },
      { about: [source.id], related: [madeHere(source)] },
    ),
  ];
}

/** A coil's highs end where it rings with the capacitance of its lead. */
export function topEnd(net: Network, { source, piece }: Solved, { root }: Solution): Finding[] {
  const drive = root.socket.port.modes[0];
  const highest = source.highestHz ?? piece.model.highestHz;
  if (drive?.kind !== 'instrument' || drive.capacitanceF !== undefined || highest === undefined || !(root.load.between.re > 0)) return [];
  const { ohm: loadOhm, farad } = loadOf(root);
  if (!(farad > 0)) return [];
  const coil = (metres: number) => ({ ...ownOf(drive), farad: metres * LEAD_F_PER_M, loadOhm });
  const metres = farad / LEAD_F_PER_M;
  const top = topEndHz(coil(metres));
  const at = spot(net, net.leaving.get(root.socket.key)?.[0]);
  if (top >= highest || !at) return [];
  // Behind another box, the lead to be shortened or the box to be moved is for them to choose.
  const fixes = at.step < 0 && at.line?.joints.length === 1 ? boxed(net, at.line, 'first').filter(isActive) : [];
  return [
    finding(
      'levels/top-end',
      at.place,
      {
        source: source.label,
        metres,
        farad,
        loadOhm,
        topHz: top,
        highestHz: highest,
        lossDb: topEndLossDb(coil(metres), highest),
        enoughM: net.rig.settings.lengthsM.findLast((length) => length < metres && topEndHz(coil(length)) >= highest),
      },
      { about: [source.id], related: [madeHere(source)], fixes },
    ),
  ];
}

function ownOf({ impedanceOhm = 0, inductanceH = 0 }: Mode): { ohm: number; henry: number } {
  return { ohm: impedanceOhm, henry: inductanceH };
}

function isActive(fix: Fix): boolean {
  return fix.kind === 'add-step' ? fix.model === 'active-di' : fix.kind === 'several';
}

/** An active DI in place of what a piezo is plugged into, where one of its lines can give it phantom power. */
function activeInstead(net: Network, joint: Joint, place: string): Fix[] {
  const { piece } = joint.to;
  const powered = net.lines.some((each) => {
    const last = each.joints.at(-1);
    return last?.from.piece === piece && last.to.key === each.end?.key && gives48V(last.to.port);
  });
  if (!powered) return [];
  return [
    piece.kind === 'fresh'
      ? { kind: 'replace-step', step: place, with: 'active-di' }
      : { kind: 'set-model', piece: piece.id, model: 'active-di' },
  ];
}
