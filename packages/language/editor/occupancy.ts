/** What sits on which port, and what is free. */
import { type Checked, signalLabel, socket } from '#engine';
import type { Piece, Port, Rig, Run } from '#rig';

export class Occupancy {
  private readonly rig: Rig;

  /** `except` is left out: the statement that is being written does not stand in its own way. */
  constructor(
    private readonly checked: Checked,
    private readonly except?: Run,
  ) {
    this.rig = checked.rig;
  }

  /** What is plugged into a port, in words: sources into inputs, mixes or what it feeds at outputs. */
  on(piece: Piece, port: Port): string[] {
    const { key } = socket(piece, port);
    const { network } = this.checked;
    const found = new Set<string>();
    const joints = (port.direction === 'input' ? network.entering : network.leaving).get(key) ?? [];
    for (const joint of joints) {
      for (const line of network.linesThrough(joint)) {
        if (line.run !== this.except) found.add(signalLabel(this.rig, line.signal) || joint.to.piece.label);
      }
    }
    // A run may name a port though its signal cannot be followed there.
    const ends =
      port.direction === 'input'
        ? this.rig.inputs.map((run) => ({ run, end: run.to, signal: run.takes?.id }))
        : this.rig.outputs.map((run) => ({ run, end: run.from, signal: run.carries }));
    for (const { run, end, signal } of ends) {
      if (run !== this.except && end.piece === piece.id && end.ports.includes(port.id))
        found.add(signalLabel(this.rig, signal) || 'something');
    }
    return [...found];
  }

  /** Whether a signal goes into an input, whatever else does. */
  takes(piece: Piece, port: Port, signal: string): boolean {
    const { network } = this.checked;
    return (network.entering.get(socket(piece, port).key) ?? []).some((joint) =>
      network.linesThrough(joint).some((line) => line.run !== this.except && line.signal === signal),
    );
  }

  isFree(piece: Piece, port: Port): boolean {
    return this.on(piece, port).length === 0;
  }

  /** Where a signal goes into our gear: `Interface 3`. */
  landings(signal: string): Piece[] {
    return this.rig.inputs.flatMap((run) =>
      run !== this.except && run.takes?.id === signal ? (this.rig.pieces.get(run.to.piece) ?? []) : [],
    );
  }

  isPatched(signal: string): boolean {
    return this.rig.inputs.some((run) => run !== this.except && run.takes?.id === signal);
  }
}
