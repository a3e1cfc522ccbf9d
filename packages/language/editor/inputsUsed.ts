/** How many inputs of our gear are taken. */
import { type Checked, socket } from '#engine';
import type { Piece, Port } from '#rig';

export interface InputsUsed {
  readonly piece: Piece;
  /** Whether lines of ours end at it; else things only run through it. */
  readonly end: boolean;
  readonly analogue: Tally;
  readonly digital: Tally;
}

export interface Tally {
  readonly used: number;
  readonly of: number;
}

/** How many inputs gear has to have before anybody has to count them. */
const MANY_INPUTS = 3;

/** Of gear with a name that has inputs to count, and one of them taken. */
export function inputsUsed({ rig, network }: Checked): InputsUsed[] {
  const ends = new Set(rig.inputs.map((run) => run.to.piece));
  const written = new Set(rig.inputs.flatMap(({ to }) => to.ports.map((port) => `${to.piece}.${port}`)));
  return [...rig.pieces.values()].flatMap((piece) => {
    if (piece.kind !== 'gear') return [];
    const inputs = piece.model.ports.filter((port) => port.direction === 'input');
    const end = ends.has(piece.id);
    if (inputs.length < MANY_INPUTS && !end && !piece.model.mixes) return [];
    const isUsed = (port: Port) => {
      const { key } = socket(piece, port);
      return network.entering.has(key) || written.has(key);
    };
    if (!inputs.some(isUsed)) return [];
    const tally = (ports: readonly Port[]) => ({ used: ports.filter(isUsed).length, of: ports.length });
    const analogue = tally(inputs.filter((port) => !isDigital(port)));
    return [{ piece, end, analogue, digital: tally(inputs.filter(isDigital)) }];
  });
}

function isDigital({ modes }: Port): boolean {
  return modes.length > 0 && modes.every((mode) => mode.kind === 'digital');
}
