/**
 * Two things of one label are told apart on paper: by whose they are, by the side of the stage, or as they are written. A rig keeps
 * its labels as somebody wrote them; the sheets have each with what tells it apart behind it: `Guitar (Ada)`, `Ada (left)`, `Box (box-2)`.
 */
import { type Checked, examine, type Finding } from '#engine';
import type { HouseRun, Position, Rig } from '#rig';
import { grouped } from './context';
import { onceEach } from './onceEach';

/** The same where there is nothing to tell apart. Findings keep their order and their places. */
export const toldApart = onceEach((checked: Checked): Checked => {
  const rig = relabelled(checked.rig);
  return rig === checked.rig ? checked : { ...examine(rig), findings: checked.findings };
});

/** These findings in the words of a rig that is told apart. */
export function inItsWords(findings: readonly Finding[], told: Checked): readonly Finding[] {
  const byPlace = grouped(told.found, ({ code, place }) => `${code} ${place}`);
  return findings.map((each) => {
    const [same, ...more] = byPlace.get(`${each.code} ${each.place}`) ?? [];
    return same && more.length === 0 ? { ...each, figures: same.figures, related: same.related } : each;
  });
}

interface Named {
  readonly id: string;
  readonly name?: string;
  readonly label: string;
}

/** What may stand behind a label: of all that are alike, or not at all. */
type Tail<T> = (thing: T) => string | undefined;

function relabelled(rig: Rig): Rig {
  const performers = told(rig.performers.values(), [({ at }) => sideOf(at)]);
  const person = (id: string | undefined) => performers.get(id ?? '') ?? rig.performers.get(id ?? '')?.label;
  const only = (ids: readonly string[]) => (ids.length === 1 ? person(ids[0]) : undefined);
  const sources = told(rig.sources.values(), [({ by }) => person(by), ({ id }) => sideOf(rig.pieces.get(id)?.at)]);
  const mixes = told(rig.mixes.values(), [(mix) => only(mix.for)]);
  const boxes = [...rig.pieces.values()].filter(({ kind }) => kind === 'gear');
  const gear = told(boxes, [(piece) => only(piece.for), ({ at }) => sideOf(at)]);
  if ([performers, sources, mixes, gear].every(({ size }) => size === 0)) return rig;
  return {
    ...rig,
    performers: called(rig.performers, performers),
    sources: called(rig.sources, sources),
    mixes: called(rig.mixes, mixes),
    pieces: called(rig.pieces, new Map([...gear, ...sources])),
    house: rig.house.map((run) => houseCalled(rig, run, new Map([...mixes, ...sources]))),
  };
}

/** New labels, by id, of those that are called as another is. */
function told<T extends Named>(things: Iterable<T>, tails: readonly Tail<T>[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const [label, alike] of grouped(things, (thing) => thing.label || undefined)) {
    if (alike.length < 2) continue;
    const all = [...tails, ({ name }: T) => name, ({ id }: T) => id].map((tail) => alike.map(tail));
    const best = all.find((each) => !each.includes(undefined) && new Set(each).size === alike.length);
    for (const [index, { id }] of alike.entries()) found.set(id, `${label} (${flat(best?.[index] ?? '')})`);
  }
  return found;
}

/** Of what has a tail itself: `Anna (left)` as `Anna, left`. */
function flat(tail: string): string {
  return tail.replace(/ \(([^()]*)\)$/, ', $1');
}

function called<T extends Named>(things: ReadonlyMap<string, T>, labels: ReadonlyMap<string, string>): ReadonlyMap<string, T> {
  return new Map([...things].map(([key, thing]) => [key, { ...thing, label: labels.get(thing.id) ?? thing.label }]));
}

/** A line without a label of its own is called as what it takes. */
function houseCalled(rig: Rig, run: HouseRun, labels: ReadonlyMap<string, string>): HouseRun {
  const takes = run.takes?.id ?? '';
  const was = rig.sources.get(takes) ?? rig.mixes.get(takes);
  return was?.label === run.label ? { ...run, label: labels.get(takes) ?? run.label } : run;
}

/** As the performers see it: x grows to their left. */
function sideOf(at: Position | undefined): string | undefined {
  return at && (at.x > 0 ? 'left' : at.x < 0 ? 'right' : 'middle');
}
