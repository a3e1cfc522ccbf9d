/** Sources that more desks take than there are legs for, legs named that are not there, and splits nobody needs. */
import type { Piece, Run } from '#rig';
import { type Finding, type Fix, finding } from './findings';
import { runName, signalLabel, socketName, socketText } from './naming';
import { type Network, type Snag, socket } from './network';

export function splits(net: Network): Finding[] {
  return [...net.snags.flatMap((snag) => fromSnag(net, snag)), ...needless(net)];
}

function fromSnag(net: Network, snag: Snag): Finding[] {
  const { rig } = net;
  if (snag.kind === 'no-free-leg') {
    const other = snag.taken.runs[0];
    if (!other) return [];
    const instrument = snag.taken.from.port.modes.some((mode) => mode.kind === 'instrument');
    const ours = [other, snag.run].find((run) => run.kind === 'input') ?? snag.run;
    const models = instrument ? ['active-di', 'y-lead'] : ['y-lead', 'transformer-split'];
    return [
      finding(
        'splits/missing',
        `${snag.run.id}/takes`,
        {
          source: signalLabel(rig, snag.signal),
          output: socketName(snag.taken.from),
          takers: [runName(rig, other), runName(rig, snag.run)],
          models,
          run: runName(rig, ours),
          house: [other, snag.run].some((run) => run.kind === 'house'),
        },
        {
          related: [{ place: `${other.id}/takes`, says: `${runName(rig, other)} takes it here` }],
          fixes: models.map((model) => ({ kind: 'add-step', run: ours.id, model, where: 'first' })),
        },
      ),
    ];
  }
  if (snag.kind === 'leg-taken') {
    const other = snag.taken.runs[0];
    if (!other) return [];
    const free = siblings(snag.socket.piece).filter((port) => !net.leaving.has(socket(snag.socket.piece, port).key));
    const fixes: Fix[] = free.map((port) => ({ kind: 'replace-step', step: snag.ref.place, with: `${snag.socket.piece.name ?? snag.socket.piece.model.id}.${port.id}` }));
    return [
      finding(
        'splits/leg-taken-twice',
        snag.ref.place,
        { leg: socketName(snag.socket), takers: [runName(rig, other), runName(rig, snag.run)], free: free.map((port) => socketText(socket(snag.socket.piece, port))) },
        { related: [{ place: other.place, says: `${runName(rig, other)} has this leg` }], fixes },
      ),
    ];
  }
  if (snag.kind === 'no-such-port' && snag.direction === 'any') {
    const ports = [...new Set(snag.piece.model.ports.map((port) => port.id))];
    const fixes: Fix[] = ports
      .filter((id) => snag.piece.model.ports.some((port) => port.id === id && port.direction === 'output'))
      .map((id) => ({ kind: 'replace-step', step: snag.ref.place, with: `${snag.piece.name ?? snag.piece.model.id}.${id}` }));
    return [finding('splits/no-such-leg', snag.ref.place, { leg: snag.ref.port ?? '', gear: snag.piece.label, ports }, { related: [modelOf(snag.piece)], fixes })];
  }
  if (snag.kind === 'channel-left-out') {
    return [
      finding('splits/side-left-out', `${snag.run.id}/takes`, {
        source: signalLabel(rig, snag.signal),
        channels: snag.channels,
        run: runName(rig, snag.run),
      }),
    ];
  }
  if (snag.kind === 'nothing-comes-out') {
    const step = snag.run.via.findIndex((via) => via.piece === snag.piece.id);
    return [
      finding('splits/nothing-comes-out', `${snag.run.id}/via.${step}`, { gear: snag.piece.label, run: runName(rig, snag.run) }, { related: [modelOf(snag.piece)] }),
    ];
  }
  return [];
}

/** Outputs that a splitter's input feeds alike: passed on as they come, so that one is as good as another. */
function siblings(piece: Piece) {
  return piece.model.ports.filter((port) => port.direction === 'output' && port.tie !== undefined);
}

function isSplitter(piece: Piece): boolean {
  const passing = siblings(piece).filter((port) => port.modes.length === 0 && port.tie?.how !== 'switch' && port.tie?.padDb === 0);
  return passing.length === 2 && new Set(passing.flatMap((port) => port.tie?.inputs)).size === 1;
}

function needless(net: Network): Finding[] {
  const findings: Finding[] = [];
  const seen = new Set<string>();
  const look = (run: Run) => {
    for (const [index, step] of run.via.entries()) {
      const piece = net.rig.pieces.get(step.piece);
      if (!piece || seen.has(piece.id)) continue;
      seen.add(piece.id);
      if (!isSplitter(piece) || piece.holding?.how === 'theirs') continue;
      const used = siblings(piece).filter((port) => net.leaving.has(socket(piece, port).key));
      if (used.length !== 1) continue;
      const place = `${run.id}/via.${index}`;
      const signal = run.kind === 'output' ? run.carries : run.takes?.id;
      findings.push(
        finding('splits/needless', place, { split: piece.label, source: signalLabel(net.rig, signal), run: runName(net.rig, run) }, { fixes: [{ kind: 'remove-step', step: place }] }),
      );
    }
  };
  for (const run of net.rig.inputs) look(run);
  for (const run of net.rig.house) look(run);
  return findings;
}

function modelOf(piece: Piece): { place: string; says: string } {
  return { place: piece.model.place, says: `what ${piece.label} is made of` };
}
