/** A general circuit simulator, ngspice compiled to WebAssembly, as the other side of the checks on circuits. */
import { Simulation } from 'eecircuit-engine';

export class Spice {
  private readonly simulation = new Simulation();
  private started: Promise<void> | undefined;
  private window: unknown;

  /** DC voltages of the nodes of a resistive circuit, by node. */
  async operatingPoint(netlist: readonly string[]): Promise<ReadonlyMap<string, number>> {
    const { dataType, data } = await this.run([...netlist, '.op']);
    if (dataType !== 'real') throw new Error(`an operating point is real, not ${dataType}`);
    return new Map(data.flatMap(({ name, values }) => (values[0] === undefined ? [] : [[nodeOf(name), values[0]] as const])));
  }

  /** The size of every node's voltage at one frequency, in volts, by node. */
  async at(netlist: readonly string[], hz: number): Promise<ReadonlyMap<string, number>> {
    const { dataType, data } = await this.run([...netlist, `.ac lin 1 ${hz} ${hz}`]);
    if (dataType !== 'complex') throw new Error(`an analysis at a frequency is complex, not ${dataType}`);
    return new Map(
      data.flatMap(({ name, values }) =>
        values[0] === undefined ? [] : [[nodeOf(name), Math.hypot(values[0].real, values[0].img)] as const],
      ),
    );
  }

  /** The size of one node's voltage at each frequency, in Hz and volts. */
  async sweep(
    netlist: readonly string[],
    node: string,
    pointsPerDecade: number,
    fromHz: number,
    toHz: number,
  ): Promise<{ hz: number; volts: number }[]> {
    const { dataType, data } = await this.run([...netlist, `.ac dec ${pointsPerDecade} ${fromHz} ${toHz}`]);
    if (dataType !== 'complex') throw new Error(`a sweep is complex, not ${dataType}`);
    const frequencies = data.find(({ name }) => name === 'frequency')?.values ?? [];
    const volts = data.find(({ name }) => nodeOf(name) === node)?.values ?? [];
    return frequencies.map(({ real }, index) => ({
      hz: real,
      volts: Math.hypot(volts[index]?.real ?? Number.NaN, volts[index]?.img ?? Number.NaN),
    }));
  }

  /** It wants a window, by which other libraries would take this process for a browser: there is one while it runs. */
  private async run(lines: readonly string[]) {
    const browser = globalThis as { window?: unknown };
    if (this.window !== undefined) browser.window = this.window;
    try {
      this.started ??= this.simulation.start();
      await this.started;
      this.window = browser.window;
      this.simulation.setNetList(['a rig', ...lines, '.end'].join('\n'));
      return await this.simulation.runSim();
    } finally {
      Reflect.deleteProperty(browser, 'window');
    }
  }
}

function nodeOf(variable: string): string {
  return /^v\((.+)\)$/.exec(variable)?.[1] ?? variable;
}
