/** Sources that more desks take than there are legs for, legs named that are not there, and splits nobody needs. */
import { CONNECTORS, type InputRun, type Piece, type Port, type PortRef, type Rig, type Run } from '#rig';
import { boxed } from '../cure/boxes';
import type { Fix } from '../cure/fix';
import { pairFrom } from '../cure/free';
import { runName, signalLabel, socketName, socketText } from '../solve/naming';
import { type Joint, type Network, type Snag, type Socket, socket, stepOf } from '../solve/network';
import { gives48V, isDigital, needsPhantom } from '../solve/ports';
import { BESIDE } from '../words/beside';
import { carriesTwo } from './connectors/sides';
import { type Finding, finding } from './finding';
import { channelsOf } from './mixes/contents';

type NoFreeLeg = Extract<Snag, { kind: 'no-free-leg' }>;

export function splits(net: Network): Finding[] {
  const spread = new Set<Run>();
  const missing = new Set<string>();
  const found = net.snags.flatMap((snag) => {
    if (snag.kind === 'no-such-port') {
      // Once for all channels of a line.
      if (missing.has(snag.ref.place)) return [];
      missing.add(snag.ref.place);
    }
    if (snag.kind !== 'no-free-leg' || snag.run.kind !== 'input') return fromSnag(net, snag);
    // Once for all its inputs.
    if (spread.has(snag.run)) return [];
    spread.add(snag.run);
    if (snag.taken.runs.includes(snag.run)) return [overSeveral(net, snag.run, snag.signal, snag.taken.from.port)];
    const more = net.snags.filter((each) => each !== snag && each.kind === 'no-free-leg' && each.run === snag.run);
    return unsplit(net, [snag, ...(more as NoFreeLeg[])]);
  });
  return [...found, ...outputsJoined(net), ...needless(net)];
}

/** Outputs that copper or a winding joins to one another: what comes in on several sockets, and out on one that is no electronics and no switch. */
function outputsJoined(net: Network): Finding[] {
  return net.kept.ofRig('joining', net.rig, ['pieces'], joining).flatMap(({ piece, outputs }) =>
    outputs.flatMap(({ id, inputs }) => {
      const joints = inputs.flatMap((input) => net.entering.get(`${piece.id}.${input}`)?.slice(0, 1) ?? []);
      const runs = [...new Set(joints.flatMap((joint) => joint.runs[0] ?? []))];
      const [, second] = runs;
      if (!second) return [];
      const step = stepOf(second, piece);
      const signals = runs.map((run) => signalLabel(net.rig, run.kind === 'output' ? run.carries : run.takes?.id));
      return [
        finding(
          'splits/outputs-joined',
          step >= 0 ? `${second.id}/via.${step}` : second.place,
          { gear: piece.label, output: id, signals },
          {
            about: [piece.id, ...runs.map(({ id }) => id)],
            related: runs.slice(0, 1).map(({ place }) => ({ place, says: BESIDE.otherLine })),
            fixes: apart(net, piece, runs, joints),
          },
        ),
      ];
    }),
  );
}

/** Gear with outputs that are made of several inputs, and by no electronics and no switch. */
function joining({ pieces }: Pick<Rig, 'pieces'>) {
  return [...pieces.values()].flatMap((piece) => {
    const outputs = piece.model.ports.flatMap(({ direction, tie, id }) =>
      direction === 'output' && tie && tie.inputs.length >= 2 && tie.how !== 'active' && tie.how !== 'switch'
        ? [{ id, inputs: tie.inputs }]
        : [],
    );
    return outputs.length > 0 ? [{ piece, outputs }] : [];
  });
}

/** Each by itself, without the piece, on an input of its own: of two lines that end at one, or at two. */
function apart(net: Network, piece: Piece, runs: readonly Run[], joints: readonly Joint[]): Fix[] {
  const [first, second] = runs;
  if (runs.length !== 2 || first?.kind !== 'input' || second?.kind !== 'input') return [];
  const steps = runs.map((run) => ({ run, step: stepOf(run, piece) }));
  const joint = joints.find((each) => each.runs.includes(second));
  if (!joint || steps.some(({ step }) => step < 0)) return [];
  const out: Fix[] = steps.map(({ run, step }) => ({ kind: 'remove-step', step: `${run.id}/via.${step}` }));
  if (first.to.piece !== second.to.piece || first.to.ports.join() !== second.to.ports.join()) return [{ kind: 'several', fixes: out }];
  const kinds = joint.from.port.modes.map(({ kind }) => kind);
  const device = net.rig.pieces.get(second.to.piece);
  const free = device?.model.ports.filter(
    (port) =>
      port.direction === 'input' && port.modes.some(({ kind }) => kinds.includes(kind)) && !net.entering.has(socket(device, port).key),
  );
  return (free ?? []).slice(0, 3).map(({ id }) => ({ kind: 'several', fixes: [...out, { kind: 'move', run: second.id, port: id }] }));
}

/** On an input of more ports than it has channels. */
function overSeveral(net: Network, run: InputRun, signal: string, from: Port): Finding {
  const { ports } = run.to;
  const channels = run.takes?.port === undefined ? Math.max(1, channelsOf(net.rig, signal).length) : 1;
  const inOne = from.modes.some(carriesTwo) ? from.connector : undefined;
  const [first, last] = [ports[0], ports[channels - 1]];
  const fixes: Fix[] =
    first === undefined || last === undefined || inOne
      ? []
      : [{ kind: 'move', run: run.id, port: channels === 1 ? first : `${first}..${last}` }];
  const figures = { source: signalLabel(net.rig, signal), run: runName(net.rig, run), inputs: ports.length, channels, inOne };
  return finding('splits/over-several', `${run.id}/port`, figures, { fixes });
}

/** Of all the channels that one line takes, and that others take as well. */
function unsplit(net: Network, snags: readonly [NoFreeLeg, ...NoFreeLeg[]]): Finding[] {
  const { rig } = net;
  const [{ run, signal, taken }] = snags;
  const others = [...new Set(snags.flatMap((each) => each.taken.runs.find((taker) => taker !== run) ?? []))];
  const [other] = others;
  // Two mixes on one output are not for a split to cure; `capacity` tells.
  if (!other || (other.kind === 'output' && run.kind === 'output' && taken.from.piece.id === run.from.piece)) return [];
  const takers = [...others, run];
  const ours = takers.find((each) => each.kind === 'input') ?? run;
  const theirs = takers.find((each) => each.kind === 'house');
  const { port } = taken.from;
  const digital = isDigital(port);
  // Nothing joins a channel of a computer to a line of the house's: that is told there.
  if (digital && port.connector === undefined && theirs) return [];
  const models = digital ? [] : splitters(net, taken, ours, theirs);
  const fixes: Fix[] = digital
    ? [{ kind: 'remove', statement: run.id }]
    : models.map((model) => ({ kind: 'add-step', run: ours.id, model, where: 'first' }));
  return [
    finding(
      'splits/missing',
      `${run.id}/takes`,
      {
        source: port.separate && snags.length === 1 ? socketName(taken.from) : signalLabel(rig, signal),
        output: socketName(taken.from),
        takers: takers.map((each) => runName(rig, each)),
        models,
        run: runName(rig, ours),
        // One for the hall and one for the ears, and not two of one of them.
        house: theirs !== undefined && takers.some((each) => each.kind === 'input'),
      },
      {
        about: others.map(({ id }) => id),
        related: others.map((each) => ({ place: `${each.id}/takes`, says: BESIDE.takesHere(runName(rig, each)) })),
        fixes,
      },
    ),
  ];
}

/** What would split it, as it is written into our line. */
function splitters(net: Network, { from }: Joint, ours: Run, theirs: Run | undefined): readonly string[] {
  const ends = net.lines.filter((line) => line.run === ours);
  if (from.port.modes.some((mode) => mode.kind === 'instrument')) {
    // A DI splits too, where its line ends at a microphone input that powers it.
    const di = boxed(net, ends[0], 'first').some((fix) => fix.kind === 'add-step' && fix.model === 'active-di');
    return di ? ['active-di', 'y-lead'] : ['y-lead'];
  }
  if (from.piece.kind === 'source' && ours.kind === 'input' && theirs?.kind === 'house') {
    // With copper to both desks, or the house on the isolated side, our input would be the one that powers it.
    const powers = net.rig.pieces.get(theirs.piece)?.model.ports.some((port) => port.direction === 'input' && gives48V(port));
    if (needsPhantom(from.port) && powers) return ['transformer-split.iso'];
    // By its thru as it comes to us, and balanced to the house, which is further away.
    const plugged = (end: Socket | undefined) => end?.port.modes.some(({ kind }) => kind === 'line') === true;
    const di = ends.length === 1 ? 'passive-di.thru' : ends.length === channelsOf(net.rig, from.piece.id).length ? 'stereo-di' : undefined;
    if (di && isUnbalancedLine(from.port) && ends.every(({ end }) => plugged(end))) return [di, 'y-lead'];
  }
  return ['y-lead', 'transformer-split'];
}

function isUnbalancedLine({ connector, modes }: Port): boolean {
  return connector !== undefined && CONNECTORS[connector].poles < 3 && modes.some(({ kind }) => kind === 'line');
}

function fromSnag(net: Network, snag: Snag): Finding[] {
  const { rig } = net;
  if (snag.kind === 'no-free-leg') return unsplit(net, [snag]);
  if (snag.kind === 'leg-taken') {
    const other = snag.taken.runs[0];
    if (!other) return [];
    const { piece, port: leg } = snag.socket;
    const same = other === snag.run;
    // Two channels of one line in one socket: `capacity` tells.
    if (same && (leg.tie?.inputs ?? []).some((input) => (net.entering.get(`${piece.id}.${input}`)?.length ?? 0) > 1)) return [];
    // Another channel's side would bring another signal.
    const free = siblings(piece).filter(
      (port) => !net.leaving.has(socket(piece, port).key) && port.tie?.inputs.some((input) => leg.tie?.inputs.includes(input)),
    );
    // Behind a split on this line, the other finds a side of that by itself.
    const behind = same || other.via.length !== 1 ? undefined : splitBehind(rig, snag.run, snag.ref);
    const fixes: Fix[] = same
      ? []
      : [
          ...(behind ? [{ kind: 'remove-step' as const, step: `${other.id}/via.0` }] : []),
          ...free.map((port): Fix => ({ kind: 'replace-step', step: snag.ref.place, with: socketText(socket(piece, port)) })),
        ];
    return [
      finding(
        'splits/leg-taken-twice',
        snag.ref.place,
        {
          leg: socketName(snag.socket),
          takers: [runName(rig, other), runName(rig, snag.run)],
          free: free.map((port) => socketText(socket(piece, port))),
          behind: behind?.label,
          same,
        },
        { related: [{ place: other.place, says: BESIDE.hasLeg(runName(rig, other)) }], fixes },
      ),
    ];
  }
  if (snag.kind === 'no-such-port' && snag.direction === 'any') {
    const ports = [...new Set(snag.piece.model.ports.map((port) => port.id))];
    const fixes: Fix[] = ports
      .filter((id) =>
        snag.piece.model.ports.some(
          (port) => port.id === id && port.direction === 'output' && !net.leaving.has(socket(snag.piece, port).key),
        ),
      )
      .map((id) => ({ kind: 'replace-step', step: snag.ref.place, with: `${snag.piece.name ?? snag.piece.model.id}.${id}` }));
    return [
      finding(
        'splits/no-such-leg',
        snag.ref.place,
        { leg: snag.ref.port ?? '', gear: snag.piece.label, ports },
        { related: [modelOf(snag.piece)], fixes },
      ),
    ];
  }
  if (snag.kind === 'channel-left-out') {
    return [
      finding(
        'splits/side-left-out',
        `${snag.run.id}/takes`,
        {
          source: signalLabel(rig, snag.signal),
          name: rig.sources.get(snag.signal)?.name ?? '',
          channels: snag.channels,
          run: runName(rig, snag.run),
          house: snag.run.kind === 'house',
        },
        { fixes: otherSide(net, snag.run, snag.signal, snag.channels) },
      ),
    ];
  }
  if (snag.kind === 'second-piece') {
    const step = stepOf(snag.run, snag.piece);
    const place = `${snag.run.id}/via.${step}`;
    const splitter = isSplitter(snag.piece);
    return [
      finding(
        'splits/second-piece',
        place,
        {
          piece: snag.piece.label,
          model: snag.piece.model.id,
          run: runName(rig, snag.run),
          first: runName(rig, snag.first),
          splitter,
          same: snag.first === snag.run,
          meant: isMeantOnce(net, snag),
        },
        {
          about: [snag.run, snag.first].flatMap((run) => (run.kind === 'output' || !run.takes ? [] : [run.takes.id])),
          related: snag.first === snag.run ? [] : [{ place: snag.first.place, says: BESIDE.firstInLine }],
          fixes: splitter || snag.first === snag.run ? [{ kind: 'remove-step', step: place }] : [],
        },
      ),
    ];
  }
  if (snag.kind === 'nothing-comes-out') {
    const step = stepOf(snag.run, snag.piece);
    return [
      finding(
        'splits/nothing-comes-out',
        `${snag.run.id}/via.${step}`,
        { gear: snag.piece.label, run: runName(rig, snag.run) },
        { related: [modelOf(snag.piece)], fixes: [{ kind: 'remove-step', step: `${snag.run.id}/via.${step}` }] },
      ),
    ];
  }
  return [];
}

/** A second port for the second channel where the next one is free; else one channel by its name. */
function otherSide(net: Network, run: Run, signal: string, channels: readonly string[]): Fix[] {
  const name = net.rig.sources.get(signal)?.name;
  const pair = run.kind === 'input' && channels.length === 2 ? pairFrom(net, run) : undefined;
  const fixes: Fix[] = pair === undefined ? [] : [{ kind: 'move', run: run.id, port: pair }];
  if (name !== undefined)
    fixes.push(...channels.slice(0, 3).map((channel): Fix => ({ kind: 'rewrite', place: `${run.id}/takes`, with: `${name}.${channel}` })));
  return fixes;
}

/** Outputs that a splitter's input feeds alike: passed on as they come, so that one is as good as another. */
function siblings(piece: Piece) {
  return piece.model.ports.filter((port) => port.direction === 'output' && port.tie !== undefined);
}

/** The split that a line goes through behind one of its steps. */
function splitBehind(rig: Rig, { via }: Run, step: PortRef): Piece | undefined {
  const at = via.indexOf(step);
  const behind = at < 0 ? [] : via.slice(at + 1);
  return behind.flatMap(({ piece }) => rig.pieces.get(piece) ?? []).find(isSplitter);
}

function isSplitter(piece: Piece): boolean {
  const passing = siblings(piece).filter((port) => port.modes.length === 0 && port.tie?.how !== 'switch' && port.tie?.padDb === 0);
  return passing.length === 2 && new Set(passing.flatMap((port) => port.tie?.inputs)).size === 1;
}

function needless(net: Network): Finding[] {
  const findings: Finding[] = [];
  // What has been told already: a side that two take leaves the other one free.
  const seen = new Set(net.snags.flatMap((snag) => (snag.kind === 'leg-taken' ? [snag.socket.piece.id] : [])));
  const look = (run: Run) => {
    for (const [index, step] of run.via.entries()) {
      const piece = net.rig.pieces.get(step.piece);
      if (!piece || seen.has(piece.id)) continue;
      seen.add(piece.id);
      if (!isSplitter(piece) || piece.holding?.how === 'theirs' || leadsNowhere(net, run)) continue;
      const used = siblings(piece).filter((port) => net.leaving.has(socket(piece, port).key));
      if (used.length !== 1) continue;
      const place = `${run.id}/via.${index}`;
      const signal = run.kind === 'output' ? run.carries : run.takes?.id;
      findings.push(
        finding(
          'splits/needless',
          place,
          { split: piece.label, source: signalLabel(net.rig, signal), run: runName(net.rig, run) },
          { fixes: [{ kind: 'remove-step', step: place }] },
        ),
      );
    }
  };
  for (const run of net.rig.inputs) look(run);
  for (const run of net.rig.house) look(run);
  return findings;
}

/** Whether a run goes to gear that is not known, or not known to have that socket: that is told by itself. */
function leadsNowhere(net: Network, run: Run): boolean {
  return run.kind === 'input' && !net.lines.some((line) => line.run === run && line.end?.piece.id === run.to.piece);
}

function modelOf(piece: Piece): { place: string; says: string } {
  return { place: piece.model.place, says: BESIDE.madeOf(piece.label) };
}

/** Whether two lines that each have a box without a name go on through one that has one: it has one plug, so there is one box before it. */
function isMeantOnce({ rig }: Network, { run, first, piece }: { readonly run: Run; readonly first: Run; readonly piece: Piece }): boolean {
  const behind = run.via.slice(stepOf(run, piece) + 1).map((step) => step.piece);
  return first !== run && behind.some((id) => rig.pieces.get(id)?.kind === 'gear' && first.via.some((step) => step.piece === id));
}
