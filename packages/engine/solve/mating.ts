/** What joins an output to an input: whether anything does, and the lead with its two ends. */
import { CONNECTORS, type Connector, type Mode, type Port, type SignalKind } from '#rig';

type Family = (typeof CONNECTORS)[Connector]['family'];

/** One end of a lead, as it is asked for: `XLR female`. Plugs of jacks and phonos need no gender. */
export interface LeadEnd {
  readonly connector: Connector;
  readonly gender?: 'female' | 'male';
}

export interface Lead {
  /** The end that goes into the output, then the one that goes into the input. */
  readonly ends: readonly [LeadEnd, LeadEnd];
  readonly balanced: boolean;
  /** The two ends are of different families, so a plain lead will not do. */
  readonly adapting: boolean;
}

/** Analogue families that leads and adapters exist between. */
const ANALOGUE: ReadonlySet<Family> = new Set(['xlr', 'jack', 'combo', 'mini', 'phono', 'mini-xlr']);

const isSpeaker = (connector: Connector) => connector === 'speaker-jack' || connector === 'speaker-twist';

/** Whether a lead or an adapter that joins an output to an input can be had. Ports without a connector join inside a machine, or by radio. */
export function mates(output: Port, input: Port): boolean {
  if (isRadio(output) || isRadio(input)) return isRadio(output) && isRadio(input);
  if (output.connector === undefined || input.connector === undefined) {
    return output.connector === input.connector;
  }
  const from = CONNECTORS[output.connector].family;
  const to = CONNECTORS[input.connector].family;
  return from === to || (ANALOGUE.has(from) && ANALOGUE.has(to));
}

/** Whether a plain lead joins the two, with the same kind of plug at both ends. A combo socket takes an XLR or a jack. */
export function plugsStraight(output: Port, input: Port): boolean {
  if (output.connector === undefined || input.connector === undefined) return false;
  const from = CONNECTORS[output.connector].family;
  const to = CONNECTORS[input.connector].family;
  return from === to || (to === 'combo' && (from === 'xlr' || from === 'jack'));
}

export function isRadio(port: Port): boolean {
  return port.modes.some((mode) => mode.kind === 'radio');
}

/** An amplifier's output for loudspeakers plugged into something that is not a loudspeaker, whatever the plug. */
export function carriesSpeakerLevel(port: Port): boolean {
  return (port.connector !== undefined && isSpeaker(port.connector)) || port.modes.some((mode) => mode.kind === 'speaker');
}

/** What must never be plugged together: an amplifier's loudspeaker output, and anything that is not for loudspeakers. */
export function mustNotBe({ from, to }: { readonly from: { readonly port: Port }; readonly to: { readonly port: Port } }): boolean {
  return carriesSpeakerLevel(from.port) && !to.port.modes.some(({ kind }) => kind === 'speaker');
}

/**
 * The lead between two ports, or undefined where none is needed or none exists.
 * XLR inputs are sockets and outputs are plugs (AES14, from memory), so the lead's ends are the other way round.
 */
export function leadBetween(output: Port, input: Port, kind: SignalKind | undefined): Lead | undefined {
  if (output.connector === undefined || input.connector === undefined || !mates(output, input)) return undefined;
  const balanced =
    modeOf(output, kind)?.balanced !== false &&
    modeOf(input, kind)?.balanced !== false &&
    CONNECTORS[output.connector].poles >= 3 &&
    CONNECTORS[input.connector].poles >= 3;
  const into = endFor(input.connector, 'input', kind, output.connector);
  const from = endFor(output.connector, 'output', kind, input.connector);
  return {
    ends: [from, mono(from, into)],
    balanced,
    adapting: CONNECTORS[from.connector].family !== CONNECTORS[into.connector].family,
  };
}

/** A mono jack goes by a mono lead into a socket with three poles, too: that is the lead that is sold, and its sleeve earths the ring. */
function mono(from: LeadEnd, into: LeadEnd): LeadEnd {
  const [one, other] = [CONNECTORS[from.connector], CONNECTORS[into.connector]];
  return one.poles === 2 && one.family === other.family ? { connector: from.connector } : into;
}

function endFor(connector: Connector, direction: 'input' | 'output', kind: SignalKind | undefined, other: Connector): LeadEnd {
  if (connector === 'combo') {
    // The XLR half of a combo socket leads to the microphone amplifier, the jack half to line or instrument.
    const jack = kind === 'line' || kind === 'instrument' || (kind === undefined && CONNECTORS[other].family === 'jack');
    if (jack) return { connector: CONNECTORS[other].poles >= 3 ? 'trs' : 'ts' };
    return { connector: 'xlr', gender: 'male' };
  }
  if (connector === 'xlr' || connector === 'mini-xlr') return { connector, gender: direction === 'output' ? 'female' : 'male' };
  return { connector };
}

function modeOf(port: Port, kind: SignalKind | undefined): Mode | undefined {
  return port.modes.find((mode) => mode.kind === kind) ?? port.modes[0];
}

/** `XLR female`, `6.35 mm TRS jack`. */
export function endLabel(end: LeadEnd): string {
  return end.gender ? `${CONNECTORS[end.connector].label} ${end.gender}` : CONNECTORS[end.connector].label;
}
