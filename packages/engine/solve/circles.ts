/** Signals that come back to where they come from: gear plugged round in a circle, and mixes that go back into what makes them. */
import type { Mix } from '#rig';
import { type Joint, type Line, type Network, NO_PORTS, type Socket, sidesOf, socket } from './network';

/** The leads into which a signal goes on behind one: all that are in the outputs that its input feeds. */
function behind(net: Network, { to: { piece, port } }: Joint): Joint[] {
  const found: Joint[] = [];
  for (const output of sidesOf(piece.model).tied.get(port.id) ?? NO_PORTS)
    for (const joint of net.leaving.get(socket(piece, output).key) ?? []) found.push(joint);
  return found;
}

/** It goes into something that hands nothing on. */
function isLast({ to: { piece, port } }: Joint): boolean {
  return !sidesOf(piece.model).tied.has(port.id);
}

/** The inputs, by key, of all that comes along with what these leads carry. A link that carries numbers keeps its channels apart. */
function mixedIn(net: Network, joints: Iterable<Joint>): ReadonlySet<string> {
  const inputs = new Set<string>();
  const seen = new Set(joints);
  for (const { from, to } of seen) {
    inputs.add(to.key);
    if (from.port.modes.some(({ kind }) => kind === 'digital')) continue;
    for (const id of from.port.tie?.inputs ?? []) {
      const key = `${from.piece.id}.${id}`;
      inputs.add(key);
      for (const before of net.entering.get(key) ?? []) seen.add(before);
    }
  }
  return inputs;
}

/** Circles of leads, each in the order of its signal, once. Linear in the number of leads and of what goes on behind them. */
export function circles(net: Network): (readonly Joint[])[] {
  const found: (readonly Joint[])[] = [];
  const state = new Map<Joint, 'on the way' | 'done'>();
  for (const start of net.joints) {
    if (state.has(start) || isLast(start)) continue;
    state.set(start, 'on the way');
    const way: { readonly joint: Joint; readonly next: Joint[] }[] = [{ joint: start, next: behind(net, start) }];
    for (let last = way.at(-1); last; last = way.at(-1)) {
      const next = last.next.pop();
      if (!next) {
        state.set(last.joint, 'done');
        way.pop();
      } else if (state.get(next) === 'on the way') {
        found.push(way.slice(way.findIndex(({ joint }) => joint === next)).map(({ joint }) => joint));
      } else if (!state.has(next)) {
        state.set(next, 'on the way');
        way.push({ joint: next, next: behind(net, next) });
      }
    }
  }
  return found;
}

/** Leads from an output of one's gear to an input of the same, where no mix goes out and no signal goes round by itself. */
export function intoItself(net: Network): (readonly Joint[])[] {
  const own = net.joints.filter(({ from, to }) => from.piece === to.piece);
  if (own.length === 0) return [];
  const told = new Set([...circles(net).flat(), ...returns(net).map(({ by }) => by)]);
  return own.filter((joint) => !told.has(joint)).map((joint) => [joint]);
}

/** A mix that comes back into the gear that makes it. */
export interface Return {
  readonly mix: Mix;
  readonly line: Line;
  readonly from: Socket;
  /** The lead by which it comes back. */
  readonly by: Joint;
  /** Sources of that mix that come in by the same way: it has itself among its sends. */
  readonly sources: readonly string[];
}

/** Of each mix the first that is found. */
export function returns(net: Network): Return[] {
  const told = new Set<string>();
  const found: Return[] = [];
  for (const line of net.lines) {
    const { run, start, signal = '' } = line;
    const mix = run.kind === 'output' ? net.rig.mixes.get(signal) : undefined;
    if (!start || !mix || told.has(mix.id)) continue;
    const back = net.memoryOf(run).once('comes back', line, () => comingBack(net, start));
    if (!back) continue;
    told.add(mix.id);
    const inputs = mixedIn(net, back.passed);
    const comesIn = (source: string) =>
      net.linesOf(source).some((each) => each.run.kind === 'input' && each.joints.some(({ to }) => inputs.has(to.key)));
    const sources = [...new Set(mix.sends.map(({ source }) => source))].filter(comesIn);
    found.push({ mix, line, from: start, by: back.by, sources });
  }
  return found;
}

/** The lead by which what leaves a socket comes back into the same gear, and all leads that it goes by. */
function comingBack(net: Network, start: Socket): { readonly by: Joint; readonly passed: ReadonlySet<Joint> } | undefined {
  const passed = new Set(net.leaving.get(start.key) ?? []);
  let by: Joint | undefined;
  for (const joint of passed) {
    if (joint.to.piece === start.piece) by ??= joint;
    else for (const next of behind(net, joint)) passed.add(next);
  }
  return by && { by, passed };
}
