/** Rigs as large as asked for, with labels of forty letters. */

const LONG = 'whose label goes on for forty letters';

/** So many sources on interfaces of eight, each to the house as well by a split of its own. About 2.4 statements each. */
export function crowd(sources: number): string {
  const lines = ['rig "A crowd, invented"'];
  const count = Math.ceil(sources / 8);
  for (let box = 0; box < count; box++)
    lines.push(`gear box${box} "Interface ${box}, ${LONG.slice(0, 24)}" is interface-8-mic at ${box % 5} m, 5 m`);
  lines.push('house at 6 m, 1 m');
  for (let at = 0; at < sources; at++) {
    lines.push(`performer p${at} "Player ${at}" at ${(at % 9) - 4} m, ${1 + (at % 4)} m`);
    lines.push(`source s${at} "${`Source ${at}, ${LONG}`.slice(0, 40)}" is clip-on-mic by p${at}`);
    lines.push(`input box${Math.floor(at / 8)}.${(at % 8) + 1} takes s${at} via transformer-split.iso`);
    lines.push(`house ${at + 1} takes s${at}`);
  }
  return lines.join('\n');
}
