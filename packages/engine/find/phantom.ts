/** What is wrong with phantom power: what gets none, what gets it twice or too little, and what gets it and should not. */
import { CONNECTORS, type InputRun, type Piece, type Port, type Run } from '#rig';
import type { Fix } from '../cure/fix';
import { otherMicrophone } from '../cure/microphones';
import { isMovable } from '../cure/move';
import { swappedWith, swaps } from '../cure/swaps';
import { plugName, runName, signalLabel, socketName } from '../solve/naming';
import { findPort, type Joint, type Line, type Network, type Socket, socket, stepOf } from '../solve/network';
import { arrives, wholePath } from '../solve/path';
import { guaranteedVolts, P48_MOST_A } from '../solve/phantomVolts';
import { blockOn, reachedFrom } from '../solve/phantomWires';
import { demandOf, freePortsFor, gives48V, isHarmed, needsPhantom, passesPhantom, supplyOf } from '../solve/ports';
import { canSupply, type Live, type Needy, type Supplies, type Way } from '../solve/supply';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

/** Less than this short of what P48 guarantees is no finding: rounding. Volts. */
const CLOSE_ENOUGH_V = 0.05;

export function phantom(net: Network, supplied: Supplies): Finding[] {
  return [
    ...told(net, supplied),
    ...once(supplied.needy.filter((needy) => needy.suppliers.length === 0).map((needy) => unpowered(net, needy))),
    ...supplied.needy.flatMap((needy) => [...twice(supplied, needy), ...weak(net, needy)]),
    ...overBudget(net, supplied),
    ...reached(net, supplied),
    ...keepOff(net, supplied),
  ];
}

/** Two channels of one line that miss the same are told once. */
function once(findings: readonly Finding[]): Finding[] {
  const seen = new Set<string>();
  return findings.filter(({ code, place }) => !seen.has(`${code} ${place}`) && seen.add(`${code} ${place}`));
}

function unpowered(net: Network, { piece, ways }: Needy): Finding {
  const way = ways.find((candidate) => candidate.line.run.kind === 'input') ?? (ways[0] as Way);
  const { run } = way.line;
  const source = piece.label;
  const about = [piece.id];
  const related = [{ place: piece.place, says: BESIDE.needsPhantom(source) }];
  const off = ways.find((candidate) => candidate.off && candidate.block === undefined && candidate.supply !== undefined);
  if (off) {
    const place = `${off.line.run.id}/phantom`;
    return finding(
      'phantom/missing',
      place,
      { source, port: socketName(off.end), off: true, house: mayHaveHouse(net), free: [], swaps: [] },
      { about, related, fixes: [{ kind: 'rewrite', place, with: '' }] },
    );
  }
  if (way.block && way.supply) return blocked(net, piece, way, way.block, { about, related });
  const free = freePortsFor(net, way.last, ['mic']).filter((id) =>
    way.end.piece.model.ports.some((port) => port.id === id && gives48V(port)),
  );
  const moves: Fix[] = run.kind === 'input' && isMovable(run) ? free.map((port) => ({ kind: 'move', run: run.id, port })) : [];
  const exchanges = swaps(net, way.line);
  const names = free.map((id) => `${way.end.piece.name ?? way.end.piece.label}.${id}`);
  return finding(
    'phantom/missing',
    run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`,
    { source, port: socketName(way.end), off: false, house: mayHaveHouse(net), free: names, swaps: swappedWith(net, exchanges) },
    { about, related, fixes: [...moves, ...exchanges] },
  );
}

/** Unless the rig says that there is none. */
function mayHaveHouse({ rig }: Network): boolean {
  return rig.noHouse === undefined;
}

/** Something on the way lets none through: by its other side, by another box or without it, as far as what others have by it stays whole. */
function blocked(net: Network, piece: Piece, way: Way, block: Piece, more: Pick<Finding, 'about' | 'related'>): Finding {
  const { run } = way.line;
  const step = stepOf(run, block);
  const figures = { source: piece.label, by: block.label, port: socketName(way.end), itself: block === piece, house: mayHaveHouse(net) };
  if (step < 0) {
    const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
    return finding('phantom/blocked', place, { ...figures, leg: undefined, others: [], box: undefined, leave: false }, more);
  }
  const place = `${run.id}/via.${step}`;
  const outputs = block.model.ports.filter((port) => port.direction === 'output');
  const free = outputs.find((port) => carries48V(port) && !net.leaving.has(socket(block, port).key));
  const leg = free && `${block.name ?? block.model.id}.${free.id}`;
  // Who else has a side of it, or goes through it with us.
  const shared = outputs.flatMap((port) => net.leaving.get(socket(block, port).key) ?? []).flatMap(({ runs }) => runs);
  const others = [...new Set(shared)].filter((other) => other !== run);
  const house = others.some((other) => other.kind === 'house');
  // The house's own input would be the one that powers it, by the side that is wired straight through.
  const box = block.kind !== 'fresh' || others.length === 0 ? undefined : house ? 'transformer-split.iso' : 'y-lead';
  const leave = others.length === 0 && !leg;
  const fixes: Fix[] = [
    ...(leg ? [{ kind: 'replace-step', step: place, with: leg } as const] : []),
    ...(box ? [{ kind: 'replace-step', step: place, with: box } as const] : []),
    ...(leave ? [{ kind: 'remove-step', step: place } as const] : []),
  ];
  const names = others.map((other) => runName(net.rig, other));
  return finding('phantom/blocked', place, { ...figures, leg, others: names, box, leave }, { ...more, fixes });
}

function carries48V({ connector, tie }: Port): boolean {
  return passesPhantom(tie) && connector !== undefined && CONNECTORS[connector].poles >= 3;
}

// ---- what the rig says itself --------------------------------------------------------------------

/** `phantom off` where a neighbour's switch is on, and `phantom on` where there is none. */
function told(net: Network, { live, needyOn }: Supplies): Finding[] {
  return net.rig.inputs.flatMap((run): Finding[] => {
    const piece = net.rig.pieces.get(run.to.piece);
    if (run.phantom === undefined || !piece) return [];
    const place = `${run.id}/phantom`;
    const source = signalLabel(net.rig, run.takes?.id);
    const ends = run.to.ports.flatMap((id) => {
      const port = findPort(piece, id, 'input');
      return port ? [socket(piece, port)] : [];
    });
    if (run.phantom === 'on') {
      const without = ends.find((end) => !gives48V(end.port));
      if (!without) return [];
      return [
        finding(
          'phantom/not-there',
          place,
          { source, port: socketName(without) },
          { fixes: ends.every((end) => !gives48V(end.port)) ? [{ kind: 'rewrite', place, with: '' }] : [] },
        ),
      ];
    }
    const end = ends.find(({ key }) => live.has(key));
    const neighbour = end && inBank(live, end).find((each) => each.own);
    if (!end || !neighbour) return [];
    const line = net.lines.find((each) => each.run === run);
    const away = line ? elsewhere(net, line, live) : NOWHERE;
    // Deleted, it keeps nothing away: what must not get it needs a transformer as well.
    const needy = line !== undefined && needyOn(line) !== undefined;
    const deleted: Fix = { kind: 'rewrite', place, with: '' };
    const alone: Fix = needy ? { kind: 'several', fixes: [transformer(run), deleted] } : deleted;
    return [
      finding(
        'phantom/not-off',
        place,
        { source, port: socketName(end), because: neighbour.because?.label, by: socketName(neighbour.socket), free: away.free, needy },
        { fixes: [...away.fixes, alone] },
      ),
    ];
  });
}

/** The other inputs on the same switch that are on. */
function inBank(live: ReadonlyMap<string, Live>, end: Socket): Live[] {
  if (supplyOf(end.port) !== 'shared') return [];
  return [...live.values()].filter(
    ({ socket: other }) => other.piece === end.piece && other.port.bank === end.port.bank && other.key !== end.key,
  );
}

// ---- twice, too little, too much -----------------------------------------------------------------

/** Two units that supply one microphone. That the house may do so as well is told with the line of theirs that depends on us. */
function twice({ live }: Supplies, { piece, suppliers: [first, ...more] }: Needy): Finding[] {
  const second = more.find((way) => way.end.piece !== first?.end.piece);
  // Where the rig says off and the switch is on all the same, that is told instead.
  if (!first || !second || first.off || second.off) return [];
  const { run } = second.line;
  const fixes: Fix[] = [];
  if (run.kind === 'input') {
    if (live.get(second.end.key)?.own && inBank(live, second.end).every((each) => !each.own)) {
      fixes.push({ kind: 'set-phantom', run: run.id, to: 'off' });
    }
    fixes.push({ kind: 'add-step', run: run.id, model: 'isolating-transformer', where: 'last' });
  }
  return [
    finding(
      'phantom/two-supplies',
      run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`,
      { source: piece.label, first: socketName(first.end), second: socketName(second.end), off: fixes.length > 1 },
      {
        about: [piece.id],
        related: [
          { place: piece.place, says: BESIDE.needsPhantom(piece.label) },
          { place: first.line.run.place, says: BESIDE.otherSupply },
        ],
        fixes,
      },
    ),
  ];
}

/** Less left at a microphone than the standard lets it count on. */
function weak(net: Network, { piece, suppliers, drawsA, volts }: Needy): Finding[] {
  const [by] = suppliers;
  if (!by || volts === undefined) return [];
  const currentA = drawsA ?? P48_MOST_A;
  const most = currentA > P48_MOST_A + 1e-9;
  const wantedV = guaranteedVolts(currentA);
  if (!most && volts >= wantedV - CLOSE_ENOUGH_V) return [];
  const { run } = by.line;
  const fixes = inBetween(net, run);
  return [
    finding(
      'phantom/weak',
      run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`,
      {
        source: piece.label,
        port: socketName(by.end),
        currentA,
        stated: drawsA !== undefined,
        leftV: Math.max(0, volts),
        wantedV: Math.max(0, wantedV),
        most,
        pad: fixes.length > 0,
      },
      { about: [piece.id], related: [{ place: piece.place, says: BESIDE.needsPhantom(piece.label) }], fixes },
    ),
  ];
}

/** Without a pad on the way. */
function inBetween(net: Network, { id, via }: Run): Fix[] {
  return via.flatMap(({ piece }, index): Fix[] =>
    net.rig.pieces.get(piece)?.model.lineage.includes('pad') ? [{ kind: 'remove-step', step: `${id}/via.${index}` }] : [],
  );
}

/** What a whole unit can supply, against what is fed from it. */
function overBudget(net: Network, { needy, live }: Supplies): Finding[] {
  const fed = new Map<Piece, { readonly needy: Needy; readonly way: Way; readonly currentA: number }[]>();
  for (const each of needy) {
    const way = each.supplier;
    if (way?.end.piece.model.phantomA === undefined || way.line.run.kind !== 'input') continue;
    const taker = { needy: each, way, currentA: each.drawsA ?? P48_MOST_A };
    fed.set(way.end.piece, [...(fed.get(way.end.piece) ?? []), taker]);
  }
  return [...fed].flatMap(([device, takers]) => {
    const hasA = device.model.phantomA ?? 0;
    const takesA = takers.reduce((sum, { currentA }) => sum + currentA, 0);
    // Beyond rounding: sums of tenths are never exact.
    if (takesA <= hasA + 1e-9) return [];
    let sum = 0;
    const over = takers.find(({ currentA }) => {
      sum += currentA;
      return sum > hasA + 1e-9;
    });
    const elsewhere = takers.filter((each) => each.needy.ways.some((way) => way.line.run.kind === 'house' && canSupply(way)));
    const offers = elsewhere.filter(
      ({ way, currentA }) => takesA - currentA <= hasA + 1e-9 && inBank(live, way.end).every((each) => !each.own),
    );
    return [
      finding(
        'phantom/over-budget',
        `${over?.way.line.run.id}/port`,
        {
          device: device.label,
          hasA,
          takesA,
          takers: takers.map((each) => ({
            source: nameOf(net, each.needy, each.way),
            currentA: each.currentA,
            stated: each.needy.drawsA !== undefined,
          })),
          house: elsewhere.map((each) => nameOf(net, each.needy, each.way)),
        },
        {
          about: [device.id, ...takers.map((each) => each.needy.piece.id)],
          related: [{ place: device.place, says: BESIDE.canGive(device.label) }],
          fixes: [
            ...offers.map(({ way }): Fix => ({ kind: 'set-phantom', run: way.line.run.id, to: 'off' })),
            ...takers
              .filter(({ currentA }) => takesA - currentA <= hasA + 1e-9)
              .reverse()
              .slice(0, 3)
              .flatMap((each) => withoutPower(each.needy.piece)),
          ],
        },
      ),
    ];
  });
}

/** Something that does the same and needs no phantom power. */
function withoutPower(piece: Piece): Fix[] {
  if (piece.model.id !== 'active-di') return otherMicrophone(piece, 'dynamic-mic');
  return [
    piece.kind === 'fresh'
      ? { kind: 'replace-step', step: piece.id, with: 'passive-di' }
      : { kind: 'set-model', piece: piece.id, model: 'passive-di' },
  ];
}

/** A DI without a name is told from the next by what comes through it. */
function nameOf(net: Network, { piece }: Needy, { line }: Way): string {
  return piece.kind === 'fresh' ? `${piece.label} of ${signalLabel(net.rig, line.signal)}` : piece.label;
}

// ---- what else gets it ---------------------------------------------------------------------------

/** What gets the 48 volts and should not: sources that are harmed by it, outputs not made for it, and the house by a parallel leg. */
function reached(net: Network, supplied: Supplies): Finding[] {
  const { live } = supplied;
  const findings: Finding[] = [];
  for (const [key, each] of live) {
    for (const joint of net.entering.get(key) ?? []) {
      const line = net.linesThrough(joint).find((candidate) => candidate.end?.key === key);
      const stop = line && reachedFrom(wholePath(net, line));
      if (!line || !stop) continue;
      const { run } = line;
      const place = run.kind === 'input' ? `${run.id}/port` : `${run.id}/takes`;
      const { piece, port } = stop.at;
      const harmful = piece.kind === 'source' && isHarmed(piece);
      const intoOutput = !harmful && !needsPhantom(port) && (stop.unbalanced || isElectronic(stop.at));
      // For a microphone that needs it, whoever supplies it is a matter between the two desks; by accident it is a trap.
      const wanted = supplied.needyOn(line)?.suppliers.some((way) => way.line === line);
      const trap = !each.own && !wanted && run.kind === 'input' && piece.kind === 'source' && !stop.unbalanced;
      if (!harmful && !intoOutput && !trap) continue;
      const away = outOfReach(net, line, each, live);
      const figures = {
        source: signalLabel(net.rig, line.signal),
        port: socketName(each.socket),
        because: away.because?.label,
        own: away.own,
        offAt: away.offAt,
        free: away.free,
      };
      if (harmful) {
        findings.push(
          finding('phantom/harmful', place, figures, {
            about: [piece.id],
            related: [{ place: piece.place, says: BESIDE.harmed(piece.label) }],
            fixes: away.fixes,
          }),
        );
      } else if (intoOutput) {
        findings.push(
          finding(
            'phantom/into-output',
            place,
            { ...figures, output: plugName(stop.at), unbalanced: stop.unbalanced },
            {
              about: [piece.id],
              related: [{ place: piece.place, says: BESIDE.notMadeFor(piece.label) }],
              fixes: away.fixes,
            },
          ),
        );
      }
      if (trap) findings.push(...towardsHouse(net, line, piece, each, away));
    }
  }
  return findings;
}

/** Lines by which the house could send the 48 volts to a source that they harm. Where they are on already, `reached` tells. */
function keepOff(net: Network, { live }: Supplies): Finding[] {
  return net.lines.flatMap((line): Finding[] => {
    const { run, end } = line;
    if (run.kind !== 'house' || !arrives(line) || !end || !gives48V(end.port) || live.has(end.key)) return [];
    const path = wholePath(net, line);
    const source = reachedFrom(path)?.at.piece;
    if (source?.kind !== 'source' || !isHarmed(source)) return [];
    const split = otherWayRound(net, line, path, live);
    return [
      finding(
        'phantom/keep-off',
        `${run.id}/takes`,
        { source: source.label, number: run.number, split: split !== undefined },
        {
          about: [source.id],
          related: [{ place: source.place, says: BESIDE.harmed(source.label) }],
          fixes: [...(split ? [split] : []), { kind: 'add-step', run: run.id, model: 'isolating-transformer', where: 'last' }],
        },
      ),
    ];
  });
}

/** A transformer split where the two lines part, with the house on the isolated side; not where our own input would send the 48 volts. */
function otherWayRound(net: Network, line: Line, path: readonly Joint[], live: ReadonlyMap<string, Live>): Fix | undefined {
  if (line.run.via.length > 0) return undefined;
  const piece = path.at(-1)?.from.piece;
  if (piece?.kind !== 'fresh' || !['y-lead', 'transformer-split'].includes(piece.model.id)) return undefined;
  const ours = net.linesOf(line.signal ?? '').find(({ run }) => run.kind === 'input' && stepOf(run, piece) >= 0);
  if (!ours?.end || live.has(ours.end.key)) return undefined;
  return { kind: 'replace-step', step: `${ours.run.id}/via.${stepOf(ours.run, piece)}`, with: 'transformer-split.direct' };
}

/** An output with electronics behind it, as against a microphone's own, which takes phantom power or does not notice it. */
function isElectronic({ piece, port }: Socket): boolean {
  if (port.tie?.how === 'active') return true;
  const has = (kind: string) => port.modes.some((mode) => mode.kind === kind);
  const powered = !['none', 'phantom'].includes(piece.model.power?.from ?? 'none');
  if (has('mic')) {
    const levelled = port.modes.some((mode) => mode.levelDbu !== undefined);
    return (powered || levelled) && !port.modes.some((mode) => mode.sensitivityVPerPa !== undefined);
  }
  return has('line') || has('phones') || (has('instrument') && powered);
}

function towardsHouse(net: Network, line: Line, piece: Piece, { socket: at, because }: Live, { offAt, off, free, moves }: Away): Finding[] {
  const house = net.linesOf(piece.id).find((other) => other.run.kind === 'house' && other.end && !blockOn(wholePath(net, other)));
  if (!house?.end || line.run.kind !== 'input') return [];
  const { run } = line;
  const step = run.via.findIndex((via) =>
    net.rig.pieces.get(via.piece)?.model.ports.some((port) => port.direction === 'output' && passesPhantom(port.tie)),
  );
  const split = net.rig.pieces.get(run.via[step]?.piece ?? '');
  // A split without a name can be another one; what has a name is what they have.
  const other = split?.kind === 'fresh' && ['y-lead', 'transformer-split'].includes(split.model.id);
  const isolated: Fix = other ? { kind: 'replace-step', step: `${run.id}/via.${step}`, with: 'transformer-split.iso' } : transformer(run);
  return [
    finding(
      'phantom/reaches-house',
      step >= 0 ? `${run.id}/via.${step}` : `${run.id}/port`,
      { source: piece.label, port: socketName(at), because: because?.label, house: socketName(house.end), offAt, free, split: other },
      {
        about: [piece.id],
        related: [{ place: house.run.place, says: BESIDE.wayToHouse }],
        fixes: [isolated, ...off, ...moves],
      },
    ),
  ];
}

const transformer = (run: Run): Fix => ({ kind: 'add-step', run: run.id, model: 'isolating-transformer', where: 'last' });

/** Free inputs of the same gear that no phantom power is on at, for what is at the end of a line: as they are written, and as moves. */
interface Elsewhere {
  readonly free: readonly string[];
  readonly fixes: readonly Fix[];
}

const NOWHERE: Elsewhere = { free: [], fixes: [] };
/** So many are named: nobody reads a list to its end. */
const MOST_FREE = 3;

function elsewhere(net: Network, line: Line, live: ReadonlyMap<string, Live>): Elsewhere {
  const { run } = line;
  const joint = line.joints.at(-1);
  if (run.kind !== 'input' || !isMovable(run) || !joint) return NOWHERE;
  const { piece } = joint.to;
  const ids = freePortsFor(net, joint, demandOf(net, line).kinds).filter((id) => !live.has(`${piece.id}.${id}`));
  const some = ids.slice(0, MOST_FREE);
  return {
    free: some.map((id) => `${piece.name ?? piece.label}.${id}`),
    fixes: some.map((port) => ({ kind: 'move', run: run.id, port })),
  };
}

/** How phantom power is kept from what is at the end of a line. */
interface Away {
  /** What it is on for, on this input or on another one of its switch. */
  readonly because?: Piece;
  /** It is on for what is plugged into this input, and not only for another one on its switch. */
  readonly own: boolean;
  /** The input at which only the rig's word has it on, so that it can be switched off there. */
  readonly offAt: string | undefined;
  readonly off: readonly Fix[];
  readonly free: readonly string[];
  readonly moves: readonly Fix[];
  readonly fixes: readonly Fix[];
}

/**
 * Off where only the rig's word has it on, and for one input alone; where another one's switch does it, free inputs that do not get it
 * (a line's own goes where the line goes); else a transformer in between, which keeps it away.
 */
function outOfReach(net: Network, line: Line, here: Live, live: ReadonlyMap<string, Live>): Away {
  const { run } = line;
  const others = inBank(live, here.socket).filter((each) => each.own);
  const because = here.because ?? others.find((each) => each.because)?.because;
  const own = here.own && (here.because !== undefined || others.length === 0);
  const [word, more] = because ? [] : [...(here.own ? [here] : []), ...others];
  const told = word && !more && net.rig.inputs.find(({ phantom, to }) => phantom === 'on' && isAt(to, word.socket));
  const off: Fix[] = told ? [{ kind: 'set-phantom', run: told.id, to: 'off' }] : [];
  const alsoTold = run.kind === 'input' && run.phantom === 'on';
  const { free, fixes: moves } = own || alsoTold ? NOWHERE : elsewhere(net, line, live);
  return {
    because,
    own,
    offAt: told && word ? socketName(word.socket) : undefined,
    off,
    free,
    moves,
    fixes: run.kind === 'input' ? [...off, ...moves, transformer(run)] : [],
  };
}

function isAt({ piece, ports }: InputRun['to'], { piece: { id }, port }: Socket): boolean {
  return piece === id && ports.includes(port.id);
}
