/** How figures and lists are written, the same everywhere. */
import type { Connector } from '#rig';

/** `3.4 dB`, `-12 dBu`: at most one decimal, none where it would be a nought. */
export function decibels(value: number, unit = 'dB'): string {
  return `${tidy(value, 1)} ${unit}`;
}

/** `1.4 days’ worth`, `51 days’ worth`. */
export function daysWorth(days: number): string {
  const told = tidy(days, days < 10 ? 1 : 0);
  return `${told} ${told === '1' ? 'day’s' : 'days’'} worth`;
}

/** `4.1 ms`, from seconds. */
export function milliseconds(seconds: number): string {
  return `${tidy(seconds * 1000, 1)} ms`;
}

/** `4 mA`, from amperes. */
export function milliamps(amperes: number): string {
  return `${tidy(amperes * 1000, 1)} mA`;
}

export function volts(value: number): string {
  return `${tidy(value, 1)} V`;
}

/** `1.1 kHz`, `87 Hz`: two significant figures. */
export function hertz(value: number): string {
  if (value >= 1e6) return `${Number((value / 1e6).toFixed(3))} MHz`;
  if (value >= 1000) return `${tidy(value / 1000, 1)} kHz`;
  return value >= 10 ? `${Math.round(value)} Hz` : `${tidy(value, 1)} Hz`;
}

/** Where a set sends, as a rig says it: `on 863.4 MHz`. */
export function onText(hz: number): string {
  return `on ${tidy(hz / 1e6, 6)} MHz`;
}

export function ohms(value: number): string {
  if (value >= 1e6) return `${tidy(value / 1e6, 1)} Mohm`;
  if (value >= 1000) return `${tidy(value / 1000, 1)} kohm`;
  return `${tidy(value, 0)} ohm`;
}

/** A number with at most so many decimals and no trailing noughts, never `-0`. */
export function tidy(value: number, decimals: number): string {
  const rounded = Number(value.toFixed(decimals));
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** Where a level would stand, and nothing in the rig says what it is. */
export const NOT_STATED = 'not stated';

/** `voice, clar and squeeze`. */
export function list(items: readonly string[], joiner = 'and'): string {
  if (items.length <= 1) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} ${joiner} ${items.at(-1)}`;
}

/** What can be done, as a sentence: `Move it to 3, or put a pad in between.` */
export function oneOf(ways: readonly string[]): string {
  const last = ways.length > 1 ? `, or ${ways.at(-1)}` : '';
  return `${capital(`${ways.length > 1 ? ways.slice(0, -1).join(', ') : ways[0]}${last}`)}.`;
}

/** `a level`, `an impedance`; `a usual level`, `an XLR lead`, by how it is spoken. */
export function a(noun: string): string {
  return `${/^(?!us|uni|one)[aeiou]/i.test(noun) || /^[FHLMNRSX][A-Z\d]/.test(noun) ? 'an' : 'a'} ${noun}`;
}

/** A label as it goes on inside a sentence: `closed headphones`; what begins with capitals, such as `XLR split`, stays. */
export function inside(label: string): string {
  return label.replace(/^\p{Lu}(?=\p{Ll})/u, (letter) => letter.toLowerCase());
}

/** `our Y-lead`; a label that says whose it is says it alone: `Edda's box`. */
export function our(label: string): string {
  if (/^our\b/i.test(label)) return inside(label);
  return /['\u2019]s?\s/.test(label) ? label : `our ${label}`;
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'];

/** `three`, and figures from thirteen. */
export function spoken(number: number): string {
  return NUMBERS[number] ?? String(number);
}

export function count(number: number, noun: string, plural = `${noun}s`): string {
  return `${spoken(number)} ${number === 1 ? noun : plural}`;
}

export function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** Port ids as people say them: `1..8`, `usb1..usb4 and phones`. */
export function portList(ids: readonly string[], joiner = 'and'): string {
  const groups: { stem: string; from: number; to: number; ids: string[] }[] = [];
  for (const id of ids) {
    const match = /^(.*?)(\d+)$/.exec(id);
    const last = groups.at(-1);
    const number = match ? Number(match[2]) : Number.NaN;
    if (match && last && last.stem === match[1] && number === last.to + 1) {
      last.to = number;
      last.ids.push(id);
    } else {
      groups.push({ stem: match?.[1] ?? id, from: number, to: number, ids: [id] });
    }
  }
  return list(
    groups.flatMap((g) => (g.ids.length > 2 ? [`${g.ids[0]}..${g.ids.at(-1)}`] : g.ids)),
    joiner,
  );
}

/** What parts left and right that come in one plug, and how it is written. */
export function stereoLead(plug: Connector): string {
  return `a lead with one stereo plug and two mono ones, into two inputs ("model stereo-lead is splitter { input in ${plug} line channels 2 output left, right ts separate from in parallel }", then "via stereo-lead")`;
}
