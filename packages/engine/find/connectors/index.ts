/** Leads that nothing makes, that do not reach, or that hum. */
import { boxed, notByThru, takesFromBox } from '../../cure/boxes';
import type { Fix } from '../../cure/fix';
import { isMovable } from '../../cure/move';
import { balancedFrom, type Copper, coppers } from '../../solve/copper';
import { leadId } from '../../solve/ids';
import { type JointLead, RISE_M, wayAlong } from '../../solve/leads';
import { mates } from '../../solve/mating';
import { runName, socketName, socketText } from '../../solve/naming';
import { type Joint, type Network, stepOf } from '../../solve/network';
import { freePortsFor } from '../../solve/ports';
import { type Finding, finding } from '../finding';
import { sides } from './sides';

/** Above this an unbalanced lead hums and dulls: common practice, no source. */
const LONG_UNBALANCED_M = 6;

export function connectors(net: Network, all: readonly JointLead[]): Finding[] {
  const shortTails = tailsAlike(all);
  const copper = coppers(net, all);
  const look = (each: JointLead) => ofLead(net, each, copper, shortTails.get(each));
  const found: Finding[] = [];
  for (const each of all) {
    // Which of several tails is told of hangs on all leads; the rest on what a lead is a part of.
    const alike = shortTails.get(each);
    for (const one of net.kept.unlessNone('connectors', each, alike ? [alike] : NO_TAILS, look)) found.push(one);
  }
  return found;
}

const NO_TAILS: readonly unknown[] = [];

/** `alike`: the leads that are as much too short as this one, where it is told of them here. */
function ofLead(
  net: Network,
  each: JointLead,
  copper: (lead: JointLead) => Copper,
  alike: readonly JointLead[] | undefined,
): readonly Finding[] {
  const { joint } = each;
  const run = joint.runs[0];
  if (!run) return [];
  const step = stepOf(run, joint.to.piece);
  const end = run.kind === 'input' ? `${run.id}/port` : run.kind === 'house' ? `${run.id}/takes` : run.place;
  const place = step >= 0 ? `${run.id}/via.${step}` : end;
  const names = { from: socketName(joint.from), to: socketName(joint.to), run: runName(net.rig, run) };
  const about = [leadId(joint.from, joint.to)];
  if (!mates(joint.from.port, joint.to.port)) {
    const movable = run.kind === 'input' && step < 0 && isMovable(run);
    const kinds = joint.from.port.modes.map((mode) => mode.kind);
    const free = movable ? freePortsFor(net, joint, kinds) : [];
    const fixes: Fix[] = free.slice(0, 3).map((port) => ({ kind: 'move', run: run.id, port }));
    const ends = [joint.from.port.connector, joint.to.port.connector] as const;
    const inComputer = ends[0] === undefined && kinds.includes('digital');
    return [finding('connectors/no-mate', place, { ...names, ends, inComputer }, { about, fixes })];
  }
  const found = sides(net, joint, place);
  const wayM = wayAlong(each.fromAt, each.toAt);
  if (alike && each.ownM !== undefined && each.lengthM !== undefined && wayM !== undefined) {
    found.push(
      finding(
        'connectors/tail-too-short',
        place,
        {
          ...names,
          fixedTo: fixedTo(joint),
          box: joint[fixedTo(joint)].piece.label,
          count: alike.length,
          tailM: each.ownM,
          wayM,
          riseM: RISE_M,
          extensionM: each.lengthM,
        },
        { about: alike.map((other) => leadId(other.joint.from, other.joint.to)) },
      ),
    );
  }
  return [...found, ...longUnbalanced(net, each, copper(each), place, names)];
}

/** Told once for all the leads that copper joins: at the one that makes them too long. */
function longUnbalanced(
  net: Network,
  { joint, lead, kind, ownM, needsM }: JointLead,
  copper: Copper,
  place: string,
  names: { readonly to: string; readonly run: string },
): Finding[] {
  const { first, balanced, instead } = copper;
  if (!lead || balanced || ownM !== undefined || copper.needsM === undefined || copper.needsM <= LONG_UNBALANCED_M) return [];
  const before = first.joint === joint ? 0 : copper.needsM - (needsM ?? copper.needsM);
  if (before > LONG_UNBALANCED_M || (kind !== 'mic' && kind !== 'instrument' && kind !== 'line')) return [];
  const { from } = first.joint;
  const ahead = balancedFrom(joint.to.piece, [joint.to.port.id]);
  const line = net.linesThrough(joint)[0];
  const pair = line?.run.kind === 'input' && line.run.to.ports.length > 1;
  // A DI makes a microphone level of it, so the line has to end where one is wanted.
  const box = () =>
    from.piece.kind === 'source' && kind !== 'mic' && !ahead ? boxed(net, line, 'first').filter((fix) => fix.kind === 'add-step') : [];
  return [
    finding(
      'connectors/long-unbalanced',
      place,
      {
        ...names,
        from: socketName(from),
        laidM: Math.max(copper.laidM, copper.needsM),
        limitM: LONG_UNBALANCED_M,
        di: instead
          ? { label: instead.piece.label, output: takesFromBox(joint.to.piece, instead) ? socketText(instead) : undefined, pair }
          : ahead && { label: ahead.piece.label, ahead: true },
      },
      {
        about: [leadId(joint.from, joint.to)],
        fixes: instead && !pair ? notByThru(net, line, instead) : box(),
      },
    ),
  ];
}

function fixedTo({ from }: Joint): 'from' | 'to' {
  return from.port.tailM === undefined ? 'to' : 'from';
}

/**
 * The first of the leads that are fixed to one box, are as long as each other, end in one place and do not reach it, with all of
 * them: a box is moved, or its extensions are brought, once for all.
 */
function tailsAlike(all: readonly JointLead[]): ReadonlyMap<JointLead, readonly JointLead[]> {
  const byBox = new Map<string, [JointLead, ...JointLead[]]>();
  for (const each of all) {
    if (each.ownM === undefined || each.lengthM === undefined || !mates(each.joint.from.port, each.joint.to.port)) continue;
    const { piece } = each.joint[fixedTo(each.joint)];
    const key = JSON.stringify([piece.id, each.ownM, each.fromAt, each.toAt]);
    const alike = byBox.get(key);
    if (alike) alike.push(each);
    else byBox.set(key, [each]);
  }
  return new Map([...byBox.values()].map((alike) => [alike[0], alike]));
}
