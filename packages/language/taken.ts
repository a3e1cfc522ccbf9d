/** What is taken of a plan and what is left: a line goes with the gear that it needs. Knows of no text and no rig: the editor asks it at each tick. */
import type { TextEdit } from 'vscode-languageserver-types';

/** A change that may be taken or left. */
export interface Takeable {
  /** Names of gear that other changes bring. */
  readonly needs: readonly string[];
  /** The name of the gear that this one brings. */
  readonly brings?: string;
}

/** A change as edits. */
export interface Writable {
  readonly edits: readonly TextEdit[];
  /** Of a statement of a kind that the text has none of yet: the kind, and what is written where it is the first of them that is taken. */
  readonly opening?: { readonly kind: string; readonly edits: readonly TextEdit[] };
}

/** These, and the gear that they need; in the order of all. */
export function withNeeded<T extends Takeable>(all: readonly T[], wanted: readonly T[]): T[] {
  const needed = new Set(wanted.flatMap(({ needs }) => needs));
  return all.filter((change) => wanted.includes(change) || (change.brings !== undefined && needed.has(change.brings)));
}

/**
 * What is taken once somebody has ticked or unticked some: gear that goes takes along what needs it; what comes brings the gear that it needs; and
 * gear that nothing needs any more goes.
 */
export function taken<T extends Takeable>(all: readonly T[], before: readonly T[], now: readonly T[]): T[] {
  const gone = new Set(before.flatMap((change) => (now.includes(change) ? [] : (change.brings ?? []))));
  const whole = withNeeded(
    all,
    now.filter(({ needs }) => !needs.some((name) => gone.has(name))),
  );
  const needs = (changes: readonly T[], name: string | undefined) => changes.some((change) => change.needs.some((each) => each === name));
  return whole.filter(({ brings }) => brings === undefined || needs(whole, brings) || !needs(before, brings));
}

/** All edits of what is taken, in its order. */
export function editsOf(taken: readonly Writable[]): TextEdit[] {
  const begun = new Set<string>();
  return taken.flatMap(({ edits, opening }) => {
    if (!opening || begun.has(opening.kind)) return [...edits];
    begun.add(opening.kind);
    return [...opening.edits];
  });
}
