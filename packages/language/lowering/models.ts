/** Models: ports and figures from text, with what they have from the models they specialise. */
import { type AstNode, AstUtils } from 'langium';
import {
  CONNECTORS,
  type Connector,
  type Dimension,
  type Holding,
  isConnector,
  type Loudness,
  type Mode,
  type Model,
  type Port,
  type PowerFigures,
  perMilliwatt,
  type SignalKind,
  type Tie,
} from '#rig';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { nearest } from '../near';
import { A_LEAD, type Context, firstWord, NOT_NEGATIVE, POSITIVE, SAMPLE_RATE } from './context';
import type { Mark } from './marks';
import { portRange } from './ports';
import { belongsTo } from './unused';

const EARPHONES = ['earphone-sensitivity', 'earphone-sensitivity-per-volt'] as const;
/** What a sensitivity at 1 V needs, which is another power in each earphone. */
const PER_VOLT = 'in dB SPL/mW, or with the impedance of the earphones beside it';

/** More models made from one another than anybody keeps in mind. */
const MOST_ANCESTORS = 64;

/** No transformer for sound has so many windings of one side for one of the other. */
const MOST_RATIO = 1000;

/** What the text of one model says, before it is joined with its parent's. */
type Own = { -readonly [K in keyof Omit<Model, 'typical' | 'peak'>]?: Model[K] } & {
  ports: Port[];
  origins: string[];
  private?: boolean;
  privateOutputs?: ast.Private;
  sideSelect?: boolean;
  monoSwitch?: boolean;
  /** Read once the ports are known: what they give says which unit counts. */
  typical?: ast.Typical;
  peak?: ast.Peak;
};

export class Models {
  private readonly lowered = new Map<ast.Model, Model>();

  constructor(
    private readonly context: Context,
    /** Library models, which never change, already lowered. */
    private readonly shared: WeakMap<ast.Model, Model>,
    private readonly parentOf: (model: ast.Model) => ast.Model | undefined,
    /** Keeps what a model was lowered to for the next time. */
    private readonly once: (model: ast.Model, of: readonly unknown[], work: () => Model) => Model = (_model, _of, work) => work(),
  ) {}

  lower(model: ast.Model): Model {
    // From the model to its first ancestor that is lowered already. A chain can be longer than calls go deep.
    const chain: { model: ast.Model; parent: ast.Model | undefined }[] = [];
    const seen = new Set<ast.Model>();
    for (let at: ast.Model | undefined = model; at && !this.lowered.has(at); ) {
      seen.add(at);
      let parent = this.parentOf(at);
      if (parent && seen.has(parent)) {
        this.loop(at, [...chain.map((each) => each.model), at], parent);
        parent = undefined;
      }
      chain.push({ model: at, parent });
      at = parent;
    }
    for (const each of chain.reverse()) this.lowered.set(each.model, this.shaped(each.model, each.parent && this.lowered.get(each.parent)));
    return this.lowered.get(model) as Model;
  }

  private loop(model: ast.Model, chain: readonly ast.Model[], parent: ast.Model): void {
    const names = [...chain.slice(chain.indexOf(parent)), parent].map((each) => each.name);
    const told = names.length > 12 ? [...names.slice(0, 6), '…', ...names.slice(-3)] : names;
    this.context.report('models/loop', { node: model, property: 'parent' }, { chain: told });
  }

  private shaped(model: ast.Model, parent: Model | undefined): Model {
    return isLibrary(AstUtils.getDocument(model).uri) ? this.one(model, parent) : this.once(model, [parent], () => this.one(model, parent));
  }

  private one(model: ast.Model, parent: Model | undefined): Model {
    const library = isLibrary(AstUtils.getDocument(model).uri);
    const place = this.context.marks.set(`model:${model.name}`, { node: model, property: 'name' });
    const ready = library ? this.shared.get(model) : undefined;
    if (ready) return ready;
    const endless = parent !== undefined && parent.lineage.length >= MOST_ANCESTORS;
    if (endless)
      this.context.report('text/too-deep', { node: model, property: 'parent' }, { limit: MOST_ANCESTORS, what: 'This chain of models' });
    const from = endless ? undefined : parent;
    const { privateOutputs, ...own } = this.own(model, from);
    const joined = join(from?.ports ?? [], own.ports);
    const named = privateOutputs ? outputsNamed(this.context, privateOutputs, joined, model.name) : [];
    const ports = joined.map((port) =>
      port.direction === 'output' && named.includes(port.id) ? { ...port, private: true as const } : port,
    );
    // Which of its outputs are private counts for more than what its parent says of all.
    const saysWhich = named.length > 0 || own.ports.some((port) => port.private);
    const result: Model = {
      ...from,
      ...own,
      typical: own.typical ? loudnessOf(this.context, own.typical, ports) : from?.typical,
      peak: own.peak ? loudnessOf(this.context, own.peak, ports) : from?.peak,
      id: model.name ?? '',
      label: model.label ?? model.name ?? '',
      lineage: [model.name ?? '', ...(from?.lineage ?? [])],
      ports,
      origins: own.origins.length > 0 ? own.origins : (from?.origins ?? []),
      private: own.private ?? (saysWhich ? undefined : from?.private),
      sideSelect: own.sideSelect ?? from?.sideSelect ?? false,
      monoSwitch: own.monoSwitch ?? from?.monoSwitch ?? false,
      place,
    };
    if (library) this.shared.set(model, result);
    return result;
  }

  private own(model: ast.Model, from: Model | undefined): Own {
    const own: Own = { ports: [], origins: [] };
    const { context } = this;
    let bank = from?.ports.reduce((most, port) => Math.max(most, port.bank + 1), 0) ?? 0;
    const declared = new Set<string>();
    const inputs = new Set(from?.ports.flatMap((port) => (port.direction === 'input' ? port.id : [])));
    const held: { Holding?: ast.Holding; Spare?: ast.Holding } = {};
    for (const item of model.items) {
      switch (item.$type) {
        case 'Port':
          for (const port of this.ports(model, item, bank++, declared, inputs)) own.ports.push(port);
          break;
        case 'PhantomBudget':
          own.phantomA = context.quantity(item.current, 'current', ['current'], NOT_NEGATIVE);
          break;
        case 'Mixes': {
          const count = context.counting(item, 'count', item.count, 'number of mixes');
          if (count !== undefined && item.width) own.mixes = { count, width: item.width };
          break;
        }
        case 'Latency':
          own.latencyS = context.quantity(item.quantity, 'latency', ['time'], NOT_NEGATIVE);
          break;
        case 'Rates': {
          const rates = item.rates.flatMap((rate) => context.quantity(rate, 'sample rate', ['frequency'], SAMPLE_RATE) ?? []);
          if (rates.length > 0) own.ratesHz = rates;
          break;
        }
        case 'Power':
          // What is still being typed says nothing yet.
          if (item.from) own.power = powerOf(context, item);
          break;
        case 'Holding':
          held[item.how === 'spare' ? 'Spare' : 'Holding'] = item;
          break;
        case 'Typical':
          own.typical = item;
          break;
        case 'Peak':
          own.peak = item;
          break;
        case 'Lowest':
          own.lowestHz = context.quantity(item.quantity, 'lowest note', ['frequency'], POSITIVE);
          break;
        case 'Highest':
          own.highestHz = context.quantity(item.quantity, 'highest frequency', ['frequency'], POSITIVE);
          break;
        case 'Tunes':
          own.tunesHz = context.range(item.range, 'tuning range', 'frequency');
          own.stepHz = context.quantity(item.step, 'step', ['frequency'], POSITIVE);
          break;
        case 'CarrierKind':
          if (item.kind)
            own.carrier = { kind: item.kind, bandwidthHz: context.quantity(item.bandwidth, 'bandwidth', ['frequency'], POSITIVE) };
          break;
        case 'SideSelect':
          own.sideSelect = true;
          break;
        case 'MonoSwitch':
          own.monoSwitch = true;
          break;
        case 'Private':
          if (item.outputs.length > 0) own.privateOutputs = item;
          else own.private = item.how === 'private';
          break;
        case 'Origin':
          if (item.text !== undefined) own.origins.push(item.text);
          break;
      }
    }
    own.holding = holding(context, held);
    return own;
  }

  /** `declared` keeps the ports of this model so far, `inputs` the inputs that an output can come from. */
  private ports(model: ast.Model, item: ast.Port, bank: number, declared: Set<string>, inputs: Set<string>): Port[] {
    const { context } = this;
    const ids = item.ids.flatMap((range) => portRange(context, range));
    const connector = this.connector(item);
    const modes: Mode[] = [];
    let tie: ast.Tie | undefined;
    let tailM: number | undefined;
    let separate = false;
    let own: true | undefined;
    for (const part of item.parts) {
      if (part.$type === 'Mode') modes.push(this.mode(item.direction, connector, part));
      else if (part.$type === 'ModeBlock') modes.push(...part.modes.map((mode) => this.mode(item.direction, connector, mode)));
      else if (part.$type === 'Tie') tie = part;
      else if (part.$type === 'Tail') tailM = context.quantity(part.length, 'length', ['length'], A_LEAD);
      else if (part.$type === 'Separate') separate = true;
      else if (part.$type === 'PortPrivate') own = true;
    }
    if (item.direction === 'input') {
      for (const part of item.parts) {
        if (part.$type === 'Tie') unused(context, part, 'from', 'an input', 'an output');
        else if (part.$type === 'Separate') unused(context, part, 'separate', 'an input', 'an output');
        else if (part.$type === 'PortPrivate') unused(context, part, 'private', 'an input', 'an output');
      }
    }
    const place = context.marks.set(`model:${model.name}/${item.direction}.${ids[0] ?? ''}`, { node: item });
    const ties = tie && this.ties(model, tie, ids, inputs);
    return ids.flatMap((id, index) => {
      const key = `${item.direction} ${id}`;
      if (declared.has(key)) {
        context.report('models/port-twice', { node: item, property: 'ids' }, { model: model.name, port: id, direction: item.direction });
        return [];
      }
      declared.add(key);
      if (item.direction === 'input') inputs.add(id);
      return [{ id, direction: item.direction, connector, modes, separate, private: own, bank, tailM, tie: ties?.[index], place }];
    });
  }

  private connector(item: ast.Port): Connector | undefined {
    return item.connector === undefined ? undefined : connectorOf(this.context, item.connector, { node: item, property: 'connector' });
  }

  private mode(direction: 'input' | 'output', connector: Connector | undefined, node: ast.Mode): Mode {
    const { context } = this;
    const kind = node.kind as SignalKind;
    const mode: { -readonly [K in keyof Mode]: Mode[K] } = { kind, balanced: balancedByDefault(kind, connector), floating: false };
    let perVolt: { value: number; node: ast.Quantity } | undefined;
    for (const figure of node.figures) {
      const belongs = belongsTo(figure, { direction, connector, kind, figures: node.figures });
      if (belongs !== undefined) {
        unused(context, figure, firstWord(figure), `${direction === 'input' ? 'an input' : 'an output'} (${kind})`, belongs);
        continue;
      }
      switch (figure.$type) {
        case 'Impedance':
          mode.impedanceOhm = context.quantity(figure.quantity, 'impedance', ['resistance'], POSITIVE);
          break;
        case 'Capacitance':
          mode.capacitanceF = context.quantity(figure.quantity, 'capacitance', ['capacitance'], POSITIVE);
          break;
        case 'Inductance':
          mode.inductanceH = context.quantity(figure.quantity, 'inductance', ['inductance'], POSITIVE);
          break;
        case 'Max': {
          const max = context.measure(
            figure.quantity,
            'highest level',
            direction === 'output' ? ['voltage-level', 'sound-level'] : ['voltage-level'],
          );
          if (max?.dimension === 'sound-level') mode.maxDbSpl = max.value;
          else if (max) mode.maxDbu = max.value;
          break;
        }
        case 'Limiter':
          mode.limiterDbu = context.quantity(figure.quantity, 'level', ['voltage-level']);
          break;
        case 'Level':
          mode.levelDbu = context.quantity(figure.quantity, 'level', ['voltage-level']);
          break;
        case 'Sensitivity': {
          const dimensions = kind === 'phones' ? EARPHONES : (['sensitivity'] as const);
          const rule = kind === 'phones' ? undefined : POSITIVE;
          const sensitivity = context.measure(figure.quantity, 'sensitivity', dimensions, rule);
          if (sensitivity?.dimension === 'sensitivity') mode.sensitivityVPerPa = sensitivity.value;
          else if (sensitivity?.dimension === 'earphone-sensitivity') mode.sensitivityDbSplPerMw = sensitivity.value;
          else if (sensitivity) perVolt = { value: sensitivity.value, node: figure.quantity };
          break;
        }
        case 'GainRange':
          mode.gainDb = context.range(figure.range, 'gain range', 'relative-level');
          break;
        case 'Noise':
          mode.noiseDbu = context.quantity(figure.quantity, 'noise level', ['voltage-level']);
          break;
        case 'SelfNoise':
          mode.selfNoiseDbSpl = context.quantity(figure.quantity, 'self-noise', ['sound-level']);
          break;
        case 'DynamicRange':
          mode.dynamicRangeDb = context.quantity(figure.quantity, 'dynamic range', ['relative-level'], POSITIVE);
          break;
        case 'InputPad':
          mode.padDb = lossDb(context, figure.quantity);
          break;
        case 'Phantom':
          mode.phantom = figure.how;
          break;
        case 'Draws':
          mode.drawsA = context.quantity(figure.quantity, 'current', ['current'], NOT_NEGATIVE);
          break;
        case 'Channels':
          mode.channels = context.counting(figure, 'count', figure.count, 'number of channels');
          break;
        case 'Balance':
          mode.balanced = figure.how !== 'unbalanced';
          mode.floating = figure.how === 'floating';
          break;
      }
    }
    if (perVolt && mode.impedanceOhm !== undefined) mode.sensitivityDbSplPerMw = perMilliwatt(perVolt.value, mode.impedanceOhm);
    else if (perVolt) {
      const written = perVolt.node.$cstNode?.text ?? '';
      context.report('units/impossible', { node: perVolt.node }, { written, what: 'sensitivity without an impedance', rule: PER_VOLT });
    }
    return mode;
  }

  /** The tie of each output: one for one where there are as many inputs, the same for all otherwise. */
  private ties(model: ast.Model, node: ast.Tie, outputs: readonly string[], known: ReadonlySet<string>): (Tie | undefined)[] {
    const { context } = this;
    const inputs = node.inputs.flatMap((range) =>
      portRange(context, range).filter((id) => {
        if (known.has(id)) return true;
        const instead = range.last === undefined ? nearest(id, [...known]) : [];
        context.report(
          'models/no-such-input',
          { node: range },
          { model: model.name, written: id, inputs: [...known] },
          { fixes: instead.map((each) => ({ with: each })) },
        );
        return false;
      }),
    );
    if (inputs.length === 0 || !node.how) return [];
    let gainDb = 0;
    let padDb = 0;
    let isolated = node.how === 'transformer';
    for (const part of node.parts) {
      if (part.$type === 'TieGain' && node.how !== 'active') unused(context, part, 'gain', `"${node.how}"`, '"active"');
      else if (part.$type === 'TieGain') gainDb = context.quantity(part.quantity, 'gain', ['relative-level']) ?? 0;
      else if (part.$type === 'TiePad') padDb = lossDb(context, part.quantity) ?? 0;
      else isolated = true;
    }
    const ratio = node.ratio ? Number(node.ratio.primary) / Number(node.ratio.secondary) : 1;
    if (!(ratio >= 1 / MOST_RATIO && ratio <= MOST_RATIO)) {
      context.report(
        'units/impossible',
        { node: node.ratio ?? node },
        {
          written: node.ratio?.$cstNode?.text ?? '',
          what: 'ratio',
          rule: `two numbers above nought, as in 12:1, neither more than ${MOST_RATIO} times the other`,
        },
      );
      return [];
    }
    const pairwise = inputs.length === outputs.length;
    return outputs.map((_, index) => ({
      inputs: pairwise ? [inputs[index] as string] : inputs,
      how: node.how,
      ratio,
      gainDb,
      padDb,
      isolated,
    }));
  }
}

/** Something that nothing reads where it stands. */
function unused(context: Context, node: AstNode, clause: string, of: string, belongs: string): void {
  context.report('models/unused-figure', { node }, { clause, of, belongs }, { fixes: [{ with: '' }] });
}

/** A child's port replaces its parent's of the same name and direction. */
function join(parents: readonly Port[], own: readonly Port[]): Port[] {
  const replaced = new Map(own.map((port) => [`${port.direction} ${port.id}`, port]));
  const kept = parents.map((port) => {
    const key = `${port.direction} ${port.id}`;
    const mine = replaced.get(key);
    replaced.delete(key);
    return mine ?? port;
  });
  return [...kept, ...replaced.values()];
}

function balancedByDefault(kind: SignalKind, connector: Connector | undefined): boolean {
  if (kind !== 'mic' && kind !== 'line') return false;
  return connector === undefined || CONNECTORS[connector].poles >= 3;
}

/** A pad is written as what it takes away, with or without a minus. */
function lossDb(context: Context, quantity: ast.Quantity): number | undefined {
  const value = context.quantity(quantity, 'pad', ['relative-level']);
  return value === undefined ? undefined : Math.abs(value);
}

function loudness(
  context: Context,
  quantity: ast.Quantity,
  what: string,
  dimensions: readonly Dimension[] = ['sound-level', 'voltage-level'],
): Loudness | undefined {
  const level = context.measure(quantity, what, dimensions);
  if (!level) return undefined;
  return level.dimension === 'sound-level' ? { dbSpl: level.value } : { dbu: level.value };
}

/** How loud a source is. At a microphone that is a sound, at any other output a voltage: the other of the two would count for nothing. */
export function loudnessOf(context: Context, node: ast.Typical | ast.Peak, ports: readonly Port[]): Loudness | undefined {
  const { $type, $container: owner, quantity } = node;
  const what = $type === 'Typical' ? 'usual level' : 'peak level';
  const modes = ports.flatMap((port) => (port.direction === 'output' ? port.modes : []));
  const analogue = modes.filter(({ kind }) => kind !== 'digital' && kind !== 'radio');
  if (analogue.length === 0) {
    // Without any output it is told of by itself.
    if (modes.length > 0)
      unused(context, node, node.$type.toLowerCase(), 'what has no level', 'a microphone, or an output that is neither digital nor radio');
    return loudness(context, quantity, what);
  }
  const hears = analogue.filter(({ sensitivityVPerPa }) => sensitivityVPerPa !== undefined).length;
  if (hears === analogue.length) return loudness(context, quantity, `${what} at a microphone`, ['sound-level']);
  if (hears > 0) return loudness(context, quantity, what);
  if ($type === 'Typical' && owner.$type === 'Model' && analogue.every(({ levelDbu }) => levelDbu !== undefined)) {
    const how = owner.name ? `source … is ${owner.name} typical -10 dBu` : 'source … typical -10 dBu';
    unused(context, node, 'typical', 'a model whose outputs state their level', `a source ("${how}"), or to an output as its "level"`);
    return undefined;
  }
  return loudness(context, quantity, `${what} at an output`, ['voltage-level']);
}

/** How long on its batteries, how many cells of which kind, how many watts. */
function powerOf(context: Context, { from, figures }: ast.Power): PowerFigures {
  const power: { -readonly [K in keyof PowerFigures]: PowerFigures[K] } = { from };
  for (const figure of figures) {
    const measured = context.measure(figure, 'battery life, number of cells or power', ['time', 'cells', 'power'], POSITIVE);
    if (measured?.dimension === 'time') power.lifeS = measured.value;
    else if (measured?.dimension === 'power') power.watts = measured.value;
    else if (measured) power.cells = { count: measured.value, kind: measured.unit };
  }
  return power;
}

/** The outputs that a "private" names. One that is not there is told of. */
export function outputsNamed(context: Context, node: ast.Private, ports: readonly Port[], of: string): string[] {
  const known = ports.flatMap(({ direction, id }) => (direction === 'output' ? id : []));
  return node.outputs.filter((name, index) => {
    if (known.includes(name)) return true;
    const near = nearest(name, known);
    const figures = { what: `output of ${of}`, name, near: near.length > 0 ? near : known, minus: undefined, file: undefined, more: 0 };
    context.report('names/unknown', { node, property: 'outputs', index }, figures, { fixes: near.map((each) => ({ with: each })) });
    return false;
  });
}

/** Undefined where there is no such connector, which is told at the mark. */
export function connectorOf(context: Context, written: string, mark: Mark): Connector | undefined {
  if (isConnector(written)) return written;
  const near = nearest(written, Object.keys(CONNECTORS))[0];
  context.report(
    'models/no-such-connector',
    mark,
    { written, near, connectors: Object.keys(CONNECTORS) },
    { fixes: near ? [{ with: near }] : [] },
  );
  return undefined;
}

/** Whose something is, and whether it is to spare. */
export function holding(
  context: Context,
  { Holding, Spare }: { readonly Holding?: ast.Holding; readonly Spare?: ast.Holding },
): Holding | undefined {
  const said = Holding ?? Spare;
  if (!said) return undefined;
  const price = context.measure(said.price, 'price', ['money'], NOT_NEGATIVE);
  return { how: said.how, price: price && { amount: price.value, currency: price.unit }, ...(Spare ? { spare: true } : {}) };
}
