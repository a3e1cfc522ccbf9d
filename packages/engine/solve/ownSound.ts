/** How one sound of a mix stands against the others in it: what is sent, and how loud that comes in, together. */
import { type MixLevels, summed } from './buses';
import { powerSum } from './decibels';

export interface Standing {
  /** Above all others together, in dB; nothing where there are none. */
  readonly aboveDb?: number;
  /** Others that are louder by themselves, the loudest first. */
  readonly louder: readonly { readonly source: string; readonly byDb: number }[];
}

/** What is louder by less than this is as loud, in dB: common practice, no source. */
const AS_LOUD_DB = 1;

/** By the usual levels, both sides together. Nothing where it is not in the mix, or its level is not known. */
export function standingOf({ sides }: MixLevels, source: string): Standing | undefined {
  const all = sides.flatMap(({ from }) => from);
  if (all.some(({ send, assumed }) => assumed && send.source === source)) return undefined;
  const loud = (wanted: (of: string) => boolean) =>
    powerSum(sides.flatMap(({ from }) => summed(from.filter(({ send }) => wanted(send.source)))?.typical ?? []));
  const own = loud((of) => of === source);
  if (own === undefined) return undefined;
  const rest = loud((of) => of !== source);
  const known = new Set(all.flatMap(({ send, assumed }) => (assumed || send.source === source ? [] : [send.source])));
  const louder = [...known].flatMap((other) => {
    const byDb = (loud((of) => of === other) ?? own) - own;
    return byDb >= AS_LOUD_DB ? [{ source: other, byDb }] : [];
  });
  return {
    ...(rest === undefined ? {} : { aboveDb: own - rest }),
    louder: louder.sort((a, b) => b.byDb - a.byDb),
  };
}
