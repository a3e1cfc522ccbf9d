/**
 * Levels on split lines against a general circuit simulator (ngspice): random trees of splits, transformers and electronic
 * stages are written as rigs, read, solved, and compared with the same circuit as a netlist.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cornerHz, findPort, highPassLossDb, loadingLossDb, type OutputState, socket, solveFrom } from '#engine';
import { analyseText } from '../checks/open';
import { Spice } from './spice';

/** What hangs on an output: an input that ends the line, or a piece of gear with what hangs on its outputs. */
type Tree =
  | { readonly kind: 'load'; readonly ohm: number }
  | { readonly kind: 'parallel'; readonly ohm: number | undefined; readonly legs: readonly Tree[] }
  | {
      readonly kind: 'transformer';
      readonly turns: readonly [number, number];
      readonly windingOhm: number;
      readonly below: Tree;
      readonly thru: Tree | undefined;
    }
  | { readonly kind: 'active'; readonly ohm: number; readonly gainDb: number; readonly driveOhm: number; readonly below: Tree };

const ohm = (low: number, high: number) => fc.integer({ min: low, max: high });

const { tree } = fc.letrec<{ tree: Tree; load: Tree }>((tie) => ({
  load: fc.record({ kind: fc.constant('load' as const), ohm: fc.oneof(ohm(600, 5_000), ohm(5_000, 200_000), ohm(200_000, 10_000_000)) }),
  tree: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    tie('load'),
    fc.record({
      kind: fc.constant('parallel' as const),
      ohm: fc.option(ohm(1_000, 1_000_000), { nil: undefined }),
      legs: fc.array(tie('tree'), { minLength: 1, maxLength: 3 }),
    }),
    fc.record({
      kind: fc.constant('transformer' as const),
      turns: fc.tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 4 })),
      windingOhm: ohm(1, 500),
      below: tie('tree'),
      thru: fc.option(tie('tree'), { nil: undefined }),
    }),
    fc.record({
      kind: fc.constant('active' as const),
      ohm: ohm(1_000, 10_000_000),
      gainDb: fc.integer({ min: -30, max: 20 }),
      driveOhm: ohm(10, 1_000),
      below: tie('tree'),
    }),
  ),
}));

interface Leaf {
  /** `n0.1, n2.out`: what the line goes through. */
  readonly via: readonly string[];
  readonly ohm: number;
  /** The netlist's node that it hangs on. */
  readonly node: string;
  /** Indices of the branches taken from the root, to find it again in a smaller circuit. */
  readonly path: readonly string[];
}

/** One circuit, as the text of a rig and as a netlist. */
class Circuit {
  readonly models: string[] = [];
  readonly gear: string[] = [];
  readonly netlist: string[] = [];
  readonly leaves: Leaf[] = [];
  /** The netlist's node of each output, by its key in the engine. */
  readonly nodes = new Map<string, string>();
  private count = 0;

  /** `only`: the path of the one leaf that is plugged in; without it all are. */
  constructor(
    readonly driveOhm: number,
    root: Tree,
    private readonly only?: readonly string[],
  ) {
    this.netlist.push('v1 emf 0 dc 1 ac 1', `rdrive emf a ${driveOhm}`);
    this.nodes.set('source:src.out', 'a');
    this.add(root, 'a', [], []);
  }

  get text(): string {
    const inputs = this.leaves.map(({ ohm }, index) => `  input ${index + 1}  xlr  line  impedance ${ohm} ohm`);
    const runs = this.leaves.map(
      ({ via }, index) => `input desk.${index + 1}  takes src${via.length > 0 ? `  via ${via.join(', ')}` : ''}`,
    );
    return [
      'rig "circuit"',
      `model src-model { output out  xlr  line  impedance ${this.driveOhm} ohm  level 0 dBu }`,
      ...this.models,
      `model desk-model {\n${inputs.join('\n')}\n}`,
      'source src is src-model',
      'gear desk is desk-model',
      ...this.gear,
      ...runs,
    ].join('\n');
  }

  private add(tree: Tree, node: string, via: readonly string[], path: readonly string[]): void {
    if (this.only && path.some((step, index) => this.only?.[index] !== step)) return;
    const id = this.count++;
    const name = `n${id}`;
    if (tree.kind === 'load') {
      this.leaves.push({ via, ohm: tree.ohm, node, path });
      this.netlist.push(`rload${id} ${node} 0 ${tree.ohm}`);
      return;
    }
    this.gear.push(`gear ${name} is ${name}-model`);
    const on = (port: string, below: Tree, at: string) => {
      this.nodes.set(`gear:${name}.${port}`, at);
      this.add(below, at, [...via, `${name}.${port}`], [...path, port]);
    };
    if (tree.kind === 'parallel') {
      const own = tree.ohm === undefined ? '' : `  line  impedance ${tree.ohm} ohm`;
      this.models.push(
        `model ${name}-model {\n  input in  xlr${own}\n  output 1..${Math.max(2, tree.legs.length)}  xlr  from in parallel\n}`,
      );
      if (tree.ohm !== undefined) this.netlist.push(`rown${id} ${node} 0 ${tree.ohm}`);
      for (const [index, leg] of tree.legs.entries()) on(String(index + 1), leg, node);
      return;
    }
    const out = `out${id}`;
    if (tree.kind === 'transformer') {
      const [primary, secondary] = tree.turns;
      this.models.push(
        `model ${name}-model {\n  input in  xlr\n  output thru  xlr  from in parallel\n  output out  xlr  from in transformer ${primary}:${secondary}  line  impedance ${tree.windingOhm} ohm\n}`,
      );
      // An ideal transformer: the secondary's voltage follows the primary's, the primary's current the secondary's.
      this.netlist.push(
        `e${id} ideal${id} 0 ${node} 0 ${secondary / primary}`,
        `vsense${id} ideal${id} winding${id} 0`,
        `f${id} ${node} 0 vsense${id} ${secondary / primary}`,
        `rwinding${id} winding${id} ${out} ${tree.windingOhm}`,
        // A node of the simulator's needs a way to ground; this one is a million times what matters.
        `rleak${id} ${out} 0 1e13`,
      );
      on('out', tree.below, out);
      if (tree.thru) on('thru', tree.thru, node);
      return;
    }
    this.models.push(
      `model ${name}-model {\n  input in  xlr  line  impedance ${tree.ohm} ohm\n  output out  xlr  from in active gain ${tree.gainDb} dB  line  impedance ${tree.driveOhm} ohm\n}`,
    );
    this.netlist.push(
      `rin${id} ${node} 0 ${tree.ohm}`,
      `e${id} stage${id} 0 ${node} 0 ${10 ** (tree.gainDb / 20)}`,
      `rdrive${id} stage${id} ${out} ${tree.driveOhm}`,
      `rleak${id} ${out} 0 1e13`,
    );
    on('out', tree.below, out);
  }
}

const TOLERANCE_DB = 0.01;
const db = (ratio: number) => 20 * Math.log10(ratio);
const spice = new Spice();

async function solved(circuit: Circuit) {
  const { located, checked } = await analyseText(circuit.text);
  const text = located.filter(({ finding }) => finding.code.startsWith('text/') || finding.code.startsWith('names/'));
  expect(
    text.map(({ finding }) => finding.code),
    circuit.text,
  ).toEqual([]);
  if (!checked) throw new Error('no rig came of it');
  const source = checked.rig.pieces.get('source:src');
  const port = source && findPort(source, 'out', 'output');
  if (!source || !port) throw new Error('the source is not there');
  const states = solveFrom(checked.network, socket(source, port), ['line'], circuit.driveOhm);
  return { checked, states };
}

describe('split lines', () => {
  it('have the voltages that ngspice finds, at every output', async () => {
    await fc.assert(
      fc.asyncProperty(ohm(50, 5_000), tree, async (driveOhm, root) => {
        const circuit = new Circuit(driveOhm, root);
        const { states } = await solved(circuit);
        const volts = await spice.operatingPoint(circuit.netlist);
        for (const [key, node] of circuit.nodes) {
          const state = states.get(key) as OutputState;
          expect(
            Math.abs(db(state.ratio) - db(volts.get(node) as number)),
            `${key}\n${circuit.text}\n${circuit.netlist.join('\n')}`,
          ).toBeLessThan(TOLERANCE_DB);
        }
      }),
      { numRuns: 40, seed: 1 },
    );
  });

  it('arrive at every input at the level that ngspice finds, and lose to the other legs what it finds', async () => {
    await fc.assert(
      fc.asyncProperty(ohm(50, 5_000), tree, fc.nat(), async (driveOhm, root, pick) => {
        const circuit = new Circuit(driveOhm, root);
        const { checked } = await solved(circuit);
        const volts = await spice.operatingPoint(circuit.netlist);
        for (const [index, leaf] of circuit.leaves.entries()) {
          const arrival = checked.levels.arrivals.find(({ line }) => line.end?.key === `gear:desk.${index + 1}`);
          // The source gives 0 dBu unloaded, and 1 V in the netlist.
          expect(Math.abs((arrival?.typicalDbu as number) - db(volts.get(leaf.node) as number)), circuit.text).toBeLessThan(TOLERANCE_DB);
          expect(Math.abs((arrival?.lossDb as number) + db(volts.get('a') as number)), circuit.text).toBeLessThan(TOLERANCE_DB);
        }
        // The same line with nothing plugged into the other legs.
        const index = pick % circuit.leaves.length;
        const alone = await spice.operatingPoint(new Circuit(driveOhm, root, circuit.leaves[index]?.path).netlist);
        const arrival = checked.levels.arrivals.find(({ line }) => line.end?.key === `gear:desk.${index + 1}`);
        const split = db(alone.get('a') as number) - db(volts.get('a') as number);
        expect(Math.abs((arrival?.splitLossDb as number) - split), circuit.text).toBeLessThan(TOLERANCE_DB);
      }),
      { numRuns: 40, seed: 2 },
    );
  });

  it('worked by hand: 150 ohm into two inputs of 2 kohm', () => {
    // 1 kohm in all: 20 log10(1150 / 1000), by arithmetic.
    expect(loadingLossDb(150, 2 / 2_000)).toBeCloseTo(1.214, 3);
  });
});

describe('a piezo pickup', () => {
  // Against an AC sweep of the same capacitor and resistor.
  it.each([
    [2e-9, 557_300],
    [0.5e-9, 10e6],
    [5e-9, 1e6],
    [1e-9, 220_000],
  ])('of %d F into %d ohm falls by 3 dB where ngspice finds it', async (farad, load) => {
    const corner = cornerHz(farad, load);
    const sweep = await spice.sweep(['v1 emf 0 dc 0 ac 1', `c1 emf a ${farad}`, `r1 a 0 ${load}`], 'a', 200, corner / 20, corner * 20);
    const below = sweep.findLast(({ volts }) => volts < Math.SQRT1_2);
    const above = sweep.find(({ volts }) => volts >= Math.SQRT1_2);
    expect(below && corner >= below.hz * 0.999 && above && corner <= above.hz * 1.001, `${below?.hz} < ${corner} < ${above?.hz}`).toBe(
      true,
    );
    for (const { hz, volts } of sweep) expect(highPassLossDb(corner, hz)).toBeCloseTo(-db(volts), 3);
  });
});
