/** What each stage takes by itself, warm and in this process. */
import { EmptyFileSystem, URI } from 'langium';
import { type Checked, check } from '#engine';
import { RigLoader } from '#language';
import { patchList } from '#sheets';
import { summed, type Times, timed } from './times';

const WARM_UP = 5;

export interface Stages {
  /** The whole text, from nothing. */
  readonly parsing: Times;
  /** From a syntax tree to findings with their places. */
  readonly analysis: Times;
  /** The part of that which is the engine's. */
  readonly engine: Times;
  readonly sheet: Times;
}

export async function stages(text: string, runs: number): Promise<Stages> {
  const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///bench/'));
  const { LangiumParser } = loader.services.parser;
  const { LangiumDocuments } = loader.services.shared.workspace;
  const { Analyser } = loader.services.rig;
  const times: number[] = [];
  let checked: Checked | undefined;
  for (let run = -WARM_UP; run < runs; run++) {
    // Another file each time, so that nothing is kept from the last.
    const uri = URI.parse(`memory:///bench/rig-${run + WARM_UP}.rig`);
    const document = await loader.loadText(text, uri);
    const start = performance.now();
    const analysis = Analyser.of(document);
    if (run >= 0) times.push(performance.now() - start);
    LangiumDocuments.deleteDocument(uri);
    checked = analysis.checked;
  }
  if (!checked) throw new Error('What was generated is not a rig.');
  const { rig } = checked;
  const all = checked;
  return {
    parsing: timed(runs, WARM_UP, () => LangiumParser.parse(text)),
    analysis: summed(times),
    engine: timed(runs, WARM_UP, () => check(rig)),
    sheet: timed(runs, WARM_UP, () => patchList(all)),
  };
}
