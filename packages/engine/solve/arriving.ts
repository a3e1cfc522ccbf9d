/** What comes out at some point of a run, by what is written and not by what is plugged in: from its source, through its steps. */
import type { InputRun, Model, Port } from '#rig';
import { mates } from './mating';
import { kindsOut, type Network } from './network';
import { canTake, type Demand, needsPhantom, passesPhantom } from './ports';

/** Straight out of a source, or of one of its ports. */
export function outOf(model: Model, port: string | undefined): Demand[] {
  const outputs = model.ports.filter((each) => each.direction === 'output');
  const phantom = outputs.some(needsPhantom);
  return outputs
    .filter((each) => port === undefined || each.id === port)
    .map((output) => ({ output, kinds: output.modes.map((mode) => mode.kind), phantom }));
}

/** A mix at the port it leaves by. */
export function outAt(output: Port): Demand {
  return { output, kinds: kindsOut(output, ['line']), phantom: false };
}

/** After one more step. Nothing where the step lets nothing through. */
export function outAfter(arriving: readonly Demand[], model: Model, port: string | undefined): Demand[] {
  const out = new Map<Port, Demand>();
  for (const each of arriving) {
    for (const output of model.ports) {
      if (output.direction !== 'output' || out.has(output)) continue;
      const inputs = model.ports.filter(
        (input) => input.direction === 'input' && output.tie?.inputs.includes(input.id) && mates(each.output, input),
      );
      const named = port === undefined || output.id === port || inputs.some((input) => input.id === port);
      if (inputs.length === 0 || !named) continue;
      out.set(output, {
        output,
        kinds: kindsOut(output, each.kinds),
        phantom: output.modes.length > 0 ? needsPhantom(output) : each.phantom && passesPhantom(output.tie),
      });
    }
  }
  return [...out.values()];
}

/** How well an input suits what arrives: 2 as it is, 1 by its plug alone, 0 not at all. */
export function suits(arriving: readonly Demand[], input: Port): 0 | 1 | 2 {
  let best: 0 | 1 | 2 = 0;
  for (const each of arriving) {
    const { output, kinds, phantom } = each;
    if (canTake(input, { output, kinds, phantom })) return 2;
    if (mates(output, input)) best = input.modes.length === 0 ? 2 : 1;
    if (best === 2) return 2;
  }
  return best;
}

/** What could come to the end of a run, where its port is not there and no line reaches it. */
export function outOfRun(net: Network, run: InputRun): Demand[] {
  const model = (id: string | undefined) => net.rig.pieces.get(id ?? '')?.model;
  const from = model(run.takes?.id);
  let arriving = from ? outOf(from, run.takes?.port) : [];
  for (const { piece, port } of run.via) {
    const step = model(piece);
    if (step) arriving = outAfter(arriving, step, port);
  }
  return arriving;
}
