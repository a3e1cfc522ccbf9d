/**
 * Levels on split lines against a general circuit simulator (ngspice): random trees of splits, transformers, pads, electronic
 * stages and long leads, balanced and unbalanced, are written as rigs, read, solved, and compared with the same circuit as a
 * netlist of two wires and an earth.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Arrival,
  cornerHz,
  type FiguresOf,
  findPort,
  highPassLossDb,
  LEAD_F_PER_M,
  type OutputState,
  socket,
  solveFrom,
  topEndHz,
  topEndLossDb,
} from '#engine';
import { analyseText } from '../checks/open';
import { cases } from '../thorough';
import { Spice } from './spice';

/** What hangs on an output, at the end of a lead of some metres: an input that ends the line, or a piece with what hangs on its outputs. */
type Tree = { readonly metres: number } & (
  | { readonly kind: 'load'; readonly unbalanced: boolean; readonly ohm: number }
  /** Unbalanced: with jacks of two contacts all round. */
  | { readonly kind: 'parallel'; readonly unbalanced: boolean; readonly ohm: number | undefined; readonly legs: readonly Tree[] }
  | {
      readonly kind: 'transformer';
      readonly turns: readonly [number, number];
      readonly windingOhm: number;
      readonly below: Tree;
      readonly thru: Tree | undefined;
    }
  | {
      readonly kind: 'pad';
      readonly ohm: number;
      readonly padDb: number;
      /** Behind the pad; without it, straight. */
      readonly transformer: { readonly turns: readonly [number, number]; readonly windingOhm: number } | undefined;
      readonly below: Tree;
      readonly thru: Tree | undefined;
    }
  | { readonly kind: 'active'; readonly ohm: number; readonly gainDb: number; readonly driveOhm: number; readonly below: Tree }
);

const ohm = (low: number, high: number) => fc.integer({ min: low, max: high });
const metres = fc.oneof(fc.constant(0), fc.integer({ min: 1, max: 100 }));
const turns = fc.tuple(fc.integer({ min: 1, max: 12 }), fc.integer({ min: 1, max: 4 }));

const { tree } = fc.letrec<{ tree: Tree; load: Tree }>((tie) => ({
  load: fc.record({
    metres,
    kind: fc.constant('load' as const),
    unbalanced: fc.boolean(),
    ohm: fc.oneof(ohm(600, 5_000), ohm(5_000, 200_000), ohm(200_000, 10_000_000)),
  }),
  tree: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    tie('load'),
    fc.record({
      metres,
      kind: fc.constant('parallel' as const),
      unbalanced: fc.integer({ min: 0, max: 4 }).map((one) => one === 0),
      ohm: fc.option(ohm(1_000, 1_000_000), { nil: undefined }),
      legs: fc.array(tie('tree'), { minLength: 1, maxLength: 3 }),
    }),
    fc.record({
      metres,
      kind: fc.constant('transformer' as const),
      turns,
      windingOhm: ohm(1, 500),
      below: tie('tree'),
      thru: fc.option(tie('tree'), { nil: undefined }),
    }),
    fc.record({
      metres,
      kind: fc.constant('pad' as const),
      ohm: ohm(300, 50_000),
      padDb: fc.integer({ min: 1, max: 40 }),
      transformer: fc.option(fc.record({ turns, windingOhm: ohm(1, 500) }), { nil: undefined }),
      below: tie('tree'),
      thru: fc.option(tie('tree'), { nil: undefined }),
    }),
    fc.record({
      metres,
      kind: fc.constant('active' as const),
      ohm: ohm(1_000, 10_000_000),
      gainDb: fc.integer({ min: -30, max: 20 }),
      driveOhm: ohm(10, 1_000),
      below: tie('tree'),
    }),
  ),
}));

/** A line output, a pickup's coil, a piezo. */
interface Drive {
  readonly ohm: number;
  readonly henry?: number;
  readonly nanofarad?: number;
  readonly floating?: boolean;
}

const drive: fc.Arbitrary<Drive> = fc.oneof(
  fc.record({ ohm: ohm(50, 5_000), floating: fc.boolean() }),
  fc.record({ ohm: ohm(1_000, 15_000), henry: fc.integer({ min: 1, max: 10 }) }),
  fc.record({ ohm: ohm(1, 1_000), nanofarad: fc.integer({ min: 1, max: 20 }) }),
);
/** From 20 Hz to 20 kHz, as many in each octave. */
const hertz = fc.integer({ min: 0, max: 300 }).map((step) => 20 * 10 ** (step / 100));

interface Leaf {
  /** `n0.1, n2.out`: what the line goes through. */
  readonly via: readonly string[];
  readonly unbalanced: boolean;
  readonly ohm: number;
  /** The netlist's node that has what the input gets. */
  readonly node: string;
  /** The branches taken from the root, to find it again in a smaller circuit. */
  readonly path: readonly string[];
}

/** Two wires: both driven against earth, a winding's that know no earth, or one of them earth itself. */
interface Pair {
  readonly hot: string;
  readonly cold: string;
  readonly how: 'driven' | 'floating' | 'earthed';
}

/** One circuit, as the text of a rig and as a netlist. */
class Circuit {
  readonly models: string[] = [];
  readonly gear: string[] = [];
  readonly netlist: string[] = [];
  readonly leaves: Leaf[] = [];
  /** The netlist's node with the voltage of each output, by its key in the engine. */
  readonly nodes = new Map<string, string>();
  private count = 0;

  /** `only`: the path of the one leaf that is plugged in; without it all are. */
  constructor(
    readonly drive: Drive,
    readonly root: Tree,
    private readonly only?: readonly string[],
  ) {
    const out: Pair = { hot: 'hot', cold: 'cold', how: drive.floating ? 'floating' : 'driven' };
    if (drive.floating) {
      this.netlist.push('vhot emf cold dc 0 ac 1', `rdrive emf hot ${drive.ohm}`, 'rleakhot hot cold 1e13', 'rleakcold cold 0 1e9');
    } else {
      this.half('hot', 0.5);
      this.half('cold', -0.5);
    }
    this.nodes.set('source:src.out', this.across(out));
    this.add(root, out, [], []);
  }

  /** Half of it all in each leg: a capacitor in series with its like is half of it. */
  private half(leg: 'hot' | 'cold', volts: number): void {
    const { ohm: own, henry, nanofarad } = this.drive;
    this.netlist.push(
      `v${leg} emf${leg} 0 dc 0 ac ${volts}`,
      `rdrive${leg} emf${leg} d${leg} ${own / 2}`,
      henry === undefined ? `rcoil${leg} d${leg} e${leg} 1e-6` : `lcoil${leg} d${leg} e${leg} ${henry / 2}`,
      nanofarad === undefined ? `rpiezo${leg} e${leg} ${leg} 1e-6` : `cpiezo${leg} e${leg} ${leg} ${nanofarad * 2}n`,
      // A node of the simulator's needs a way to earth; this one, and those below, are a million times what matters.
      `rleak${leg} ${leg} 0 1e13`,
    );
  }

  get text(): string {
    const { ohm: own, henry, nanofarad, floating } = this.drive;
    const series = `${henry === undefined ? '' : `  inductance ${henry} H`}${nanofarad === undefined ? '' : `  capacitance ${nanofarad} nF`}${floating ? '  floating' : ''}`;
    const inputs = this.leaves.map(
      ({ ohm, unbalanced }, index) => `  input ${index + 1}  ${unbalanced ? 'ts' : 'xlr'}  line  impedance ${ohm} ohm`,
    );
    const runs = this.leaves.map(
      ({ via }, index) => `input desk.${index + 1}  takes src${via.length > 0 ? `  via ${via.join(', ')}` : ''}`,
    );
    return [
      'rig "circuit"',
      `model src-model { output out  xlr${tail(this.root)}  line  impedance ${own} ohm${series}  level 0 dBu }`,
      ...this.models,
      `model desk-model {\n${inputs.join('\n')}\n}`,
      'source src is src-model',
      'gear desk is desk-model',
      ...this.gear,
      ...runs,
    ].join('\n');
  }

  private add(tree: Tree, wires: Pair, via: readonly string[], path: readonly string[]): void {
    if (this.only && path.some((step, index) => this.only?.[index] !== step)) return;
    const id = this.count++;
    const name = `n${id}`;
    const unbalanced = (tree.kind === 'load' || tree.kind === 'parallel') && tree.unbalanced;
    const at = unbalanced ? this.oneContact(id, wires) : wires;
    const { hot, cold } = at;
    if (tree.metres > 0) this.netlist.push(`clead${id} ${hot} ${cold} ${tree.metres * LEAD_F_PER_M}`);
    if (tree.kind === 'load') {
      this.leaves.push({ via, ohm: tree.ohm, unbalanced, node: this.across(at), path });
      this.netlist.push(`rload${id} ${hot} ${cold} ${tree.ohm}`);
      return;
    }
    this.gear.push(`gear ${name} is ${name}-model`);
    const ports: string[] = [];
    const plug = unbalanced ? 'ts' : 'xlr';
    const on = (port: string, below: Tree, pair: Pair, tie: string) => {
      ports.push(`  output ${port}  ${plug}${tail(below)}  from in ${tie}`);
      this.nodes.set(`gear:${name}.${port}`, this.across(pair));
      this.add(below, pair, [...via, `${name}.${port}`], [...path, port]);
    };
    const own = tree.kind === 'transformer' || tree.ohm === undefined ? '' : `  line  impedance ${tree.ohm} ohm`;
    if (tree.kind === 'parallel') {
      if (tree.ohm !== undefined) this.netlist.push(`rown${id} ${hot} ${cold} ${tree.ohm}`);
      for (const [index, leg] of tree.legs.entries()) on(String(index + 1), leg, at, 'parallel');
    } else if (tree.kind === 'transformer') {
      const out = this.transformer(id, tree.turns, tree.windingOhm, at);
      on('out', tree.below, out, `transformer ${tree.turns.join(':')}  line  impedance ${tree.windingOhm} ohm`);
      if (tree.thru) on('thru', tree.thru, at, 'parallel');
    } else if (tree.kind === 'pad') {
      const { transformer } = tree;
      const padded = this.pad(id, tree.ohm, tree.padDb, at);
      const out = transformer ? this.transformer(id, transformer.turns, transformer.windingOhm, padded) : padded;
      const how = transformer
        ? `transformer ${transformer.turns.join(':')} pad ${tree.padDb} dB  line  impedance ${transformer.windingOhm} ohm`
        : `parallel pad ${tree.padDb} dB`;
      on('out', tree.below, out, how);
      if (tree.thru) on('thru', tree.thru, at, 'parallel');
    } else {
      const out: Pair = { hot: `hot${id}`, cold: `cold${id}`, how: 'driven' };
      this.netlist.push(`rin${id} ${hot} ${cold} ${tree.ohm}`);
      for (const [leg, half] of [
        ['hot', 0.5],
        ['cold', -0.5],
      ] as const) {
        this.netlist.push(
          `e${leg}${id} stage${leg}${id} 0 ${hot} ${cold} ${half * 10 ** (tree.gainDb / 20)}`,
          `rdrive${leg}${id} stage${leg}${id} ${leg}${id} ${tree.driveOhm / 2}`,
          `rleak${leg}${id} ${leg}${id} 0 1e13`,
        );
      }
      on('out', tree.below, out, `active gain ${tree.gainDb} dB  line  impedance ${tree.driveOhm} ohm`);
    }
    this.models.push([`model ${name}-model {`, `  input in  ${plug}${own}`, ...ports, '}'].join('\n'));
  }

  /** A plug of two contacts: of what is driven its cold leg is left open; a winding's cold end goes to the screen. */
  private oneContact(id: number, at: Pair): Pair {
    if (at.how === 'driven') return { hot: at.hot, cold: '0', how: 'earthed' };
    if (at.how === 'floating') this.netlist.push(`rearth${id} ${at.cold} 0 1e-6`);
    return at;
  }

  /** A node with the voltage between the two. */
  private across({ hot, cold }: Pair): string {
    const node = `across${this.netlist.length}`;
    this.netlist.push(`e${node} ${node} 0 ${hot} ${cold} 1`, `r${node} ${node} 0 1`);
    return node;
  }

  /** Its series resistance is halved between two legs that are both driven. */
  private pad(id: number, ohm: number, padDb: number, at: Pair): Pair {
    const shunt = ohm / 10 ** (padDb / 20);
    const series = ohm - shunt;
    const out: Pair = { hot: `padded${id}`, cold: at.how === 'driven' ? `paddedcold${id}` : at.cold, how: at.how };
    if (at.how === 'driven')
      this.netlist.push(`rseries${id} ${at.hot} ${out.hot} ${series / 2}`, `rseriescold${id} ${at.cold} ${out.cold} ${series / 2}`);
    else this.netlist.push(`rseries${id} ${at.hot} ${out.hot} ${series}`);
    this.netlist.push(`rshunt${id} ${out.hot} ${out.cold} ${shunt}`);
    return out;
  }

  /** An ideal transformer: the secondary's voltage follows the primary's, the primary's current the secondary's. */
  private transformer(id: number, [primary, secondary]: readonly [number, number], windingOhm: number, { hot, cold }: Pair): Pair {
    const out: Pair = { hot: `out${id}`, cold: `outcold${id}`, how: 'floating' };
    this.netlist.push(
      `e${id} ideal${id} ${out.cold} ${hot} ${cold} ${secondary / primary}`,
      `vsense${id} ideal${id} winding${id} 0`,
      `f${id} ${hot} ${cold} vsense${id} ${secondary / primary}`,
      `rwinding${id} winding${id} ${out.hot} ${windingOhm}`,
      `rbetween${id} ${out.hot} ${out.cold} 1e13`,
      `rleak${id} ${out.cold} 0 1e9`,
    );
    return out;
  }
}

function tail({ metres }: Tree): string {
  return metres > 0 ? `  tail ${metres} m` : '';
}

const TOLERANCE_DB = 0.01;
const db = (ratio: number) => 20 * Math.log10(ratio);
const spice = new Spice();

async function read(text: string) {
  const { located, checked } = await analyseText(text);
  const wrong = located.filter(({ finding }) => /^(text|names|units|models)\//.test(finding.code));
  expect(
    wrong.map(({ finding }) => finding.code),
    text,
  ).toEqual([]);
  if (!checked) throw new Error('no rig came of it');
  return checked;
}

describe('split lines', () => {
  it('have the voltages that ngspice finds, at every output and at any frequency', async () => {
    await fc.assert(
      fc.asyncProperty(drive, tree, hertz, async (from, root, hz) => {
        const circuit = new Circuit(from, root);
        const { network, levels, rig } = await read(circuit.text);
        const source = rig.pieces.get('source:src');
        const port = source && findPort(source, 'out', 'output');
        if (!source || !port) throw new Error('the source is not there');
        const { outputs } = solveFrom(network, socket(source, port), ['line'], port.modes[0], { hz, metres: levels.metres });
        const volts = await spice.at(circuit.netlist, hz);
        for (const [key, node] of circuit.nodes) {
          const state = outputs.get(key) as OutputState;
          expect(
            Math.abs(db(state.ratio) - db(volts.get(node) as number)),
            `${key} at ${hz} Hz\n${circuit.text}\n${circuit.netlist.join('\n')}`,
          ).toBeLessThan(TOLERANCE_DB);
        }
      }),
      { numRuns: cases(160, 40), seed: 1 },
    );
  });

  it('arrive at every input at the level that ngspice finds at 1 kHz, and lose to the other legs what it finds', async () => {
    await fc.assert(
      fc.asyncProperty(drive, tree, async (from, root) => {
        const circuit = new Circuit(from, root);
        const { levels } = await read(circuit.text);
        const volts = await spice.at(circuit.netlist, 1_000);
        const seen = circuit.leaves.length > 4 ? [0, circuit.leaves.length - 1] : circuit.leaves.keys();
        for (const index of seen) {
          const leaf = circuit.leaves[index] as Leaf;
          const arrival = levels.arrivals.find(({ line }) => line.end?.key === `gear:desk.${index + 1}`) as Arrival;
          const level = db(volts.get(leaf.node) as number);
          // The source gives 0 dBu unloaded, and 1 V in the netlist.
          expect(Math.abs((arrival.typicalDbu as number) - level), circuit.text).toBeLessThan(TOLERANCE_DB);
          expect(
            Math.abs(arrival.lossDb + db(volts.get(circuit.nodes.get('source:src.out') as string) as number)),
            circuit.text,
          ).toBeLessThan(TOLERANCE_DB);
          // The same line with nothing plugged into the other legs.
          const only = new Circuit(from, root, leaf.path);
          const alone = await spice.at(only.netlist, 1_000);
          const split = db(alone.get(only.leaves[0]?.node as string) as number) - level;
          expect(Math.abs(arrival.splitLossDb - split), circuit.text).toBeLessThan(TOLERANCE_DB);
        }
      }),
      { numRuns: cases(80, 30), seed: 2 },
    );
  });

  it('worked by hand: 150 ohm into two inputs of 2 kohm', async () => {
    const { levels } = await read(`rig "by hand"
model mic-1 { output out  xlr  mic  impedance 150 ohm  level 0 dBu }
model desk-1 { input 1..2  xlr  mic  impedance 2 kohm }
source s is mic-1
gear desk is desk-1
input desk.1 takes s via y-lead
input desk.2 takes s`);
    // 1 kohm in all: 20 log10(1150 / 1000); alone 20 log10(2150 / 2000), by arithmetic.
    for (const { lossDb, splitLossDb } of levels.arrivals) {
      expect(lossDb).toBeCloseTo(1.214, 3);
      expect(splitLossDb).toBeCloseTo(1.214 - 0.628, 3);
    }
    expect(levels.arrivals.length).toBe(2);
  });
});

describe('a balanced output', () => {
  const rig = (output: string, ohm: number, load: number, metres: number, input: string) => `rig "balance"
model src-1 { output out  xlr  tail ${metres} m  ${output}  impedance ${ohm} ohm  level 0 dBu }
model desk-1 { input 1  ${input}  line  impedance ${load} ohm }
source s is src-1
gear desk is desk-1
input desk.1 takes s`;
  // Two legs, each half the EMF behind half the impedance.
  const legs = (ohm: number) => [
    'vhot hotemf 0 dc 0 ac 0.5',
    'vcold coldemf 0 dc 0 ac -0.5',
    `rhot hotemf hot ${ohm / 2}`,
    `rcold coldemf cold ${ohm / 2}`,
  ];
  const figures = [fc.integer({ min: 10, max: 2_000 }), fc.integer({ min: 600, max: 100_000 }), fc.integer({ min: 1, max: 200 })] as const;

  it('into a balanced and into an unbalanced input, against a differential netlist', async () => {
    await fc.assert(
      fc.asyncProperty(...figures, async (ohm, load, metres) => {
        const lead = metres * LEAD_F_PER_M;
        const [whole] = (await read(rig('line', ohm, load, metres, 'xlr'))).levels.arrivals;
        const both = [...legs(ohm), `rload hot cold ${load}`, `clead hot cold ${lead}`, 'ediff diff 0 hot cold 1', 'rdiff diff 0 1'];
        const volts = (await spice.at(both, 1_000)).get('diff') as number;
        expect(Math.abs((whole?.typicalDbu as number) - db(volts))).toBeLessThan(TOLERANCE_DB);
        const [half] = (await read(rig('line', ohm, load, metres, 'ts'))).levels.arrivals;
        const one = [...legs(ohm), `rload hot 0 ${load}`, `clead hot 0 ${lead}`, 'rcut cold 0 1e12'];
        const leg = (await spice.at(one, 1_000)).get('hot') as number;
        expect(Math.abs((half?.typicalDbu as number) - db(leg))).toBeLessThan(TOLERANCE_DB);
        expect(half?.oneLegDb).toBeCloseTo(6.0206, 4);
      }),
      { numRuns: 25, seed: 3 },
    );
  });

  it('with one balanced and one unbalanced input on it, by hand', async () => {
    const { levels } = await read(`rig "both"
model src-1 { output out  xlr  line  impedance 200 ohm  level 0 dBu }
model desk-1 {
  input 1  xlr  line  impedance 10 kohm
  input 2  ts   line  impedance 400 ohm
}
source s is src-1
gear desk is desk-1
input desk.1 takes s via y-lead
input desk.2 takes s`);
    // For 2 V: 1 V behind 100 ohm on the hot leg, -1 V behind 100 ohm on the cold one, 400 ohm from hot to earth, 10 kohm between.
    // Currents at hot, (1 - h) / 100 = h / 400 + (h - c) / 10000, and at cold, (-1 - c) / 100 = (c - h) / 10000: times 10000,
    // 126 h - c = 100 and 101 c - h = -100, so h = 10000 / 12725 = 0.7859 and c = (h - 100) / 101 = -0.9823, of 2.
    const [balanced, unbalanced] = levels.arrivals;
    expect(balanced?.typicalDbu).toBeCloseTo(db((0.78585 + 0.98232) / 2), 3);
    expect(unbalanced?.typicalDbu).toBeCloseTo(db(0.78585 / 2), 3);
    expect([balanced?.oneLegDb, unbalanced?.oneLegDb]).toEqual([0, expect.closeTo(6.0206, 4)]);
  });

  it.each([
    ['line  floating', 'a winding'],
    ['line  unbalanced', 'an output of one contact'],
    ['mic', 'a microphone'],
  ])('%s gives all of it into one contact, as %s does', async (output) => {
    const [arrival] = (await read(rig(output, 100, 10_000, 1, 'ts'))).levels.arrivals;
    // 20 log10(10100 / 10000) = 0.086 dB, by arithmetic.
    expect(arrival?.typicalDbu).toBeCloseTo(-0.086, 3);
    expect(arrival?.oneLegDb).toBe(0);
  });
});

describe('a coil with a lead', () => {
  it('falls by 3 dB where ngspice finds it, and by what it finds elsewhere', async () => {
    const figures = fc.record({
      ohm: ohm(500, 50_000),
      henry: fc.integer({ min: 0, max: 100 }).map((tenths) => tenths / 10),
      metres: fc.integer({ min: 1, max: 100 }),
      loadOhm: ohm(5_000, 10_000_000),
    });
    await fc.assert(
      fc.asyncProperty(figures, async ({ ohm, henry, metres, loadOhm }) => {
        const coil = { ohm, henry, farad: metres * LEAD_F_PER_M, loadOhm };
        const top = topEndHz(coil);
        const netlist = [
          'v1 emf 0 dc 0 ac 1',
          `r1 emf b ${ohm}`,
          `l1 b a ${Math.max(henry, 1e-9)}`,
          `c1 a 0 ${coil.farad}`,
          `r2 a 0 ${loadOhm}`,
        ];
        const sweep = await spice.sweep(netlist, 'a', 40, top / 1_000, top * 10);
        const low = db(loadOhm / (ohm + loadOhm));
        const at = async (hz: number) => db((await spice.at(netlist, hz)).get('a') as number) - low;
        expect(Math.abs((await at(top)) + db(Math.SQRT2))).toBeLessThan(TOLERANCE_DB);
        for (const { hz, volts } of sweep) {
          // Not fallen so far before, and never back.
          if (hz < top * 0.999) expect(db(volts) - low).toBeGreaterThan(-3.02);
          if (hz > top * 1.001) expect(db(volts) - low).toBeLessThan(-3);
          expect(Math.abs(topEndLossDb(coil, hz) + db(volts) - low)).toBeLessThan(TOLERANCE_DB);
        }
      }),
      { numRuns: cases(40, 20), seed: 4 },
    );
  });

  it('is told with the lead of every leg, and where ngspice finds it', async () => {
    const { findings } = await read(`rig "coil"
model coil-1 { output out  ts  tail 9 m  instrument  impedance 8 kohm  inductance 4 H  level -20 dBu  highest 5 kHz }
model fork-1 { input in  ts  output 1  ts  tail 4 m  from in parallel  output 2  ts  tail 2 m  from in parallel }
model amp-1 { input in, tuner  ts  instrument  impedance 1 Mohm }
source s is coil-1
gear fork is fork-1
gear amp is amp-1
input amp.in takes s via fork.1
input amp.tuner takes s via fork.2`);
    const found = findings.find(({ code }) => code === 'levels/top-end');
    if (!found) throw new Error('nothing is said of the highs');
    const told = found.figures as FiguresOf<'levels/top-end'>;
    expect(told.metres).toBeCloseTo(15, 6);
    const netlist = ['v1 emf 0 dc 0 ac 1', 'r1 emf b 8k', 'l1 b a 4', 'c1 a 0 1500p', 'r2 a 0 500k'];
    const at = async (hz: number) => db((await spice.at(netlist, hz)).get('a') as number);
    const low = await at(1);
    expect((await at(told.topHz)) - low).toBeCloseTo(-db(Math.SQRT2), 2);
    expect((await at(5_000)) - low).toBeCloseTo(-told.lossDb, 2);
  });

  it('of 3 H and 10 kohm into 1 Mohm, by hand', () => {
    // 6 m are 600 pF: rings at 1 / (2 pi sqrt(3 x 600e-12)) = 3751 Hz, and without losses is 3 dB down at sqrt(1 + sqrt 2) = 1.554 times that, 5829 Hz.
    const top = topEndHz({ ohm: 10_000, henry: 3, farad: 600e-12, loadOhm: 1e6 });
    expect(top).toBeGreaterThan(5_700);
    expect(top).toBeLessThan(5_900);
    expect(topEndHz({ ohm: 0, henry: 3, farad: 600e-12, loadOhm: 1e15 })).toBeCloseTo(5828.7, 0);
    // Without a coil it is a plain low-pass: 1 / (2 pi R C), R being both in parallel.
    expect(topEndHz({ ohm: 10_000, henry: 0, farad: 1e-9, loadOhm: 10_000 })).toBeCloseTo(31_831, 0);
    expect(topEndHz({ ohm: 0, henry: 0, farad: 1e-9, loadOhm: 10_000 })).toBe(Number.POSITIVE_INFINITY);
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
