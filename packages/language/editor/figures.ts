/** Gear in words and tables: ports, their modes and figures, and what the whole unit has. */
import { decibels, hertz, type Lengths, lengthText, list, ohms, portList, tidy } from '#engine';
import { CONNECTORS, type Holding, type Loudness, type Mode, type Model, type Piece, type Port } from '#rig';
import { type Column, plain, table } from './markdown';

/** `mic or line`, `digital`. A port without a mode passes on what it gets. */
export function kindsText(port: Port): string {
  return list([...new Set(port.modes.map((mode) => mode.kind))], 'or') || 'passes on';
}

export function connectorText(port: Port): string {
  return port.connector ? CONNECTORS[port.connector].label : '';
}

/** How an output comes about: `joined straight to in`, `in through a transformer, 12:1`. */
export function tieText(port: Port): string {
  const { tie } = port;
  if (!tie) return '';
  const from = portList(tie.inputs);
  const change = [
    tie.gainDb !== 0 ? decibels(tie.gainDb) : '',
    tie.padDb !== 0 ? `less ${decibels(tie.padDb)}` : '',
    tie.isolated && tie.how !== 'transformer' ? 'isolated' : '',
  ].filter(Boolean);
  const how = {
    parallel: `joined to ${from}`,
    transformer: `${from} by transformer ${tidy(tie.ratio, 2)}:1`,
    active: `${from} by electronics`,
    switch: `one of ${from}`,
  }[tie.how];
  return [how, ...change].join(', ');
}

const MODE_COLUMNS: readonly Column[] = [
  { head: 'signal' },
  { head: 'impedance', align: 'right' },
  { head: 'usual', align: 'right' },
  { head: 'clips at', align: 'right' },
  { head: 'gain', align: 'right' },
  { head: 'phantom' },
  { head: 'also' },
];

function modeCells(mode: Mode): string[] {
  return [
    mode.kind,
    mode.impedanceOhm === undefined ? '' : ohms(mode.impedanceOhm),
    usual(mode),
    mode.maxDbu !== undefined ? decibels(mode.maxDbu, 'dBu') : mode.maxDbSpl !== undefined ? decibels(mode.maxDbSpl, 'dB SPL') : '',
    mode.gainDb ? `${tidy(mode.gainDb.low, 1)}..${decibels(mode.gainDb.high)}` : '',
    mode.phantom === undefined ? '' : mode.drawsA === undefined ? mode.phantom : `${mode.phantom}, ${tidy(mode.drawsA * 1000, 1)} mA`,
    also(mode),
  ];
}

function usual(mode: Mode): string {
  if (mode.levelDbu !== undefined) return decibels(mode.levelDbu, 'dBu');
  if (mode.sensitivityVPerPa !== undefined) return `${tidy(mode.sensitivityVPerPa * 1000, 2)} mV/Pa`;
  return mode.sensitivityDbSplPerMw === undefined ? '' : `${tidy(mode.sensitivityDbSplPerMw, 1)} dB SPL/mW`;
}

function also(mode: Mode): string {
  return [
    mode.noiseDbu === undefined ? '' : `noise ${decibels(mode.noiseDbu, 'dBu')}`,
    mode.selfNoiseDbSpl === undefined ? '' : `self-noise ${decibels(mode.selfNoiseDbSpl, 'dB SPL')}`,
    mode.dynamicRangeDb === undefined ? '' : `dynamic range ${decibels(mode.dynamicRangeDb)}`,
    mode.padDb === undefined ? '' : `pad ${decibels(mode.padDb)}`,
    mode.capacitanceF === undefined ? '' : `${tidy(mode.capacitanceF * 1e9, 2)} nF`,
    mode.inductanceH === undefined ? '' : `${tidy(mode.inductanceH, 2)} H`,
    mode.channels === undefined ? '' : `${mode.channels} ${mode.channels === 1 ? 'channel' : 'channels'}`,
    mode.kind === 'line' && !mode.balanced ? 'unbalanced' : '',
    mode.floating ? 'floating' : '',
  ]
    .filter(Boolean)
    .join(', ');
}

/** The ways one port can be used, a row each. */
export function modeTable(port: Port): string {
  return port.modes.length === 0 ? '' : table(MODE_COLUMNS, port.modes.map(modeCells));
}

/** All ports of a model, those that are alike together. */
export function portTable(model: Model, lengths: Lengths): string {
  const groups = new Map<string, Port[]>();
  for (const port of model.ports) {
    const key = JSON.stringify([port.direction, port.connector, port.modes, port.tie?.how, port.tie?.ratio, port.tailM, port.bank]);
    const group = groups.get(key);
    if (group) group.push(port);
    else groups.set(key, [port]);
  }
  const rows = [...groups.values()].flatMap((ports) => {
    const first = ports[0] as Port;
    const inputs = [...new Set(ports.flatMap((port) => port.tie?.inputs ?? []))];
    const tied = first.tie ? tieText({ ...first, tie: { ...first.tie, inputs } }) : '';
    const tail = first.tailM === undefined ? '' : `own lead ${lengthText(first.tailM, lengths)}`;
    const head = [`${first.direction} ${portList(ports.map((port) => port.id))}`, first.connector ?? '', tied];
    const modes = first.modes.length > 0 ? first.modes.map(modeCells) : [MODE_COLUMNS.map(() => '')];
    return modes.map((cells, index) => [
      ...(index === 0 ? head : ['', '', '']),
      ...cells.slice(0, -1),
      [cells.at(-1), index === 0 ? tail : ''].filter(Boolean).join(', '),
    ]);
  });
  if (rows.length === 0) return '';
  return table([{ head: 'ports' }, { head: 'plug' }, { head: 'made from' }, ...MODE_COLUMNS], rows);
}

/** What the whole unit has, apart from its ports. */
export function unitText(model: Model): string {
  const { mixes, phantomA, latencyS, ratesHz, power, tunesHz, stepHz, carrier, lowestHz, highestHz } = model;
  return [
    mixes && `mixes ${mixes.count} ${mixes.width}`,
    phantomA === undefined ? undefined : `phantom ${tidy(phantomA * 1000, 1)} mA in all`,
    latencyS === undefined ? undefined : `latency ${tidy(latencyS * 1000, 2)} ms`,
    power &&
      (power.from === 'none'
        ? 'needs no power'
        : [
            `power ${plain(power.from)}`,
            power.lifeS === undefined ? '' : `${tidy(power.lifeS / 3600, 1)} h`,
            power.cells ? `${tidy(power.cells.count, 0)} ${power.cells.kind}` : '',
            power.watts === undefined ? '' : `${tidy(power.watts, 1)} W`,
          ]
            .filter(Boolean)
            .join(', ')),
    ratesHz && `rates ${ratesHz.map(hertz).join(', ')}`,
    tunesHz && `tunes ${hertz(tunesHz.low)} to ${hertz(tunesHz.high)}${stepHz === undefined ? '' : ` in steps of ${hertz(stepHz)}`}`,
    carrier && [`${carrier.kind} carrier`, carrier.bandwidthHz === undefined ? '' : hertz(carrier.bandwidthHz)].filter(Boolean).join(', '),
    lowestHz === undefined ? undefined : `lowest note ${tidy(lowestHz, 1)} Hz`,
    highestHz === undefined ? undefined : `sounds up to ${hertz(highestHz)}`,
    loudText('usual', model.typical),
    loudText('loudest', model.peak),
    model.sideSelect ? 'side select' : undefined,
    model.monoSwitch ? 'mono switch' : undefined,
    model.private ? 'never for the audience' : undefined,
    model.holding && holdingText(model.holding),
  ]
    .filter(Boolean)
    .join(' · ');
}

export function loudText(what: string, level: Loudness | undefined): string | undefined {
  if (level?.dbSpl !== undefined) return `${what} ${decibels(level.dbSpl, 'dB SPL')}`;
  return level?.dbu === undefined ? undefined : `${what} ${decibels(level.dbu, 'dBu')}`;
}

export function holdingText({ how, price, spare }: Holding): string {
  const words = { owned: 'owned', borrowed: 'borrowed', theirs: 'the house’s', spare: 'spare', hire: 'to hire', buy: 'to buy' }[how];
  return [words, price && `${tidy(price.amount, 2)} ${price.currency}`, spare && how !== 'spare' && 'spare'].filter(Boolean).join(', ');
}

/** Where figures come from. */
export function originText(model: Model): string {
  return model.origins.length === 0 ? '' : `Figures: ${model.origins.map(plain).join('; ')}`;
}

export function inputsOf(model: Model): Port[] {
  return model.ports.filter((port) => port.direction === 'input');
}

export function outputsOf(model: Model): Port[] {
  return model.ports.filter((port) => port.direction === 'output');
}

/** Where a piece is put, in the performers' own directions. */
export function placeText(at: Piece['at'], lengths: Lengths): string {
  if (!at) return '';
  const side = Math.abs(at.x) < 0.05 ? 'in the middle' : `${lengthText(Math.abs(at.x), lengths, 1)} to the ${at.x > 0 ? 'left' : 'right'}`;
  return `${side}, ${lengthText(at.y, lengths, 1)} from the front edge`;
}
