/**
 * Phantom power against a general circuit simulator (ngspice): random trees of splits, pads and desks that are on or off are
 * written as rigs, read, worked out, and compared with both wires of the same circuit as a netlist.
 *
 * 48 V behind 6.81 kohm in each wire, 44 to 52 V, 10 mA at most: P48 of IEC 61938, values as several public descriptions report
 * them.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Checked } from '#engine';
import { guaranteedVolts, message } from '#engine';
import { analyseText } from '../checks/open';
import { cases } from '../thorough';
import { Spice } from './spice';

/** What hangs on a wire: an input of the desk's, or a box with what hangs on its outputs. */
type Tree =
  | { readonly kind: 'input'; readonly on: boolean }
  | { readonly kind: 'split'; readonly legs: readonly Tree[] }
  | { readonly kind: 'pad'; readonly ohm: number | undefined; readonly db: number; readonly below: Tree };

const { tree } = fc.letrec<{ tree: Tree }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    fc.record({ kind: fc.constant('input' as const), on: fc.boolean() }),
    fc.record({ kind: fc.constant('split' as const), legs: fc.array(tie('tree'), { minLength: 1, maxLength: 3 }) }),
    fc.record({
      kind: fc.constant('pad' as const),
      ohm: fc.option(fc.integer({ min: 200, max: 20_000 }), { nil: undefined }),
      db: fc.integer({ min: 1, max: 40 }),
      below: tie('tree'),
    }),
  ),
}));

/** One to three microphones that are joined where the tree begins, as text and as a netlist. */
class Circuit {
  private readonly models: string[] = [];
  private readonly gear: string[] = [];
  private readonly inputs: string[] = [];
  private readonly runs: string[] = [];
  readonly netlist: string[] = [];
  live = 0;
  private count = 0;

  constructor(
    private readonly currentsMa: readonly number[],
    root: Tree,
  ) {
    for (const [index, mA] of currentsMa.entries()) {
      this.models.push(`model m${index}-model { output out  xlr  mic  impedance 150 ohm  phantom needed  draws ${mA} mA }`);
      // It draws from both wires alike, by the middle of two equal resistors too small to matter.
      this.netlist.push(`rh${index} hot mid${index} 0.001`, `rc${index} cold mid${index} 0.001`, `i${index} mid${index} 0 ${mA / 1000}`);
    }
    this.add(root, 'hot', 'cold', ['join.out']);
  }

  get text(): string {
    const ids = this.currentsMa.map((_, index) => `in${index}`);
    return [
      'rig "circuit"',
      ...this.models,
      `model join-model { input ${ids.join(', ')}  xlr  output out  xlr  from ${ids.join(', ')} parallel }`,
      `model desk-model {\n${this.inputs.join('\n')}\n}`,
      'gear join is join-model',
      'gear desk is desk-model',
      ...this.gear,
      ...this.currentsMa.map((_, index) => `source m${index} is m${index}-model`),
      ...this.runs,
    ].join('\n');
  }

  private add(tree: Tree, hot: string, cold: string, via: readonly string[]): void {
    const id = this.count++;
    if (tree.kind === 'input') {
      this.inputs.push(`  input ${id}  xlr  mic  impedance 2 kohm  phantom each`);
      for (const index of this.currentsMa.keys()) {
        const way = [`join.in${index}`, ...via.slice(1)];
        this.runs.push(`input desk.${id}  takes m${index}  via ${way.join(', ')}  phantom ${tree.on ? 'on' : 'off'}`);
      }
      this.netlist.push(`rin${id} ${hot} ${cold} 2000`);
      if (!tree.on) return;
      this.live++;
      this.netlist.push(`v${id} p48${id} 0 48`, `rph${id} p48${id} ${hot} 6810`, `rpc${id} p48${id} ${cold} 6810`);
      return;
    }
    const name = `n${id}`;
    this.gear.push(`gear ${name} is ${name}-model`);
    if (tree.kind === 'split') {
      this.models.push(`model ${name}-model { input in  xlr  output 1..${Math.max(2, tree.legs.length)}  xlr  from in parallel }`);
      for (const [index, leg] of tree.legs.entries()) this.add(leg, hot, cold, [...via, `${name}.${index + 1}`]);
      return;
    }
    const mode = tree.ohm === undefined ? '' : `  mic  impedance ${tree.ohm} ohm`;
    this.models.push(`model ${name}-model { input in  xlr${mode}  output out  xlr  from in parallel pad ${tree.db} dB }`);
    // An L-pad: a resistor in each wire, then one from wire to wire; unloaded it divides by 10^(dB/20), and its input is `ohm`.
    const ohm = tree.ohm ?? 1000;
    const shunt = ohm * 10 ** (-tree.db / 20);
    this.netlist.push(`rsh${id} ${hot} h${id} ${(ohm - shunt) / 2}`, `rsc${id} ${cold} c${id} ${(ohm - shunt) / 2}`);
    this.netlist.push(`rx${id} h${id} c${id} ${shunt}`);
    this.add(tree.below, `h${id}`, `c${id}`, [...via, `${name}.out`]);
  }
}

async function checked(text: string): Promise<Checked> {
  const analysis = await analyseText(text);
  if (!analysis.checked) throw new Error('the rig was not checked');
  return analysis.checked;
}

describe('volts left at a microphone', () => {
  const spice = new Spice();

  it('agree with the simulator within 0.01 V, on any tree', { timeout: 120_000 }, async () => {
    let compared = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(fc.integer({ min: 0, max: 10 }), { minLength: 1, maxLength: 3 }), tree, async (currentsMa, root) => {
        const circuit = new Circuit(currentsMa, root);
        const { supplies } = await checked(circuit.text);
        const volts = currentsMa.map((_, index) => supplies.needy.find(({ piece }) => piece.name === `m${index}`)?.volts);
        if (circuit.live === 0) {
          expect(volts.every((each) => each === undefined)).toBe(true);
          return;
        }
        const nodes = await spice.operatingPoint(circuit.netlist);
        for (const [index, each] of volts.entries()) {
          expect(each, circuit.text).toBeDefined();
          expect(
            Math.abs((each ?? 0) - (nodes.get(`mid${index}`) ?? Number.NaN)),
            `${circuit.text}\n${circuit.netlist.join('\n')}`,
          ).toBeLessThan(0.01);
          compared++;
        }
      }),
      { numRuns: cases(300, 80) },
    );
    expect(compared).toBeGreaterThan(cases(200, 60));
  });

  // By hand: 48 V less the current through 6.81 kohm twice in parallel.
  it.each([
    [10, 13.95],
    [4, 34.38],
    [0, 48],
  ])('%s mA leaves %s V', async (mA, left) => {
    const { supplies } = await checked(new Circuit([mA], { kind: 'input', on: true }).text);
    expect(supplies.needy[0]?.volts).toBeCloseTo(left, 2);
  });

  it('two desks at once feed it through half the resistance', async () => {
    const { supplies } = await checked(
      new Circuit([10], {
        kind: 'split',
        legs: [
          { kind: 'input', on: true },
          { kind: 'input', on: true },
        ],
      }).text,
    );
    expect(supplies.needy[0]?.volts).toBeCloseTo(48 - (0.01 * 6810) / 4, 2);
  });

  // By hand: two pads side by side, 4.5 kohm in each wire of each, so 1125 ohm in all.
  it('two ways to one input are followed both', async () => {
    const { supplies } = await checked(
      [
        'model m { output out xlr mic phantom needed draws 4 mA }',
        'model pad { input in xlr mic impedance 10 kohm  output out xlr from in parallel pad 20 dB }',
        'model join { input a, b xlr  output out xlr from a, b parallel }',
        'model d { input 1 xlr mic phantom each }',
        'source s is m\ngear desk is d\ngear y is y-lead\ngear j is join\ngear pa is pad\ngear pb is pad',
        'input desk.1 takes s via y.1, pa, j.a',
        'input desk.1 takes s via y.2, pb, j.b',
      ].join('\n'),
    );
    expect(supplies.needy[0]?.volts).toBeCloseTo(48 - 0.004 * (3405 + 1125), 2);
  });

  it('the standard lets a microphone count on 44 V less the same', () => {
    expect(guaranteedVolts(0.004)).toBeCloseTo(30.38, 2);
    expect(guaranteedVolts(0.01)).toBeCloseTo(9.95, 2);
  });

  it('a current that no model states is taken as the most that is allowed', async () => {
    const { supplies } = await checked(
      'model m { output out xlr mic phantom needed }\nmodel d { input 1 xlr mic phantom each }\nsource s is m\ngear desk is d\ninput desk.1 takes s',
    );
    expect(supplies.needy[0]).toMatchObject({ drawsA: undefined });
    expect(supplies.needy[0]?.volts).toBeCloseTo(13.95, 2);
  });
});

describe('who supplies', () => {
  const HEAD = 'rig "X"\nsource oud "Oud" is clip-on-mic\nsource voice "Voice" is dynamic-mic\ngear iface "Interface" is interface-8-mic\n';

  const told = async (lines: string) => {
    const { network, supplies, findings } = await checked(HEAD + lines);
    const of = Object.fromEntries(
      network.lines.map((line) => [line.run.kind === 'house' ? `house ${line.run.number}` : line.end?.port.id, supplies.of(line)]),
    );
    return { of, codes: findings.map(({ code }) => code).filter((code) => code.startsWith('phantom/')), findings };
  };

  it('we do, where both could and the rig says nothing', async () => {
    const { of, codes } = await told('input iface.1 takes oud via y-lead\nhouse 1 takes oud');
    expect(of).toEqual({ 1: 'on', 'house 1': 'elsewhere' });
    expect(codes).toEqual([]);
  });

  it('the house does, where our input is off', async () => {
    const { of, codes } = await told('input iface.1 takes oud via y-lead phantom off\nhouse 1 takes oud');
    expect(of).toEqual({ 1: 'house', 'house 1': 'on' });
    expect(codes).toEqual([]);
  });

  it('nobody does, where our input is off and the house is behind a transformer', async () => {
    const { of, codes, findings } = await told(
      'gear split is transformer-split\ninput iface.1 takes oud via split.direct phantom off\nhouse 1 takes oud via split.iso',
    );
    expect(of).toEqual({ 1: 'missing', 'house 1': 'missing' });
    expect(codes).toEqual(['phantom/missing']);
    expect(findings.filter(({ code }) => code === 'phantom/missing').map(message)[0]).toContain('stays off at Interface 1');
  });

  it('off is not off where a neighbour on the same switch is on', async () => {
    const { of, codes } = await told('input iface.1 takes voice phantom off\ninput iface.2 takes oud');
    expect(of).toEqual({ 1: 'shared', 2: 'on' });
    expect(codes).toEqual(['phantom/not-off']);
    expect((await told('input iface.5 takes voice phantom off\ninput iface.2 takes oud')).codes).toEqual([]);
  });

  it('on is on where nothing needs it, and its neighbours have it too', async () => {
    const { of, codes } = await told('input iface.1 takes voice phantom on\nsource sax is dynamic-mic\ninput iface.2 takes sax');
    expect(of).toEqual({ 1: 'on', 2: 'shared' });
    expect(codes).toEqual([]);
  });

  it('a ribbon is in danger by its own switch as by its neighbour’s', async () => {
    const ribbon = 'source bone is ribbon-mic\n';
    expect((await told(`${ribbon}input iface.1 takes bone phantom on`)).codes).toEqual(['phantom/harmful']);
    expect((await told(`${ribbon}input iface.1 takes bone\ninput iface.2 takes oud`)).codes).toEqual(['phantom/harmful']);
    expect((await told(`${ribbon}input iface.1 takes bone via isolating-transformer phantom on`)).codes).toEqual([]);
    expect((await told(`${ribbon}input iface.5 takes bone\ninput iface.2 takes oud`)).codes).toEqual([]);
  });

  it('each channel of a stereo box needs it', async () => {
    const { of } = await told(
      'model two-di is di {\n  input left, right ts instrument impedance 10 Mohm\n  output left, right xlr from left, right active mic phantom needed draws 5 mA\n}\nsource organ is stereo-keyboard\ngear pre is preamp-expander\ninput pre.1 takes organ.left via two-di.left\ninput pre.5 takes organ.right via two-di.right',
    );
    expect(of).toEqual({ 1: 'on', 5: 'on' });
  });
});
