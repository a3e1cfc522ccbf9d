/** Outputs that a signal can be taken from, and which of them suits an input best. */
import type { Port, SignalKind } from '#rig';
import { isRadio, mates, plugsStraight } from './mating';
import type { Socket } from './network';

export interface Carrier {
  readonly socket: Socket;
  readonly kinds: readonly SignalKind[];
}

/** Carriers that suit every input alike. */
interface Alike {
  readonly port: Port;
  readonly kinds: readonly SignalKind[];
  /** With their places among all. */
  readonly members: { readonly carrier: Carrier; readonly place: number }[];
  /** So many of the first have a plug in them: a plug that is in stays in. */
  taken: number;
}

/**
 * In the order in which the signal came to them. One signal can have hundreds, most of them alike: looking for the best of them
 * looks at one of each kind.
 */
export class Carriers {
  private readonly byKey = new Map<string, Carrier>();
  private readonly groups = new Map<string, Alike>();
  /** Inputs whose outputs are here already. */
  private readonly passed = new Set<string>();

  /** `taken`: the outputs that have a plug in them, by their keys. */
  constructor(
    private readonly taken: ReadonlyMap<string, unknown>,
    carriers: Iterable<Carrier> = [],
  ) {
    for (const carrier of carriers) this.add(carrier);
  }

  get size(): number {
    return this.byKey.size;
  }

  has(key: string): boolean {
    return this.byKey.has(key);
  }

  get(key: string): Carrier | undefined {
    return this.byKey.get(key);
  }

  [Symbol.iterator](): Iterator<Carrier> {
    return this.byKey.values();
  }

  add(carrier: Carrier): void {
    const { socket, kinds } = carrier;
    if (this.byKey.has(socket.key)) return;
    const { port } = socket;
    // All that a score is made of.
    const key = `${port.connector} ${isRadio(port)} ${port.modes.length > 0} ${kinds.join()}`;
    let group = this.groups.get(key);
    if (!group) {
      group = { port, kinds, members: [], taken: 0 };
      this.groups.set(key, group);
    }
    group.members.push({ carrier, place: this.byKey.size });
    this.byKey.set(socket.key, carrier);
  }

  /** In the place of one on the same output, as a device's own signal is in that of one that only comes by. */
  set(carrier: Carrier): void {
    const { key } = carrier.socket;
    if (this.byKey.get(key)?.kinds.join() !== carrier.kinds.join() && this.byKey.has(key)) {
      const all = [...this.byKey.values()].map((each) => (each.socket.key === key ? carrier : each));
      this.byKey.clear();
      this.groups.clear();
      for (const each of all) this.add(each);
    } else this.add(carrier);
  }

  /** What comes out behind an input; it is asked for once. */
  addBehind(input: string, carriers: () => Iterable<Carrier>): void {
    if (this.passed.has(input)) return;
    this.passed.add(input);
    for (const carrier of carriers()) this.add(carrier);
  }

  /** Whether a lead joins any of them to an input. */
  mate(input: Port): boolean {
    for (const { port } of this.groups.values()) if (mates(port, input)) return true;
    return false;
  }

  /** The first of those that suit an input best. A free one does before all others. */
  best(input: Port): Carrier | undefined {
    let best: { readonly carrier: Carrier; readonly place: number; readonly score: number } | undefined;
    for (const group of this.groups.values()) {
      const { members } = group;
      while (members[group.taken] && this.taken.has(members[group.taken]?.carrier.socket.key as string)) group.taken++;
      const free = members[group.taken];
      const first = free ?? members[0];
      const score = (free ? 16 : 0) + suits(group, input);
      if (first && (!best || score > best.score || (score === best.score && first.place < best.place))) best = { ...first, score };
    }
    return best?.carrier;
  }
}

function suits({ port, kinds }: Alike, input: Port): number {
  return (
    (input.modes.some((mode) => kinds.includes(mode.kind)) ? 8 : 0) +
    (mates(port, input) ? 4 : 0) +
    // What the gear is for (a DI's own output) before what merely passes through it; then a plug that needs no adapter.
    (port.modes.length > 0 ? 2 : 0) +
    (plugsStraight(port, input) ? 1 : 0)
  );
}
