/** What every section of the sheet looks things up in. */
import type { Checked, Joint, JointLead, Line, Supplies } from '#engine';
import type { HouseRun, InputRun, Piece } from '#rig';
import { onceEach } from './onceEach';

export interface Context {
  readonly checked: Checked;
  readonly supplies: Supplies;
  readonly leads: ReadonlyMap<Joint, JointLead>;
  /** The lines of a run, by its id. */
  linesOf(run: string): readonly Line[];
  /** The receivers that hear a transmitter, by its piece's id. */
  receiversOf(transmitter: string): readonly Piece[];
  /** The lines of the house's that take a source or a mix, by its id. */
  houseLinesOf(taken: string): readonly HouseRun[];
  /** The lines of the house's of this number: two where somebody has taken one twice. */
  houseLinesAt(number: string): readonly HouseRun[];
  /** The runs that land on a socket of ours: `iface.3`, with the piece's id. */
  landingOn(socket: string): readonly InputRun[];
  /** What several sections, and several sheets, ask for is worked out once. */
  once<V>(question: string, answer: (context: Context) => V): V;
}

/**
 * The same for the same rig: what has been worked out for one sheet is there for the next. It goes with what has been checked: a network
 * may be there for longer, through any number of comments.
 */
export const contextOf = onceEach((checked: Checked): Context => {
  const byRun = grouped(checked.network.lines, (line) => line.run.id);
  const receivers = grouped(checked.rig.pieces.values(), (piece) => piece.hears?.piece);
  const house = grouped(checked.rig.house, (run) => run.takes?.id);
  const numbers = grouped(checked.rig.house, ({ number }) => number);
  const answers = new Map<string, unknown>();
  const landing = new Map<string, InputRun[]>();
  for (const run of checked.rig.inputs) {
    for (const port of run.to.ports) {
      const socket = `${run.to.piece}.${port}`;
      const there = landing.get(socket);
      if (there) there.push(run);
      else landing.set(socket, [run]);
    }
  }
  const context: Context = {
    checked,
    supplies: checked.supplies,
    leads: new Map(checked.leads.map((each) => [each.joint, each])),
    linesOf: (run) => byRun.get(run) ?? [],
    receiversOf: (transmitter) => receivers.get(transmitter) ?? [],
    houseLinesOf: (taken) => house.get(taken) ?? [],
    houseLinesAt: (number) => numbers.get(number) ?? [],
    landingOn: (socket) => landing.get(socket) ?? [],
    once<V>(question: string, answer: (context: Context) => V): V {
      if (!answers.has(question)) answers.set(question, answer(context));
      return answers.get(question) as V;
    },
  };
  return context;
});

/** In the order in which each key first comes; what has no key is left out. */
export function grouped<T>(all: Iterable<T>, keyOf: (each: T) => string | undefined): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const each of all) {
    const key = keyOf(each);
    if (key === undefined) continue;
    const group = groups.get(key);
    if (group) group.push(each);
    else groups.set(key, [each]);
  }
  return groups;
}
