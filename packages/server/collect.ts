/** Gives back memory that nobody needs any more, at a time when nobody waits for it: on Node. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

let collect: ((options?: { readonly type: 'minor' }) => void) | undefined;

/** What can be asked of Node at run time is a collection, not how much may gather before one. */
function collector() {
  if (!collect) {
    setFlagsFromString('--expose-gc');
    collect = runInNewContext('gc') as NonNullable<typeof collect>;
  }
  return collect;
}

/** Everything. Node does it by itself, but not before several times as much has gathered as is needed; this takes a few hundredths of a second. */
export function collectNow(): void {
  collector()();
}

/** Only what has been made since the last time, which takes a thousandth of a second or two. */
export function collectYoung(): void {
  collector()({ type: 'minor' });
}
