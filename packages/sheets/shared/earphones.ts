/** What each performer wears in their ears, the socket it goes into, and what fits the two together. */
import {
  isRadio,
  leadBetween,
  lengthText,
  type Socket,
  seatsFor,
  shortages,
  shortEarphones,
  socket,
  socketName,
  withOpenEars,
} from '#engine';
import { CONNECTORS, type Model, type Performer, type Port } from '#rig';
import type { Context } from './context';
import { unique } from './draft';
import { onAir } from './path';

export interface Earphones {
  readonly performer: Performer;
  /** Nothing where the rig does not say. */
  readonly model?: Model;
  /** The phones sockets at which their mixes end for them: of each mix their own first, then those that nobody has. */
  readonly sockets: readonly Socket[];
  /** `fits`, `adapter: 3.5 mm TRS jack to 6.35 mm TRS jack`, `fits, extension lead of 10 m`, `does not fit`; empty where one of the two is not known. */
  readonly fit: string;
}

/** Of everybody who has earphones, or a mix that they do not hear by a loudspeaker alone. */
export function earphonesOf(context: Context): readonly Earphones[] {
  return context.once('earphones', allEarphones);
}

function allEarphones(context: Context): readonly Earphones[] {
  const { rig, network, leads } = context.checked;
  const short = shortEarphones(network, leads);
  const open = withOpenEars(network);
  return [...rig.performers.values()].flatMap((performer) => {
    const mixes = [...rig.mixes.values()].filter((mix) => mix.for.includes(performer.id));
    if ((mixes.length === 0 || open.has(performer.id)) && !performer.ears) return [];
    const sockets = mixes.flatMap((mix) => [
      ...rig.outputs.filter((run) => run.carries === mix.id).flatMap((run) => byAir(context, run.id, performer)),
      ...seatsFor(network, performer.id, mix.id).flatMap(({ at }) => (at.port.direction === 'output' ? at : [])),
    ]);
    const each = [...new Map(sockets.map((at) => [at.key, at])).values()];
    const longer = short
      .filter((one) => one.performer === performer)
      .map(({ extensionM }) => `extension lead of ${lengthText(extensionM, rig.settings)}`);
    return [{ performer, model: performer.ears, sockets: each, fit: [fitOf(performer.ears, each), ...longer].filter(Boolean).join(', ') }];
  });
}

export interface Served {
  /** So many can hear a mix: by earphones that they can plug in, or by a loudspeaker. */
  readonly count: number;
  /** Who cannot; of people who share fewer sockets than they are, all, for who of them goes without is not said. */
  readonly without: readonly Performer[];
}

/** Of all performers. A socket takes one pair of earphones. */
export function servedOf(context: Context): Served {
  const { rig, network } = context.checked;
  const open = withOpenEars(network);
  const performers = [...rig.performers.values()].filter(({ id }) => !open.has(id));
  const sockets = new Map<string, number>();
  const numberOf = ({ key }: Socket) => sockets.get(key) ?? sockets.set(key, sockets.size).size - 1;
  const listening = new Map(earphonesOf(context).map((each) => [each.performer, each.sockets]));
  const wishes = performers.map((performer) => (listening.get(performer) ?? []).map(numberOf));
  const short = shortages(wishes);
  const without = new Set(short.flatMap(({ lefts }) => lefts));
  const missing = short.reduce((sum, { lefts, rights }) => sum + lefts.length - rights.length, 0);
  return { count: rig.performers.size - missing, without: performers.filter((_, index) => without.has(index)) };
}

/** The phones sockets of the packs with which a listener hears a run. */
function byAir(context: Context, run: string, performer: Performer): Socket[] {
  return context.linesOf(run).flatMap((line) => {
    const air = onAir(line);
    const packs = air ? context.receiversOf(air.piece.id).filter((pack) => pack.for.includes(performer.id)) : [];
    return packs.flatMap((pack) =>
      pack.model.ports.filter((port) => port.direction === 'output' && isPhones(port)).map((port) => socket(pack, port)),
    );
  });
}

function isPhones(port: Port): boolean {
  return !isRadio(port) && (port.modes.length === 0 || port.modes.some((mode) => mode.kind === 'phones'));
}

function fitOf(model: Model | undefined, sockets: readonly Socket[]): string {
  const plug = model?.ports.find((port) => port.direction === 'input' && port.connector !== undefined);
  if (!plug?.connector) return '';
  const { label } = CONNECTORS[plug.connector];
  return unique(
    sockets.flatMap(({ port }) => {
      if (port.connector === undefined) return [];
      const lead = leadBetween(port, plug, 'phones');
      if (!lead) return ['does not fit'];
      return lead.adapting ? [`adapter: ${label} to ${CONNECTORS[port.connector].label}`] : ['fits'];
    }),
  ).join(', ');
}

/** `Idris's pack (3.5 mm TRS jack)`. */
export function socketWords({ sockets }: Earphones): string {
  return sockets
    .map((at) => (at.port.connector ? `${socketName(at)} (${CONNECTORS[at.port.connector].label})` : socketName(at)))
    .join(', ');
}
