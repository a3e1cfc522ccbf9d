/** What has to be done to one rig to have the other: the smallest that says it, and all of it. */
import { pairsOf, type Renaming, renamingOf } from './pairs';
import { byText, type Entry, type Fields, KINDS, type Kind, keyed, type Plain, stable, type Value, withNames } from './plain';

export interface Renamed {
  readonly kind: Kind;
  /** Keys: `gear:iface`. */
  readonly before: string;
  readonly after: string;
}

export interface Changed {
  readonly field: string;
  /** Nothing where nothing was said. */
  readonly before?: Value;
  readonly after?: Value;
}

export type Move =
  | { readonly what: 'come'; readonly kind: Kind; readonly after: string; readonly fields: Fields }
  | { readonly what: 'gone'; readonly kind: Kind; readonly before: string; readonly fields: Fields }
  /** The same, with other figures. Of a line with another `piece`, `ports` or `number`, a plug that goes elsewhere. */
  | {
      readonly what: 'changed';
      readonly kind: Kind;
      readonly before: string;
      readonly after: string;
      readonly fields: readonly Changed[];
    };

/** All of it as plain data. What it says of the old rig is in the names of the old rig. */
export interface Moves {
  readonly renamed: readonly Renamed[];
  readonly moves: readonly Move[];
}

export function movesOf(before: Plain, after: Plain): Moves {
  const renaming = renamingOf(before, after);
  const name = (id: string) => renaming.get(id) ?? id;
  const pairs = pairsOf(before, after, renaming);
  const [stay, there] = [new Set(pairs.map(([old]) => old)), new Set(pairs.map(([, anew]) => anew))];
  const moves: Move[] = [];
  for (const [key, { kind, fields }] of before) if (!stay.has(key)) moves.push({ what: 'gone', kind, before: key, fields });
  for (const [key, { kind, fields }] of after) if (!there.has(key)) moves.push({ what: 'come', kind, after: key, fields });
  for (const [old, anew] of pairs) {
    const [was, is] = [before.get(old) as Entry, after.get(anew) as Entry];
    const fields = changedFields(was, withNames(was, name), is);
    if (fields.length > 0) moves.push({ what: 'changed', kind: is.kind, before: old, after: anew, fields });
  }
  const renamed = [...renaming].map(([old, anew]): Renamed => ({ kind: before.get(old)?.kind ?? 'gear', before: old, after: anew }));
  return { renamed: renamed.sort((a, b) => byText(a.before, b.before)), moves: moves.sort(inOrder) };
}

/** `called` is the old entry in the new names: what differs by a name alone does not differ. */
function changedFields(was: Entry, called: Entry, is: Entry): Changed[] {
  const names = [...new Set([...Object.keys(was.fields), ...Object.keys(is.fields)])].sort(byText);
  return names.flatMap((field): Changed[] => {
    if (stable(called.fields[field] ?? null) === stable(is.fields[field] ?? null)) return [];
    const [before, after] = [was.fields[field], is.fields[field]];
    // A new name is told as that.
    if (field === 'name') return [];
    return [{ field, ...(before === undefined ? {} : { before }), ...(after === undefined ? {} : { after }) }];
  });
}

function inOrder(a: Move, b: Move): number {
  return KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || byText(keyOf(a), keyOf(b)) || byText(a.what, b.what);
}

function keyOf(move: Move): string {
  return move.what === 'gone' ? move.before : move.after;
}

export function isNothing({ renamed, moves }: Moves): boolean {
  return renamed.length === 0 && moves.length === 0;
}

/** The old rig with the moves made. */
export function applied(before: Plain, { renamed, moves }: Moves): Plain {
  const renaming: Renaming = new Map(renamed.map((each) => [each.before, each.after]));
  const name = (id: string) => renaming.get(id) ?? id;
  const gone = new Set<string>();
  const changes = new Map<string, readonly Changed[]>();
  for (const move of moves) {
    if (move.what === 'gone') gone.add(move.before);
    else if (move.what === 'changed') changes.set(move.before, move.fields);
  }
  const kept = [...before].flatMap(([key, entry]): Entry[] => {
    if (gone.has(key)) return [];
    const called = withNames(entry, name);
    const anew = renaming.get(key);
    const fields: Record<string, Value> = { ...called.fields, ...(anew === undefined ? {} : { name: bare(anew) }) };
    for (const { field, after } of changes.get(key) ?? []) {
      if (after === undefined) delete fields[field];
      else fields[field] = after;
    }
    return [{ kind: entry.kind, fields }];
  });
  const come = moves.flatMap((move): Entry[] => (move.what === 'come' ? [{ kind: move.kind, fields: move.fields }] : []));
  return keyed([...kept, ...come].map((entry) => ({ ...entry, place: '' }))).plain;
}

/** The name in a key: `iface` of `gear:iface`. */
export function bare(key: string): string {
  return key.slice(key.indexOf(':') + 1);
}

/** What has to be done to go back. */
export function mirrored({ renamed, moves }: Moves): Moves {
  return {
    renamed: renamed.map(({ kind, before, after }) => ({ kind, before: after, after: before })).sort((a, b) => byText(a.before, b.before)),
    moves: moves
      .map((move): Move => {
        if (move.what === 'come') return { what: 'gone', kind: move.kind, before: move.after, fields: move.fields };
        if (move.what === 'gone') return { what: 'come', kind: move.kind, after: move.before, fields: move.fields };
        const { kind, before, after, fields } = move;
        return { what: 'changed', kind, before: after, after: before, fields: fields.map(mirroredField) };
      })
      .sort(inOrder),
  };
}

function mirroredField({ field, before, after }: Changed): Changed {
  return { field, ...(after === undefined ? {} : { before: after }), ...(before === undefined ? {} : { after: before }) };
}
