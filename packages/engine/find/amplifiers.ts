/** Amplifiers whose loudspeaker output goes somewhere, and nowhere into a loudspeaker. */
import type { Port } from '#rig';
import type { Fix } from '../cure/fix';
import { carriesSpeakerLevel } from '../solve/mating';
import { plugName, socketText } from '../solve/naming';
import { type Joint, type Network, type Socket, socket, stepOf } from '../solve/network';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

/** Loudspeakers have 2 to 16 ohm; a DI for loudspeaker level has thousands. Common practice, no source. */
const LOUDSPEAKER_BELOW_OHM = 100;

export function amplifiers(net: Network): Finding[] {
  const told = new Set<string>();
  return net.joints.flatMap((joint): Finding[] => {
    const { from } = joint;
    // A thru passes on what an amplifier gives, and is no amplifier.
    const passedOn = from.port.tie !== undefined && from.port.tie.how !== 'active';
    if (passedOn || !carriesSpeakerLevel(from.port) || told.has(from.key)) return [];
    told.add(from.key);
    const [run] = joint.runs;
    const found = loudspeakerOn(net, from);
    if (!run || found.loudspeaker) return [];
    const step = stepOf(run, from.piece);
    const free = found.free[0];
    return [
      finding(
        'amplifiers/no-loudspeaker',
        step >= 0 ? `${run.id}/via.${step}` : run.kind === 'output' ? run.id : `${run.id}/takes`,
        {
          source: from.piece.label,
          amplifier: plugName(from),
          into: plugName(joint.to),
          lines: linesFor(net, from, joint, free),
        },
        { about: [from.piece.id], related: [{ place: from.piece.place, says: BESIDE.theAmplifier }], fixes: cabinet(net, from, free) },
      ),
    ];
  });
}

/** Whether any way on from an output ends in a loudspeaker, and the outputs on the way that nothing is plugged into. */
function loudspeakerOn(net: Network, from: Socket): { loudspeaker: boolean; free: Socket[] } {
  const free: Socket[] = [];
  const seen = new Set([from.key]);
  const queue = [from];
  for (const at of queue) {
    const joints = net.leaving.get(at.key) ?? [];
    if (joints.length === 0) free.push(at);
    for (const { to } of joints) {
      if (isLoudspeaker(to.port)) return { loudspeaker: true, free };
      for (const port of to.piece.model.ports) {
        const next = socket(to.piece, port);
        if (port.direction !== 'output' || !port.tie?.inputs.includes(to.port.id) || seen.has(next.key)) continue;
        if (port.tie.how !== 'parallel' && port.tie.how !== 'switch') continue;
        seen.add(next.key);
        queue.push(next);
      }
    }
  }
  return { loudspeaker: false, free };
}

/** An input for loudspeaker level that loads an amplifier as a loudspeaker does, or states no load and has no way on. */
function isLoudspeaker(port: Port): boolean {
  return port.modes.some((mode) => mode.kind === 'speaker' && mode.impedanceOhm !== undefined && mode.impedanceOhm < LOUDSPEAKER_BELOW_OHM);
}

/** What to write for a loudspeaker on the first free output behind the amplifier's. */
function linesFor(net: Network, from: Socket, joint: Joint, free: Socket | undefined): string[] {
  const name = freeName(net);
  const gear = `gear ${name} is loudspeaker`;
  const source = from.piece.name;
  if (source === undefined) return [gear];
  const through = free ?? { piece: joint.to.piece, port: undefined };
  const written = through.piece.kind === 'fresh' || !through.port ? undefined : socketText(free as Socket);
  const only = from.piece.model.ports.filter((port) => port.direction === 'output').length === 1;
  const takes = only ? source : `${source}.${from.port.id}`;
  return [gear, `input ${name}.in takes ${takes}${written ? ` via ${written}` : ''}`];
}

function cabinet(net: Network, from: Socket, free: Socket | undefined): Fix[] {
  const source = from.piece.name;
  if (source === undefined || !free) return [];
  const only = from.piece.model.ports.filter((port) => port.direction === 'output').length === 1;
  // A fresh box has no name to go through: only where the amplifier has one output is its free side found.
  if (free.piece.kind === 'fresh' && !only) return [];
  const name = freeName(net);
  return [
    {
      kind: 'several',
      fixes: [
        { kind: 'add-gear', name, model: 'loudspeaker', label: `${from.piece.label} cabinet` },
        {
          kind: 'add-input',
          source: only ? source : `${source}.${from.port.id}`,
          port: `${name}.in`,
          via: free.piece.kind === 'fresh' ? undefined : socketText(free),
        },
      ],
    },
  ];
}

function freeName(net: Network): string {
  let name = 'cab';
  for (let count = 2; net.rig.pieces.has(`gear:${name}`); count++) name = `cab-${count}`;
  return name;
}
