/**
 * A message is whole sentences, or ends in an example, and nothing in it was left behind by a program: no missing value, no
 * empty name, no gap.
 */
export const READS_WELL =
  /^(?!.*(undefined|NaN|null|\[object|Infinity|""| {2}| [,.:;]|\(\)|, ?\.)).+([.?]|: (rig|use|model|gear|performer|source|input|house|mix|output) .+)$/s;
