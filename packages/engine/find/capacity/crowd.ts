import type { Piece, Port } from '#rig';
import type { Line } from '../../solve/network';
import type { Demand } from '../../solve/ports';

/** What is plugged into one piece of gear, one line for each plug, with what each of them asks of a port. */
export interface Crowd {
  readonly piece: Piece;
  readonly ports: readonly Port[];
  readonly plugs: readonly Line[];
  readonly demands: readonly Demand[];
  /** The ports that would do, as places in `ports`. Who asks the same gets the same list. */
  wishes(demand: Demand): readonly number[];
}
