/** How long a plan takes, from a rig that has been read: lines tried with the engine, chosen by the solver, explained. */
import loadHighs from 'highs';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { offersOf, RigLoader } from '#language';
import { type Plan, plan } from '#plan';
import { highsSolver } from '#plan/highs';
import { rigToPlan } from '../plan/made';
import { summed, type Times } from './times';

export interface Planned {
  readonly times: Times;
  /** Processor time, which is what it takes on a machine that nobody else uses. */
  readonly processor: Times;
  readonly last: Plan;
}

/** Rigs planned before the first that is measured, so that all is warm as it is in an editor that stays open. */
const WARM_UP = 20;

export async function planning(sources: number, rounds: number): Promise<Planned> {
  const solver = highsSolver(await loadHighs({ locateFile: (file) => `${process.cwd()}/node_modules/highs/build/${file}` }));
  const loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(process.cwd()));
  const wall: number[] = [];
  const processor: number[] = [];
  let last: Plan | undefined;
  for (let round = -WARM_UP; round < rounds; round++) {
    const text = rigToPlan({ sources, seed: 100 + round, budget: 300 });
    const document = await loader.loadText(text, URI.file(`${process.cwd()}/made-${sources}-${round}.rig`));
    const { checked } = loader.services.rig.Analyser.of(document);
    if (!checked) throw new Error('no rig');
    const { offers } = offersOf(loader.services, document);
    const before = performance.now();
    const used = process.cpuUsage();
    last = await plan(checked, { offers, solver, now: () => performance.now() });
    const { user, system } = process.cpuUsage(used);
    if (round < 0) continue;
    wall.push(performance.now() - before);
    processor.push((user + system) / 1000);
  }
  if (!last) throw new Error('no plan');
  return { times: summed(wall), processor: summed(processor), last };
}
