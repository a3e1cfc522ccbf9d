/** How loud a mix is, what of it comes where, and how late one hears oneself, in a hover's words. */
import {
  type Bus,
  type Checked,
  decibels,
  type Latency,
  type LatencyPart,
  type Lengths,
  type Loud,
  latencyParts,
  lengthText,
  list,
  type MixLevels,
  milliseconds,
  powerSum,
  socket,
  socketName,
  wedgeM,
} from '#engine';
import type { Mix, Performer, Piece, Port, Send } from '#rig';
import { plain } from './markdown';

function loudText({ typical, peak }: Loud, unit: 'dBFS' | 'dBu'): string {
  return `usual ${decibels(typical, unit)}, loudest ${decibels(peak, unit)}`;
}

/** What a mix adds up to, and by which outputs it leaves at what level. */
export function mixLoudText({ sides, leaving }: MixLevels): string {
  const sums = sides.flatMap(({ side, level }) => (level ? [`${side ? `${side} ` : ''}${loudText(level, 'dBFS')}`] : []));
  if (sums.length === 0) return '';
  const outs = new Map(leaving.map((each) => [each.line.start?.key, each]));
  const out = [...outs.values()].flatMap(({ line: { start }, level }) =>
    start ? [`by ${plain(socketName(start))} ${loudText(level, 'dBu')}${knobText(start.port)}`] : [],
  );
  return [
    `Adds up to: ${sums.join('; ')} (0 dBFS clips; an estimate, as peaks seldom meet).`,
    out.length > 0 ? `Leaves ${out.join('; ')}.` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

function knobText(port: Port): string {
  return port.modes.some(({ kind }) => kind === 'phones') ? ' with its knob full up' : '';
}

/** How loud a send's source is in its mix at the loudest, on the side where it is louder: `-9 dBFS`. */
export function sendPeakText(levels: MixLevels | undefined, send: Send): string {
  const peaks = (levels?.sides ?? []).flatMap(
    ({ from }) => powerSum(from.filter((each) => each.send === send).map(({ peak }) => peak)) ?? [],
  );
  return peaks.length === 0 ? '' : decibels(Math.max(...peaks), 'dBFS');
}

/** What one send gives to its mix. */
export function sendText(levels: MixLevels, send: Send): string {
  const has = (bus: Bus) => bus.from.filter((each) => each.send === send);
  const parts = levels.sides.flatMap((bus) => {
    const from = has(bus);
    const typical = powerSum(from.map((each) => each.typical));
    const peak = powerSum(from.map((each) => each.peak));
    return typical === undefined || peak === undefined ? [] : [`${bus.side ? `${bus.side} ` : ''}${loudText({ typical, peak }, 'dBFS')}`];
  });
  if (parts.length === 0) return '';
  const assumed = levels.sides.some((bus) => has(bus).some((each) => each.assumed));
  return `In the mix ${plain(levels.mix.label)}: ${parts.join('; ')}${assumed ? ' (no figures: taken to be lined up like the others)' : ''}.`;
}

/** A mix at a socket: as it leaves an output, or as it comes to an input. */
export function portLoudText(checked: Checked, piece: Piece, port: Port): string {
  const { key } = socket(piece, port);
  // A number can name an input and an output.
  const leaving =
    port.direction === 'output' && checked.buses.all.flatMap((each) => each.leaving).find(({ line }) => line.start?.key === key);
  if (leaving) return `Leaves here: ${loudText(leaving.level, 'dBu')}${knobText(port)}.`;
  if (port.direction === 'output') return '';
  const coming = (checked.network.entering.get(key) ?? []).flatMap((joint) => checked.buses.at(joint) ?? [])[0];
  return coming ? `Comes here: ${loudText(coming, 'dBu')}.` : '';
}

/** `Voice after 4.1 ms, as from a wedge 1.4 m away (0.1 ms in Voice, 1.4 ms in Interface)`. */
function lateText({ source, totalS, parts }: Latency, lengths: Lengths): string {
  const label = plain(source.label);
  if (parts.every(({ seconds }) => seconds === undefined))
    return `${label}, nobody says how late (${list(parts.map(({ of }) => plain(of)))})`;
  const told = parts.map((part): LatencyPart => ({ ...part, of: plain(part.of) }));
  return `${label} after ${milliseconds(totalS)}, as from a wedge ${lengthText(wedgeM(totalS), lengths)} away (${latencyParts(told)})`;
}

/** How late a performer hears their own sound, in each mix that has it; the same in two mixes is said once. */
export function performerLateText({ latencies, rig }: Checked, performer: Performer): string {
  const own = [...new Set(latencies.filter((each) => each.performer === performer).map((each) => lateText(each, rig.settings)))];
  return own.length === 0 ? '' : `Hears their own ${own.join('; ')}.`;
}

/** The same, of all who hear a mix. */
export function mixLateText({ latencies, rig }: Checked, mix: Mix): string {
  const own = latencies.filter((each) => each.mix === mix);
  return own.map((each) => `${plain(each.performer.label)} hears their own ${lateText(each, rig.settings)}.`).join(' ');
}
