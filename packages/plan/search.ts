/**
 * The best plan that the whole check lets stand. Lines are tried one by one; what is wrong only with several together (two legs that load
 * each other, two supplies) shows when the whole is checked. What is then found becomes a row that forbids that set, and the programme is
 * solved again, to the end: the model stays linear, and the answer true.
 */
import { type Checked, check, type Finding, statementOf } from '#engine';
import type { AimName } from './aims';
import { type Assembled, assemble } from './assemble';
import { type Asking, type Chosen, type Cut, type Formulated, formulate } from './formulate';
import { type Best, type Limits, lexicographic } from './lexicographic';
import type { Solver } from './solver';

export interface Found {
  readonly formulated: Formulated;
  readonly best: Best<AimName>;
  readonly assembled: Assembled;
  readonly checked: Checked;
  /** Errors that the plan could not avoid, and that were not there before. */
  readonly grave: readonly Finding[];
}

/** Few are needed; more would mean that hardly anything fits together. */
const MOST_ROUNDS = 40;

/** What a plan leaves out is no mistake of what it writes. */
const LEFT_OUT = /^mixes\/(not-patched|unheard|no-mix|no-ears|too-few-sockets|empty)$/;

export interface Searching {
  readonly solver: Solver;
  readonly limits: Limits;
  /** Waited for before each solving. */
  readonly breathe: () => Promise<void>;
  /** Cuts that hold for every plan of this rig, and grow. */
  readonly cuts: Cut[];
  /** The rig with what stands, checked. */
  readonly before: Checked;
}

export async function search(asking: Omit<Asking, 'cuts'>, order: readonly AimName[], searching: Searching): Promise<Found | undefined> {
  const { solver, limits, breathe, cuts, before } = searching;
  const there = new Set(before.findings.map(keyOf));
  for (let round = 1; ; round++) {
    await breathe();
    const formulated = formulate({ ...asking, cuts }, order);
    const best = lexicographic(solver, formulated.programme, formulated.aims, limits);
    if (!best) return undefined;
    const assembled = assemble({ ...asking, cuts }, formulated.columns, best.values);
    const checked = check(assembled.rig);
    const fresh = checked.findings.filter((finding) => !there.has(keyOf(finding)) && !LEFT_OUT.test(finding.code));
    const grave = fresh.filter(({ severity }) => severity === 'danger' || severity === 'error');
    const found = { formulated, best, assembled, checked, grave };
    if (round === MOST_ROUNDS) return found;
    let cut = false;
    for (const finding of grave) cut = add(cuts, { together: involved(assembled, finding) }) || cut;
    if (grave.length === 0) {
      for (const finding of fresh) {
        if (finding.severity !== 'warning' || /^(mixes|latency|stage|rig|ground)\//.test(finding.code)) continue;
        const together = involved(assembled, finding);
        if (together.length < 2 || together.some((each) => foreseen(each, finding))) continue;
        cut = add(cuts, { together, counts: true }) || cut;
      }
    }
    if (!cut) return found;
  }
}

const keyOf = ({ code, place }: Finding) => `${code} ${place}`;

function add(cuts: Cut[], cut: Cut): boolean {
  if (cut.together.length === 0) return false;
  const choices = (each: Cut) => new Set(each.together.map(({ choice }) => choice));
  const mine = choices(cut);
  const known = cuts.some((each) => {
    const theirs = choices(each);
    return each.counts === cut.counts && theirs.size === mine.size && [...theirs].every((choice) => mine.has(choice));
  });
  if (!known) cuts.push(cut);
  return !known;
}

function foreseen({ choice }: Chosen, { code }: Finding): boolean {
  return code === 'house/dependent' || choice.verdict.warnings.some((warning) => warning.code === code);
}

/** The choices that a finding is about: by the lines it names, then by gear and sources. */
function involved(assembled: Assembled, finding: Finding): Chosen[] {
  const places = new Set([finding.place, ...finding.related.map(({ place }) => place)].map(statementOf));
  const ids = new Set([...places, ...finding.about]);
  const found: Chosen[] = [];
  for (const { choice, runs, house, pieces } of assembled.inputs) {
    const lines = [...runs, ...house].map(({ id }) => id);
    if ([...lines, choice.wanted.source.id, ...pieces.map(({ id }) => id)].some((id) => ids.has(id))) found.push({ kind: 'line', choice });
  }
  for (const { choice, run } of assembled.outputs) {
    const gear = 'how' in choice ? run.via.map(({ piece }) => piece) : [];
    if (![run.id, ...gear].some((id) => ids.has(id))) continue;
    if ('air' in choice) found.push({ kind: 'transmission', choice });
    else if ('how' in choice) found.push({ kind: 'hearing', choice });
    else found.push({ kind: 'house', choice });
  }
  for (const { choice, piece } of assembled.packs) if (ids.has(piece.id)) found.push({ kind: 'hearing', choice });
  return found;
}
