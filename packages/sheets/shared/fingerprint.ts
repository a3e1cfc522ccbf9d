/** A short mark of a rig's content: two papers with the same one tell the same rig. */
import type { Rig } from '#rig';
import { onceEach } from './onceEach';

/** `K3F7 9QXM`: the same for the same content, whatever its comments and spaces. */
export const fingerprintOf = onceEach((rig: Rig) =>
  mark(
    JSON.stringify(
      Object.entries(rig)
        .sort(byKey)
        .map(([key, value]) => [key, listed(value)]),
      plain,
    ),
  ),
);

/** Of what a rig has many of, the mark of each. */
function listed(value: unknown): unknown {
  if (value instanceof Map) return [...value].map(([id, each]) => [id, markOf(each)]);
  return Array.isArray(value) ? value.map(markOf) : value;
}

/** Of each thing by itself: a rig that somebody edits shares with the one before all that is the same. */
const markOf = onceEach((thing: object) => hash(JSON.stringify(thing, plain)).join('.'));

/** A text by eight signs of thirty-two: forty bits. */
export function mark(text: string): string {
  return signs(hash(text));
}

function plain(key: string, value: unknown): unknown {
  // Many pieces are of one model.
  if (key === 'model' && typeof value === 'object' && value !== null) return markOf(value);
  // Of a scan what it is kept clear of tells; its points are many, and nothing else hangs on them.
  if (key === 'points') return undefined;
  if (value instanceof Map) return [...value];
  // In which order a model says what it is makes no other model of it.
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return Object.fromEntries(Object.entries(value).sort(byKey));
  // JSON has none of these, and would write nothing for all three.
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}

const byKey = ([one]: [string, unknown], [other]: [string, unknown]) => (one < other ? -1 : 1);

/**
 * FNV-1a, 64 bits, over the UTF-8 of the text: its high and its low 32 bits. The prime is 2^40 + 0x1b3, so that each product stays
 * below 2^53. No secret hangs on it: it tells papers apart.
 */
export function hash(text: string): readonly [high: number, low: number] {
  let high = 0xcbf29ce4;
  let low = 0x84222325;
  for (const byte of new TextEncoder().encode(text)) {
    const mixed = (low ^ byte) >>> 0;
    const product = mixed * 0x1b3;
    high = (high * 0x1b3 + Math.floor(product / 2 ** 32) + mixed * 2 ** 8) >>> 0;
    low = product >>> 0;
  }
  return [high, low];
}

/** Without I, L, O and U, which are misread (Crockford's base 32). */
const SIGNS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Of each half its twenty highest bits. */
function signs(halves: readonly number[]): string {
  return halves.map((half) => [27, 22, 17, 12].map((shift) => SIGNS[(half >>> shift) & 31]).join('')).join(' ');
}
