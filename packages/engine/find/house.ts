/** What is wrong with what our rig does to the house: lines that die with it, and lines that are re-plugged for it. */
import type { PortRef } from '#rig';
import type { Fix } from '../cure/fix';
import type { Cause, HouseImpact, HouseLine, Parting } from '../solve/impact';
import { carriesSpeakerLevel } from '../solve/mating';
import { runName, socketName, socketText } from '../solve/naming';
import { type Network, type Socket, socket, stepOf } from '../solve/network';
import { kindsAt, wholePath } from '../solve/path';
import { canTake, supplyOf } from '../solve/ports';
import { canSupply, type Needy, type Supplies } from '../solve/supply';
import { BESIDE } from '../words/beside';
import type { Reason, Touching } from '../words/house';
import { type Finding, finding } from './finding';

export function house(net: Network, impact: HouseImpact, supplies: Supplies): Finding[] {
  return [...impact.lines.flatMap((line) => dependent(net, line, supplies)), ...replugged(net, impact)];
}

// ---- lines that die with us ----------------------------------------------------------------------

/** The causes that are a matter of our rig, and not of how the instrument sounds. */
function graveCauses(line: HouseLine): readonly Cause[] {
  return line.causes.filter((cause) => cause.kind !== 'power' || !cause.sounds);
}

/** What our rig does to a line, as it is told on a sheet and in the editor. */
export function touching(net: Network, supplies: Supplies, line: HouseLine): Touching {
  const { run, how, partings, causes, otherOutput, into, lossDb } = line;
  const worst = partings.find((parting) => !parting.isolator) ?? partings[0];
  return {
    how,
    ownMic: run.ownMic,
    at: worst?.piece.label,
    isolator: worst?.isolator?.label,
    otherOutput: otherOutput && socketName(otherOutput),
    reasons: causes.map((cause) => reasonOf(net, supplies, line, cause)),
    into: into?.label,
    lossDb,
  };
}

/** A cause as it is called. */
function reasonOf(net: Network, supplies: Supplies, line: HouseLine, cause: Cause): Reason {
  if (cause.kind === 'device') return { kind: 'device', piece: cause.piece.label };
  if (cause.kind === 'power') return { kind: 'power', piece: cause.piece.label, power: cause.power };
  return {
    kind: 'phantom',
    needy: cause.needy.piece.label,
    from: socketName(cause.from),
    run: runName(net.rig, cause.input),
    swap: wrongWayRound(line, cause)?.piece.label,
    off: canBeOff(supplies, cause.needy),
  };
}

function dependent(net: Network, line: HouseLine, supplies: Supplies): Finding[] {
  const causes = graveCauses(line);
  if (causes.length === 0) return [];
  const { run } = line;
  const [only] = causes;
  return [
    finding(
      'house/dependent',
      `${run.id}/takes`,
      { house: runName(net.rig, run), label: run.label, reasons: causes.map((cause) => reasonOf(net, supplies, line, cause)) },
      {
        related: causes.map((cause) =>
          cause.kind === 'phantom'
            ? { place: cause.input.place, says: BESIDE.powers(socketName(cause.from), cause.needy.piece.label) }
            : { place: cause.piece.place, says: BESIDE.ofOurRig(cause.piece.label) },
        ),
        fixes: causes.length > 1 || !only ? [] : only.kind === 'phantom' ? poweredByThem(line, only, supplies) : before(net, line, only),
      },
    ),
  ];
}

/** Our side behind a transformer, so that theirs is the one that passes the 48 volts; or ours switched off. */
function poweredByThem(line: HouseLine, cause: Extract<Cause, { kind: 'phantom' }>, supplies: Supplies): Fix[] {
  const { needy, input } = cause;
  const parting = line.partingFrom(input);
  const theirs = needy.ways.find((way) => way.line.run === line.run);
  if (!theirs || theirs.supply === undefined) return [];
  const fixes: Fix[] = [];
  const ourStep = parting ? stepOf(input, parting.piece) : -1;
  if (parting && ourStep >= 0 && (theirs.block === undefined || theirs.block === parting.piece)) {
    const wrong = wrongWayRound(line, cause);
    const theirStep = stepOf(line.run, parting.piece);
    if (parting.piece.kind === 'fresh') {
      fixes.push({ kind: 'replace-step', step: `${input.id}/via.${ourStep}`, with: 'transformer-split.iso' });
    } else if (wrong?.ours && theirStep >= 0) {
      fixes.push({
        kind: 'several',
        fixes: [
          { kind: 'replace-step', step: `${input.id}/via.${ourStep}`, with: socketText(wrong.theirs) },
          { kind: 'replace-step', step: `${line.run.id}/via.${theirStep}`, with: socketText(wrong.ours) },
        ],
      });
    }
  }
  if (canBeOff(supplies, needy) && canSupply(theirs)) fixes.push({ kind: 'set-phantom', run: input.id, to: 'off' });
  return fixes;
}

/** The split with a name at which we have the side that passes the 48 volts, and the house the one that blocks them. */
function wrongWayRound(line: HouseLine, { needy, input }: Extract<Cause, { kind: 'phantom' }>): Parting | undefined {
  const theirs = needy.ways.find((way) => way.line.run === line.run);
  const parting = line.partingFrom(input);
  return parting?.piece.kind === 'gear' && parting.ours && theirs?.block === parting.piece ? parting : undefined;
}

/** Whether somebody else could power it, and nothing else needs what our switch serves. */
function canBeOff({ needy: all }: Supplies, { piece, ways, supplier }: Needy): boolean {
  if (!supplier) return false;
  const { end } = supplier;
  const sameSwitch = (other: Socket) =>
    other.key === end.key ||
    (other.piece === end.piece &&
      supplyOf(end.port) === 'shared' &&
      supplyOf(other.port) === 'shared' &&
      other.port.bank === end.port.bank);
  const others = all.some((other) => other.piece !== piece && other.supplier && sameSwitch(other.supplier.end));
  return !others && ways.some((way) => way.line.run.kind === 'house' && canSupply(way));
}

/** The house takes its side before our electronics. */
function before(net: Network, line: HouseLine, cause: Exclude<Cause, { kind: 'phantom' }>): Fix[] {
  const [parting] = line.parted === 1 ? line.partings : [];
  if (!parting || !line.line) return [];
  const { input } = parting;
  const { run } = line;
  // Only a microphone's line can be split as it is.
  const path = wholePath(net, line.line);
  const at = path.findIndex((joint) => joint.from.piece === cause.piece);
  if (!kindsAt(path.slice(0, at)).includes('mic') || input.to.ports.length !== 1) return [];
  if (cause.piece === parting.piece && cause.piece.kind === 'fresh' && parting.ours) {
    const step = stepOf(input, parting.piece);
    return step < 0 ? [] : [{ kind: 'replace-step', step: `${input.id}/via.${step}`, with: 'transformer-split.iso' }];
  }
  if (run.via.length !== 1 || run.via[0]?.piece !== cause.piece.id) return [];
  return [
    {
      kind: 'several',
      fixes: [
        { kind: 'remove-step', step: `${run.id}/via.0` },
        { kind: 'add-step', run: input.id, model: 'transformer-split.iso', where: 'first' },
      ],
    },
  ];
}

// ---- lines that are re-plugged -------------------------------------------------------------------

function replugged(net: Network, { replugged: lines, count }: HouseImpact): Finding[] {
  const [first] = lines;
  if (!first) return [];
  const spares = lines.map((line) => spareFor(net, line));
  const fixes = spares.flatMap((spare) => spare?.fixes ?? []);
  return [
    finding(
      'house/replugged',
      `${first.run.id}/takes`,
      {
        lines: lines.map(({ run, into }) => ({
          house: runName(net.rig, run),
          label: run.label,
          into: into?.label ?? '',
        })),
        of: count,
        spare: spares.flatMap((spare) => (spare ? [spare.written] : [])),
      },
      {
        related: lines.slice(1).map(({ run }) => ({ place: run.place, says: BESIDE.repluggedToo(runName(net.rig, run)) })),
        fixes: spares.every((spare) => spare?.fixes) ? [{ kind: 'several', fixes }] : [],
      },
    ),
  ];
}

/** Another output of the source that suits our input as it is, and what to write for it where the split is only ours to write. */
function spareFor(net: Network, line: HouseLine): { written: string; fixes?: Fix[] } | undefined {
  const [parting] = line.parted === 1 ? line.partings : [];
  if (!parting) return undefined;
  const { run } = line;
  const { input, piece } = parting;
  const source = net.rig.pieces.get(input.takes?.id ?? '');
  const end = net.rig.pieces.get(input.to.piece)?.model.ports.find((port) => port.direction === 'input' && port.id === input.to.ports[0]);
  if (!source?.name || !end || input.to.ports.length !== 1) return undefined;
  const spare = source.model.ports.find(
    (output) =>
      output.direction === 'output' &&
      !output.separate &&
      !carriesSpeakerLevel(output) &&
      !net.leaving.has(socket(source, output).key) &&
      canTake(end, { output, kinds: output.modes.map((mode) => mode.kind), phantom: false }),
  );
  if (!spare) return undefined;
  const written = `${source.name}.${spare.id}`;
  const only = (via: readonly PortRef[]) => via.length === 1 && via[0]?.piece === piece.id;
  const named = run.via.some((step) => step.piece === piece.id);
  return {
    written,
    fixes:
      only(input.via) && (!named || only(run.via))
        ? [
            { kind: 'rewrite', place: `${input.id}/takes`, with: written },
            { kind: 'remove-step', step: `${input.id}/via.0` },
            ...(named ? [{ kind: 'remove-step', step: `${run.id}/via.0` } as const] : []),
          ]
        : undefined,
  };
}
