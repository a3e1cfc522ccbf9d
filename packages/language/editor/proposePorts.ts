/** Ports as completion proposes them: free ones that suit what comes first, saying what they are and what sits on them. */
import { list, NEEDS_SPLIT, NO_MATE, type Remark, remarkText, suits, weightOf } from '#engine';
import type { Piece, Port } from '#rig';
import { connectorText, inputsOf, kindsText, modeTable, outputsOf, tieText } from './figures';
import { paragraphs, plain } from './markdown';
import type { Ranked } from './proposals';
import type { Scene } from './scene';

/** Ports for `input iface.` and `output iface.`: what is free and right, then what is free and wants something, then what is taken. */
export function deviceProposals(scene: Scene, piece: Piece, direction: 'input' | 'output'): Ranked[] {
  const ports = direction === 'input' ? inputsOf(piece.model) : outputsOf(piece.model);
  return direction === 'input' ? inputProposals(scene, piece, ports) : outputProposals(scene, piece, ports);
}

const TAKEN_RANK = 200;

function inputProposals(scene: Scene, piece: Piece, ports: readonly Port[]): Ranked[] {
  const arriving = scene.arrivingAtEnd();
  const steps = scene.stepsBehind();
  const known = new Map<string, readonly Remark[]>();
  // Ports of one line of the model's are alike while they are free.
  const trouble = (port: Port): readonly Remark[] => {
    const key = `${port.bank}/${port.connector}/${port.modes.map(({ kind }) => kind).join()}`;
    let remarks = known.get(key);
    if (!remarks) {
      const line = scene.line({ ends: { piece: piece.id, ports: [port.id], place: '' } });
      remarks = line ? (scene.tried(line, steps) ?? []).filter(isOfThePort) : [];
      known.set(key, remarks);
    }
    return remarks;
  };
  return ports.map((port): Ranked => {
    if (!scene.isFree(piece, port)) return { rank: TAKEN_RANK, proposal: portProposal(scene, piece, port, '') };
    const remarks = arriving.length > 0 && suits(arriving, port) === 0 ? [NO_MATE] : trouble(port);
    return { rank: weightOf(remarks), proposal: portProposal(scene, piece, port, remarkText(remarks)) };
  });
}

const isOfThePort = ({ needs }: Remark) => needs !== NEEDS_SPLIT;

function outputProposals(scene: Scene, piece: Piece, ports: readonly Port[]): Ranked[] {
  const mix = scene.rig.mixes.get(`mix:${scene.behind('carries')?.name}`);
  const single = ports.map((port): Ranked => {
    // A mix goes out on a line output or a headphone output, not back over a link.
    const odd = !port.modes.some(({ kind }) => kind === 'line' || kind === 'phones');
    const rank = (scene.isFree(piece, port) ? 0 : TAKEN_RANK) + (odd ? 50 : 0) + (mix?.stereo && !carriesBoth(port) ? 1 : 0);
    return { rank, proposal: portProposal(scene, piece, port, '') };
  });
  return mix?.stereo ? [...pairs(scene, piece, ports), ...single] : single;
}

const carriesBoth = (port: Port) => port.modes.some(({ channels }) => (channels ?? 1) >= 2);

/** Two outputs next to each other for a stereo mix. */
function pairs(scene: Scene, piece: Piece, ports: readonly Port[]): Ranked[] {
  return ports.flatMap((port, index): Ranked[] => {
    const next = ports[index + 1];
    if (!next || index % 2 === 1 || !numbered(port.id, next.id) || !port.modes.some(({ kind }) => kind === 'line')) return [];
    if (!scene.isFree(piece, port) || !scene.isFree(piece, next)) return [];
    return [
      {
        rank: 0,
        proposal: {
          kind: 'port',
          label: `${port.id}..${next.id}`,
          detail: `${kindsText(port)}, a free pair`,
          documentation: modeTable(port),
        },
      },
    ];
  });
}

function numbered(first: string, second: string): boolean {
  const [a, b] = [/^(.*?)(\d+)$/.exec(first), /^(.*?)(\d+)$/.exec(second)];
  return a !== null && b !== null && a[1] === b[1] && Number(b[2]) === Number(a[2]) + 1;
}

/** Ports that a range from `first` may go up to. */
export function rangeEnds(scene: Scene, piece: Piece, direction: 'input' | 'output', first: string): Ranked[] {
  const start = /^(.*?)(\d+)$/.exec(first);
  const ports = direction === 'input' ? inputsOf(piece.model) : outputsOf(piece.model);
  return ports.flatMap((port): Ranked[] => {
    const end = /^(.*?)(\d+)$/.exec(port.id);
    if (!start || !end || start[1] !== end[1] || Number(end[2]) <= Number(start[2])) return [];
    return [{ rank: scene.isFree(piece, port) ? 0 : 1, proposal: portProposal(scene, piece, port, '') }];
  });
}

/** The ends of a piece in a `via`: its legs, or the sides that it can be entered by. `piece` is undefined for a fresh one. */
export function stepProposals(scene: Scene, ports: readonly Port[], piece: Piece | undefined): Ranked[] {
  const arriving = scene.arrivingHere();
  const inputs = ports.filter((port) => port.direction === 'input');
  const outputs = ports.filter((port) => port.direction === 'output');
  const signal = signalOf(scene);
  // The way that the signal takes already, or else the ways that are free.
  const taking = piece && signal !== undefined ? inputs.filter((port) => scene.occupancy?.takes(piece, port, signal)) : [];
  const ways = taking.length > 0 || !piece ? taking : inputs.filter((port) => scene.isFree(piece, port));
  const seen = new Set<string>();
  // Where there are several ways in (the sides of a transmitter) they are the choice; else the ways out are.
  const choice = inputs.length > 1 && outputs.length <= 1 ? [...inputs, ...outputs] : [...outputs, ...inputs];
  return choice.flatMap((port, index): Ranked[] => {
    if (seen.has(port.id)) return [];
    seen.add(port.id);
    const taken = piece && takenOf(scene, piece, port, signal);
    const fit = port.direction === 'output' || arriving.length === 0 ? 2 : suits(arriving, port);
    const second = port.direction !== choice[0]?.direction;
    const detail = [
      port.direction === 'output' ? tieText(port) : kindsText(port),
      piece ? (taken ? takenText(scene, piece, taken) : 'free') : '',
    ]
      .filter(Boolean)
      .join(', ');
    return [
      {
        rank: (taken ? 100 : 0) + (second ? 200 : 0) + (2 - fit) * 10 + (isWayOut(port, ways) ? 0 : 20) + index / 100,
        proposal: { kind: 'port', label: port.id, detail: `${port.direction}, ${detail}`, documentation: modeTable(port) },
      },
    ];
  });
}

/** The port, where something is plugged in; of a socket for earphones a side of its amplifier as well, where another mix comes in. */
function takenOf(scene: Scene, piece: Piece, port: Port, signal: string | undefined): Port | undefined {
  if (!scene.isFree(piece, port)) return port;
  if (port.direction !== 'output' || !port.modes.some(({ kind }) => kind === 'phones')) return undefined;
  const sides = inputsOf(piece.model).filter(({ id }) => port.tie?.inputs.includes(id));
  return sides.find((side) => !scene.isFree(piece, side) && !(signal !== undefined && scene.occupancy?.takes(piece, side, signal)));
}

function isWayOut(port: Port, ways: readonly Port[]): boolean {
  return port.direction === 'input' || ways.length === 0 || ways.some(({ id }) => port.tie?.inputs.includes(id));
}

/** The id of what the statement is about: a source, or a mix. */
function signalOf(scene: Scene): string | undefined {
  const taken = scene.behind('takes')?.name;
  const carried = scene.behind('carries')?.name;
  return taken !== undefined ? `source:${taken}` : carried !== undefined ? `mix:${carried}` : undefined;
}

/** What a source gives: its channels, or outputs that carry the same. */
export function sourceProposals(scene: Scene, piece: Piece): Ranked[] {
  return outputsOf(piece.model).map((port) => ({
    rank: scene.isFree(piece, port) ? 0 : 1,
    proposal: portProposal(scene, piece, port, port.separate ? 'a channel of its own' : ''),
  }));
}

/** The sides of a transmitter, with what goes out on each. */
export function sideProposals(scene: Scene, piece: Piece): Ranked[] {
  const wearer = scene.behind('for')?.name;
  return inputsOf(piece.model).map((port) => {
    const mixes = scene.occupancy?.on(piece, port) ?? [];
    const own = [...scene.rig.mixes.values()].some(
      (mix) => mix.for.includes(`performer:${wearer}`) && scene.occupancy?.takes(piece, port, mix.id),
    );
    return {
      rank: own ? 0 : mixes.length > 0 ? 1 : 2,
      proposal: { kind: 'port', label: port.id, detail: mixes.length > 0 ? `carries ${list(mixes)}` : 'nothing is sent here yet' },
    };
  });
}

function portProposal(scene: Scene, piece: Piece, port: Port, remark: string): Ranked['proposal'] {
  const free = scene.isFree(piece, port);
  return {
    kind: 'port',
    label: port.id,
    detail: [kindsText(port), free ? 'free' : takenText(scene, piece, port), remark].filter(Boolean).join(', '),
    documentation: paragraphs(plain(connectorText(port)), modeTable(port)),
  };
}

function takenText(scene: Scene, piece: Piece, port: Port): string {
  return `${port.direction === 'input' ? 'takes' : 'carries'} ${list(scene.occupancy?.on(piece, port) ?? [])}`;
}
