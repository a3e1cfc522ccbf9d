/**
 * Metal paths between our ground and the house's: where the two are on different mains, a current flows through each of them
 * and hums.
 *
 * Ours is earthed where gear of ours runs on the mains, or on a computer's USB, whose charger is a path too; microphones and
 * passive boxes float. A lead joins the grounds of both its ends (pin 1, the sleeve); radio and optical links do not, nor do
 * transformers and what else is isolated, as long as a ground lift there is set to lift. Common practice, no source.
 */
import type { Piece, Port } from '#rig';
import { type Finding, type Fix, finding } from './findings';
import { carriesSpeakerLevel } from './mating';
import { plugName, runName, signalLabel } from './naming';
import { type Joint, type Line, type Network, type Socket, sideOf, socket, stepOf } from './network';
import { arrives, isTheirs } from './path';
import { contactsOf } from './phantomWires';
import { canSupply, type Needy, type Supplies } from './supply';

/** One way through metal from the house to earthed gear of ours. */
export interface MetalPath {
  /** A line of the house's, or one of ours that takes something of theirs. */
  readonly line: Line;
  /** Gear of ours that the mains earths. */
  readonly earth: Piece;
  /** The leads, from the house's end to ours. */
  readonly joints: readonly Joint[];
  /** The last of them: the lead at which to isolate, on our side. */
  readonly isolate: Joint;
  /** A lead with two contacts among them, whose shield is the signal's own return: what flows there is heard. */
  readonly unbalanced: boolean;
}

/** All of them, line by line in the order of the text; one for each piece of ours that a line is joined to. */
export function metalPaths(net: Network): MetalPath[] {
  const seen = new Set<string>();
  return net.lines.flatMap((line): readonly MetalPath[] => {
    const theirs = theirEnd(line);
    if (!theirs || seen.has(theirs.key)) return [];
    seen.add(theirs.key);
    return pathsFrom(net, line, theirs);
  });
}

/** The socket at which a line meets the house's ground: where it ends at their desk, or where it starts there. */
function theirEnd(line: Line): Socket | undefined {
  if (!arrives(line)) return undefined;
  if (line.run.kind === 'house') return line.end;
  const start = line.joints[0]?.from;
  return line.run.kind === 'input' && start && isTheirGround(start.piece) ? start : undefined;
}

function pathsFrom(net: Network, line: Line, start: Socket): readonly MetalPath[] {
  const found = new Map<Piece, MetalPath>();
  const seen = new Set<string>();
  const queue: { readonly at: Socket; readonly by: readonly Joint[] }[] = [];
  const follow = (from: Socket, by: readonly Joint[]) => {
    const out = from.port.direction === 'output';
    for (const joint of (out ? net.leaving : net.entering).get(from.key) ?? []) {
      const next = out ? joint.to : joint.from;
      if (joint.clashes || mustNotBe(joint) || contactsOf(joint) < 2 || seen.has(sideOf(next))) continue;
      seen.add(sideOf(next));
      queue.push({ at: next, by: [...by, joint] });
    }
  };
  seen.add(sideOf(start));
  follow(start, []);
  for (const { at, by } of queue) {
    const { piece } = at;
    if (isTheirGround(piece)) continue;
    if (isEarthed(piece) && !isIsolated(at.port)) {
      const isolate = by.at(-1);
      if (isolate && !found.has(piece)) {
        found.set(piece, { line, earth: piece, joints: by, isolate, unbalanced: by.some((joint) => contactsOf(joint) < 3) });
      }
      continue;
    }
    for (const next of within(at)) {
      seen.add(sideOf(next));
      follow(next, by);
    }
  }
  return [...found.values()];
}

/** An amplifier's speaker output in anything but a loudspeaker: it is to be pulled out, not to be cured of hum. */
function mustNotBe({ from, to }: Joint): boolean {
  return carriesSpeakerLevel(from.port) && !to.port.modes.some(({ kind }) => kind === 'speaker');
}

/** What a socket has metal to inside its piece, itself too. */
function within(at: Socket): Socket[] {
  const { piece, port } = at;
  if (isIsolated(port)) return [at];
  const { ports } = piece.model;
  // The sockets of one device share its chassis; those of a passive box are joined only where they are tied.
  if (!isPassive(piece)) return ports.filter((each) => !isIsolated(each)).map((each) => socket(piece, each));
  const joined = new Set([port]);
  for (const each of joined) {
    for (const other of ports) {
      if (isIsolated(other) || isIsolated(each)) continue;
      if (other.tie?.inputs.includes(each.id) && each.direction === 'input') joined.add(other);
      if (each.tie?.inputs.includes(other.id) && other.direction === 'input') joined.add(other);
    }
  }
  return [...joined].map((each) => socket(piece, each));
}

function isIsolated({ direction, tie }: Port): boolean {
  return direction === 'output' && tie?.isolated === true;
}

/** All its outputs are only wired, or wound, from its inputs. */
function isPassive({ model }: Piece): boolean {
  const outputs = model.ports.filter((port) => port.direction === 'output');
  return outputs.length > 0 && outputs.every(({ tie }) => tie !== undefined && tie.how !== 'active');
}

function onMains({ model }: Piece): boolean {
  return model.power?.from === 'mains' || model.power?.from === 'usb';
}

function isEarthed(piece: Piece): boolean {
  return onMains(piece) && !isTheirs(piece);
}

function isTheirGround(piece: Piece): boolean {
  return piece.kind === 'house' || (isTheirs(piece) && (onMains(piece) || piece.model.lineage.includes('desk')));
}

// ---- findings ------------------------------------------------------------------------------------

/**
 * One for the whole rig, unless it says that one mains distribution feeds all. One balanced lead between the two is no reason to
 * speak: what flows in its shield is no part of the signal. Common practice, no source.
 */
export function ground(net: Network, paths: readonly MetalPath[], supplies: Supplies): Finding[] {
  const [first] = paths;
  if (!first || net.rig.settings.sharedMains) return [];
  if (paths.length < 2 && !first.unbalanced) return [];
  const cures = paths.map((path) => isolated(net, path, supplies));
  const all = [...new Map(cures.flatMap((fix) => (fix ? [[fix.step, fix] as const] : []))).values()];
  const { run } = first.line;
  return [
    finding(
      'ground/metal-path',
      `${run.id}/takes`,
      {
        paths: paths.map((path) => ({
          house: path.line.run.kind === 'house' ? runName(net.rig, path.line.run) : signalLabel(net.rig, path.line.signal),
          earth: path.earth.label,
          lead: `${plugName(path.isolate.from)} to ${plugName(path.isolate.to)}`,
          feeds: fedBy(net, path, supplies)?.piece.label,
          unbalanced: path.unbalanced,
        })),
      },
      {
        related: paths.slice(1).map(({ line, earth }) => ({ place: line.run.place, says: `metal to ${earth.label} here too` })),
        fixes: cures.every((fix) => fix) ? (all.length === 1 ? all : [{ kind: 'several', fixes: all }]) : [],
      },
    ),
  ];
}

/** Our side behind a transformer instead of copper, where that is all there is to it and the house can give the phantom power. */
function isolated(net: Network, path: MetalPath, supplies: Supplies): Extract<Fix, { kind: 'replace-step' }> | undefined {
  const { line: theirs, joints, isolate } = path;
  const { piece } = isolate.from;
  const ours = net.linesThrough(isolate).find(({ run }) => run.kind === 'input');
  const step = ours ? stepOf(ours.run, piece) : -1;
  if (!ours || step !== ours.run.via.length - 1 || step < 0 || piece.kind !== 'fresh' || piece.model.id !== 'y-lead') return undefined;
  // What comes out of it on their side has to be the side that is left.
  if (theirs.run.kind !== 'house' || theirs.run.via.length > 0 || joints.length !== 2) return undefined;
  if (fedBy(net, path, supplies)) return undefined;
  return { kind: 'replace-step', step: `${ours.run.id}/via.${step}`, with: 'transformer-split.iso' };
}

/** What has its phantom power over the lead at which a path would be isolated, and nobody else to give it. */
function fedBy(net: Network, { line: theirs, isolate }: MetalPath, supplies: Supplies): Needy | undefined {
  const ours = net.linesThrough(isolate).find(({ run }) => run.kind === 'input');
  const needy = ours && supplies.needyOn(ours);
  const fed = needy?.suppliers.some((way) => way.line === ours);
  return fed && !needy?.ways.some((way) => way.line === theirs && canSupply(way)) ? needy : undefined;
}
