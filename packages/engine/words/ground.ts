import { count, list } from './phrases';
import { problem, resting, type Words } from './problem';

/** So many paths are named; a list that nobody reads to its end is no help. */
const MOST_NAMED = 4;

interface Path {
  readonly house: string;
  readonly earth: string;
  readonly lead: string;
  readonly unbalanced: boolean;
  /** That lead carries a mix, which comes at line level. */
  readonly mix: boolean;
  /** What would lose its phantom power if that lead were isolated. */
  readonly feeds: string | undefined;
  /** A piezo whose bare signal that lead carries. */
  readonly piezo: string | undefined;
}

const tell = (f: { readonly paths: readonly Path[] }): Words => ({
  what: `Metal joins our ground and the house’s in ${count(f.paths.length, 'place')}: ${named(f.paths)}.`,
  why: `Where the two are on different mains, a current flows there and hums, in the ears and in the hall${f.paths.some(({ unbalanced }) => unbalanced) ? ', most of all over an unbalanced lead' : ''}.`,
  cure: `Take power for both from one mains distribution; where it is so, write "mains shared" at the top of the rig. ${transformers(f.paths)} Leave the house’s side as it is: pin 1 brings its phantom power back. Never lift a mains earth. A tingle from gear means stop, touch nothing, and call a qualified electrician.`,
});

export const GROUND = resting(['settings', 'metal'], {
  'ground/metal-path': problem<{ paths: readonly Path[] }>('note', tell),
  /** The same with an unbalanced lead among them, whose shield is the signal's own return: what flows there is heard. */
  'ground/unbalanced-path': problem<{ paths: readonly Path[] }>('warning', tell),
});

function named(paths: readonly Path[]): string {
  const shown = paths.length > MOST_NAMED + 1 ? paths.slice(0, MOST_NAMED) : paths;
  const items = shown.map(({ house, earth, unbalanced }) => `${house} to ${earth}${unbalanced ? ' (unbalanced)' : ''}`);
  return list(shown.length < paths.length ? [...items, `${paths.length - shown.length} more`] : items);
}

function transformers(paths: readonly Path[]): string {
  const good = paths.filter(({ mix, feeds, piezo }) => !mix && feeds === undefined && piezo === undefined);
  const mixes = paths.filter(({ mix }) => mix);
  const bare = paths.filter(({ piezo }) => piezo !== undefined);
  const bad = paths.filter(({ feeds, piezo }) => feeds !== undefined && piezo === undefined);
  const hums = 'If it still hums, put';
  const said = [
    ...(good.length > 0
      ? [`${hums} a transformer on our side, at ${leads(good)}: the isolated side of a split or a passive DI, its ground lift set to lift.`]
      : []),
    ...(mixes.length > 0
      ? [`${good.length > 0 ? 'A mix has line level: there, put' : hums} an isolating transformer for line level, at ${leads(mixes)}.`]
      : []),
  ];
  if (bare.length > 0) {
    const names = list([...new Set(bare.flatMap(({ piezo }) => piezo ?? []))]);
    said.push(
      `No passive DI at ${leads(bare)}: it would rob the piezo of ${names} of its lows. There, take our side behind a DI with electronics, from the isolated side of a split.`,
    );
  }
  if (bad.length === 0) return said.join(' ');
  const fed = list([...new Set(bad.flatMap(({ feeds }) => feeds ?? []))]);
  said.push(
    `No transformer at ${leads(bad)}: it would cut off the phantom power of ${fed}. There, take what needs none (a passive DI, a dynamic microphone), or let the house power it.`,
  );
  return said.join(' ');
}

function leads(paths: readonly Path[]): string {
  const all = [...new Set(paths.map(({ lead }) => lead))];
  return list(all.length > MOST_NAMED + 1 ? [...all.slice(0, MOST_NAMED), `${all.length - MOST_NAMED} more`] : all);
}
