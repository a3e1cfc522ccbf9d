/** What a key in a statement allocates in the server, by the stage that it is allocated in. */
import { type Allocating, allocating, placeIn, rigWith } from './outside';

const KEYS = 100;

/** The stages, by the functions that they begin with: what these call is theirs, unless it begins another one. */
const STAGES: Readonly<Record<string, readonly string[]>> = {
  'reading the text': ['parseAgain'],
  'what its statements come to': ['lower', 'sharing'],
  'what is so': ['byParts', 'buses', 'latencies', 'hearings', 'supplies', 'houseImpact', 'metalPaths'],
  'what is wrong, and its cures': ['examined', 'check'],
  'what only follows from a slip': ['withoutAftermath'],
  'places of what is found': ['analyse'],
  'its words': ['diagnosticOf'],
};
export const REST = 'names, builds, the protocol';

/** In MB a key, by stage. The server has to be one whose functions have their names. */
export async function allocations(program: string, lines: number, seed: number): Promise<ReadonlyMap<string, number>> {
  const text = rigWith('many', lines, seed);
  const stageOf = new Map(Object.entries(STAGES).flatMap(([stage, begins]) => begins.map((name) => [name, stage] as const)));
  const found = new Map([...Object.keys(STAGES), REST].map((stage) => [stage, 0]));
  const add = ({ callFrame, selfSize, children }: Allocating, around: string): void => {
    // Where two functions of a bundle have the same name, it numbers them.
    const stage = stageOf.get(callFrame.functionName.replace(/\d+$/, '')) ?? around;
    found.set(stage, (found.get(stage) ?? 0) + selfSize / 1e6 / KEYS);
    for (const child of children) add(child, stage);
  };
  add(await allocating(program, text, placeIn(text, 'in a statement'), KEYS), REST);
  return found;
}
