/**
 * One slip, one message. A statement that cannot be read whole, or that has a name in it which nothing here has, leaves holes: a
 * name it should have declared, an input it should have filled, a piece in the way. What is found only because of such a hole is left unsaid until
 * the statement is mended.
 */
import { type Code, type FiguresOf, type Finding, type Fix, PROBLEMS, type Problem, type Rest, statementOf } from '#engine';
import { canonicalUnit, type Piece, type Place, type Rig, type Run } from '#rig';
import type { TextFinding } from './syntax/mistakes';
import { isStatementWord, STATEMENT_WORDS } from './syntax/words';

/** The statement that a line of each kind is written in. */
const OPENED = { inputs: 'input', house: 'house', outputs: 'output', mixes: 'mix', packs: 'pack' } as const;

function problemOf(code: Code): Problem<never> {
  return PROBLEMS[code];
}

const STARTS_STATEMENT =
  /^\s*(?:(?:rig|use|model|gear|performer|source|house|mix)\b|(?:input|output)\s+[^\s.]*\s*\.(?!\.))|^(?:input|output)\b/;
/** The path of a file, whatever is written before it. */
const PATH = /\.rig"?\s*(#.*)?$/;
const NAME = /^\s*\S+\s+([\p{L}_][\p{L}\p{N}_-]*)/u;
const DECLARES = /^(model|gear|performer|source|mix)$/;
const RUNS = /^(input|house|output)$/;

/** A finding and where it starts in the text, where that is in this text at all. */
interface Placed<F> {
  readonly finding: F;
  readonly start: number | undefined;
}

/** The findings without those that only follow from what could not be read, or from a name that is not known. */
export function withoutAftermath<F extends Finding>(
  findings: readonly Placed<F>[],
  damage: readonly TextFinding[],
  text: string,
  rig: Rig,
  /** Where a place is in this text. */
  startOf: (place: Place) => number | undefined,
): F[] {
  const unknown = findings.flatMap(({ finding, start }) => (isUnknown(finding) && start !== undefined ? [{ finding, start }] : []));
  const unsaid = new Set(findings.map(({ finding }) => finding).filter(isUnsaid));
  if (damage.length + unknown.length + unsaid.size === 0 && !findings.some(({ finding }) => finding.code === 'units/wrong'))
    return findings.map(({ finding }) => finding);
  const holes = new Holes(text, rig);
  for (const { finding, start } of damage) if (problemOf(finding.code).leavesHole) holes.unread(finding, start);
  for (const { finding, start } of unknown) holes.unknown(finding, start);
  for (const { finding, start } of findings) if (unsaid.has(finding) && start !== undefined) holes.unsaid(start);
  for (const { finding, start } of findings) if (finding.code === 'units/wrong' && start !== undefined) holes.unclear(start);
  holes.spread(startOf);
  const behind = unknown.map(({ finding, start }) => start + (finding.figures as Unknown).name.length);
  const left = findings.filter(({ finding, start }) => {
    if (problemOf(finding.code).whatever || unsaid.has(finding)) return true;
    if (/^(names\/unknown|models\/no-ports|units\/)/.test(finding.code) && start !== undefined) {
      if (holes.isBehindDamage(start, finding.code.startsWith('units/'))) return false;
      // A clause word that is taken for a name: its figure is taken for a level.
      if (finding.code.startsWith('units/') && behind.some((end) => end <= start && text.slice(end, start).trim() === '')) return false;
    }
    return !holes.explain(finding);
  });
  return oneForEachName(left, (name) => holes.isOnce(name));
}

/** A name that is not known is told of where it stands first, with the other places: one cure puts it right in all of them. */
function oneForEachName<F extends Finding>(findings: readonly Placed<F>[], isOnce: (name: string) => boolean): F[] {
  const byName = new Map<string, F[]>();
  const key = ({ figures }: F) => (figures as unknown as Unknown).name;
  for (const { finding, start } of findings.toSorted((a, b) => (a.start ?? 0) - (b.start ?? 0)))
    if (isUnknown(finding) && start !== undefined) byName.set(key(finding), [...(byName.get(key(finding)) ?? []), finding]);
  return findings.flatMap(({ finding, start }) => {
    const all = isUnknown(finding) && start !== undefined ? (byName.get(key(finding)) ?? []) : [];
    if (all.length < 2) return [finding];
    if (all[0] !== finding) return [];
    const { name, near, what } = finding.figures as unknown as Unknown;
    const [declared] = near.filter(isOnce);
    const kind = what.split(' ')[0];
    const related = all.slice(1, 1 + MOST_PLACES).map(({ place }) => ({ place, says: `${name} stands here too` }));
    const everywhere = finding.fixes.map((fix, index): Fix => ({ kind: 'several', fixes: all.map((each) => each.fixes[index] ?? fix) }));
    // What is declared and used nowhere is the one that has the slip.
    const atCause: Fix[] = declared === undefined ? [] : [{ kind: 'rewrite', place: `${kind}:${declared}`, with: name }];
    const there = declared === undefined ? [] : [{ place: `${kind}:${declared}`, says: `what is written here is ${declared}` }];
    const fixes = all.every(({ fixes }) => sameWords(fixes, finding.fixes)) ? [...atCause, ...everywhere] : [...atCause, ...finding.fixes];
    return [{ ...finding, figures: { ...(finding.figures as object), more: all.length - 1 }, related: [...there, ...related], fixes }];
  });
}

/** More places than these are only counted. */
const MOST_PLACES = 20;

function sameWords(some: readonly Fix[], others: readonly Fix[]): boolean {
  const words = (fixes: readonly Fix[]) => fixes.map((fix) => (fix.kind === 'rewrite' ? fix.with : fix.kind)).join();
  return words(some) === words(others);
}

interface Unknown {
  readonly what: string;
  readonly name: string;
  readonly near: readonly string[];
}

function isUnknown(finding: Finding): boolean {
  return finding.code === 'names/unknown';
}

/** A dot with no socket behind it: a line like one that breaks off, of which the rest can be read. */
function isUnsaid({ code, figures }: Finding): boolean {
  return code === 'capacity/no-such-port' && (figures as FiguresOf<typeof code>).port === '';
}

/** What cannot be read, and what is not known because of it. */
class Holes {
  /** Ids of which nothing is known for sure. */
  private readonly ids = new Set<string>();
  /** Gear that is named where it cannot be read, so what is plugged into it is not known. */
  private readonly grazed = new Set<string>();
  /** Performers in mixes and packs that cannot be read. */
  private readonly listeners = new Set<string>();
  /** All words of the statements that cannot be read: what they should have declared may be among them. */
  private readonly words = new Set<string>();
  /** Models that they should have declared. */
  private readonly models = new Set<string>();
  /** The kinds of statements that break off before they say what they take, carry or are for. */
  private readonly open = new Set<string>();
  /** Mixes of which it is not known all that is in them. */
  private readonly sendLost = new Set<string>();
  /** The kinds of declarations without a name. */
  private readonly nameless = new Set<string>();
  /** Runs whose own statement has a hole. */
  private readonly holedRuns = new Set<string>();
  private header = false;
  /** A file that is used: any name may be in it. */
  private fileLost = false;
  /** Whether our ground and the house's meet in another way than is read. */
  private meeting = false;
  /** Of what has a figure in a unit that cannot be. */
  private readonly unclearIds = new Set<string>();
  /** Mixes and sources whose own way, on one of their lines, has a hole. */
  private readonly astray = new Set<string>();
  /** Where a unit is missing, the next word is taken for it, and the one after for a name. */
  private unitMissing = false;

  private readonly raw: readonly string[];
  /** The lines without comments and labels, whose words are not names. */
  private readonly lines: readonly string[];
  /** The offsets at which they start. */
  private readonly starts: readonly number[];
  /** For each line the one that its statement starts in. */
  private readonly heads: readonly number[];
  /** The lines in which statements start that have a hole. */
  private readonly holed = new Set<number>();
  /** For each line with something that cannot be read, where that is first. */
  private readonly damagedFrom = new Map<number, number>();

  constructor(
    text: string,
    private readonly rig: Rig,
  ) {
    const lines = text.split('\n');
    this.raw = lines;
    // What a label without an end has swallowed may be names.
    this.lines = lines.map((line) => line.replace(/"[^"]*"|#.*/g, (part) => (part.startsWith('"') ? '""' : '')));
    let offset = 0;
    this.starts = lines.map((line) => {
      const start = offset;
      offset += line.length + 1;
      return start;
    });
    let head = 0;
    this.heads = lines.map((line, index) => {
      if (STARTS_STATEMENT.test(line)) head = index;
      return head;
    });
  }

  /** Something that could not be read. */
  unread(finding: Finding, start: number): void {
    const at = this.lineAt(start);
    this.damagedFrom.set(at, Math.min(start, this.damagedFrom.get(at) ?? start));
    const strays = finding.code === 'text/no-statement';
    const near = strays ? (finding.figures as { near?: string }).near : undefined;
    if (finding.code === 'text/missing-unit') this.unitMissing = true;
    if (finding.code === 'text/unfinished' || strays) this.open.add(near ?? this.kindAt(start));
    if (finding.code === 'text/reserved-word') this.nameless.add(this.kindAt(start));
    const first = strays ? at : (this.heads[at] ?? 0);
    if (strays && this.wordOf(this.heads[at] ?? 0) === 'rig') this.header = true;
    if (near === 'use' || this.wordOf(first) === 'use' || PATH.test(this.raw[first] ?? '')) this.fileLost = true;
    if (!this.hole(first, at, near)) return;
    const statement = this.statement(first, at);
    for (const [word] of statement.matchAll(/[\p{L}\p{N}_-]+/gu)) this.words.add(word.toLowerCase());
    const kind = near ?? this.wordOf(first);
    if (DECLARES.test(kind) && !NAME.test(statement)) this.nameless.add(kind);
    // Those whom it is for may be lost as well.
    if (kind === 'mix') this.open.add(kind);
    if (/\b(hears|for)\b/.test(statement)) this.open.add('pack');
  }

  /** A line that does not say where it ends or starts. */
  unsaid(start: number): void {
    const at = this.lineAt(start);
    this.hole(this.heads[at] ?? 0, at, undefined);
  }

  /** A unit that cannot be: what its figure would have said is not known. */
  unclear(start: number): void {
    const at = this.heads[this.lineAt(start)] ?? 0;
    for (const [word] of this.statement(at, at).matchAll(/[\p{L}_][\p{L}\p{N}_-]*/gu)) {
      this.unclearIds.add(`source:${word}`);
      this.unclearIds.add(`gear:${word}`);
    }
  }

  /** A name that nothing has: what it may be meant for is not known either. */
  unknown(finding: Finding, start: number): void {
    const { what, near } = finding.figures as Unknown;
    const at = this.lineAt(start);
    const first = this.heads[at] ?? 0;
    const kind = this.wordOf(first);
    // A mix is the same mix without one of its sources.
    if (kind === 'mix' && what !== 'performer') {
      const mix = NAME.exec(this.statement(first, at))?.[1];
      if (mix) this.sendLost.add(`mix:${mix}`);
      return;
    }
    this.hole(first, at, undefined);
    for (const name of near) this.mention(kind, name);
    if (near.length > 0) return;
    if (RUNS.test(kind) && /source|mix/.test(what)) this.open.add(kind);
    if (RUNS.test(kind) && what === 'gear') this.open.add('gear');
    if (kind === 'mix' && what === 'performer') this.open.add(kind);
  }

  /** Notes a statement with a hole; whether it is new. */
  private hole(first: number, at: number, near: string | undefined): boolean {
    if (this.holed.has(first)) return false;
    this.holed.add(first);
    const kind = near ?? this.wordOf(first);
    const statement = this.statement(first, at);
    const declared = DECLARES.test(kind) ? NAME.exec(statement)?.[1] : undefined;
    if (kind === 'rig' || kind.startsWith('"')) this.header = true;
    if (kind === 'model' && declared) this.models.add(declared);
    if (declared) this.ids.add(`${kind}:${declared}`);
    const words = [...statement.matchAll(/[\p{L}_][\p{L}\p{N}_-]*/gu)].map(([word]) => word);
    for (const word of words) this.mention(kind, word);
    if (RUNS.test(kind)) {
      const { sources, mixes, pieces } = this.rig;
      if (!words.some((word) => sources.has(`source:${word}`) || mixes.has(`mix:${word}`))) this.open.add(kind);
      if (kind !== 'house' && !words.some((word) => pieces.has(`gear:${word}`))) this.open.add('gear');
    } else if (!isStatementWord(kind) && words[0] !== undefined) {
      // Without its first word it may be any declaration.
      for (const each of ['gear', 'source', 'mix', 'performer']) this.ids.add(`${each}:${words[0]}`);
    }
    return true;
  }

  /** A name in a statement of this kind that has a hole. A mix names too much of the rig to keep silent about its sources. */
  private mention(kind: string, name: string): void {
    this.grazed.add(`gear:${name}`);
    if (!RUNS.test(kind)) this.listeners.add(`performer:${name}`);
    if (DECLARES.test(kind)) return;
    this.ids.add(`source:${name}`);
    this.ids.add(`mix:${name}`);
  }

  /** What hangs on what has a hole: gear of its models, and the lines that it stands in. */
  spread(startOf: (place: Place) => number | undefined): void {
    const { rig, ids } = this;
    const holed = (place: Place) => {
      const start = startOf(place);
      return start !== undefined && this.holed.has(this.heads[this.lineAt(start)] ?? 0);
    };
    const ofHoledModel = (piece: Piece | undefined) => piece?.model.lineage.some((model) => this.models.has(model)) ?? false;
    for (const piece of rig.pieces.values()) if (ofHoledModel(piece)) ids.add(piece.id);
    for (const run of [...rig.inputs, ...rig.house, ...rig.outputs]) {
      if (holed(run.place)) {
        ids.add(run.id);
        this.holedRuns.add(run.id);
        if (signalOf(run) === undefined) this.open.add(run.kind);
      } else if (signalOf(run) !== undefined && ids.has(signalOf(run) as string)) ids.add(run.id);
      else if ([...run.via.map(({ piece }) => piece), endOf(run)].some((piece) => ids.has(piece))) ids.add(run.id);
      const signal = signalOf(run);
      if (!ids.has(run.id) || signal === undefined) continue;
      this.astray.add(signal);
      const way = [signal, ...run.via.map(({ piece }) => piece), endOf(run)];
      const theirs = way.some((id) => rig.pieces.get(id)?.holding?.how === 'theirs');
      if (run.kind === 'house' || theirs || rig.house.some(({ takes }) => takes?.id === signal)) this.meeting = true;
    }
  }

  /** Whether a finding may only follow from a hole. */
  explain({ code, figures, place, about, severity }: Finding): boolean {
    if (isText(code)) {
      if (code === 'names/unknown') {
        const { name, what } = figures as unknown as Unknown;
        if (this.unitMissing && canonicalUnit(name) !== undefined) return true;
        if (this.fileLost) return true;
        const kinds = what === 'source or mix' ? ['source', 'mix', 'gear'] : what.split(' ');
        return this.words.has(name.toLowerCase()) || kinds.some((word) => this.nameless.has(word));
      }
      if (code === 'rig/two-titles') return this.fileLost;
      if (code === 'models/no-ports') return this.models.has((figures as { model: string }).model);
      if (code === 'models/bad-range')
        return (figures as { written: string }).written.split('..').every((each) => this.words.has(each.toLowerCase()));
      return false;
    }
    // What is plugged in has nothing to do with it.
    if (code === 'capacity/no-such-port')
      return this.holedRuns.has(statementOf(place)) || about.some((id) => id.startsWith('gear:') && this.ids.has(id));
    if (severity === 'danger') return this.ids.has(statementOf(place));
    const { restsOn = [] } = problemOf(code);
    if (restsOn.some((rest) => this.isLost(rest, about))) return true;
    return [statementOf(place), ...about].some(
      (id) =>
        this.ids.has(id) ||
        ((this.grazed.has(id) || this.astray.has(id)) && restsOn.includes('neighbours')) ||
        (this.listeners.has(id) && /^mixes\//.test(code)),
    );
  }

  /** Whether what a finding rests on may stand where it cannot be read. */
  private isLost(rest: Rest, about: readonly string[]): boolean {
    switch (rest) {
      case 'settings':
        return this.header;
      case 'neighbours':
        return this.open.has('gear');
      case 'metal':
        return this.meeting;
      case 'units':
        return about.some((id) => this.unclearIds.has(id));
      case 'sends':
        return about.some((id) => this.sendLost.has(id));
      case 'all-sends':
        return this.sendLost.size > 0;
      default:
        return this.open.has(OPENED[rest]);
    }
  }

  /** Whether something before it on its line, or anything on it, could not be read: what is there is taken for what it is not. */
  isBehindDamage(start: number, anywhere: boolean): boolean {
    const from = this.damagedFrom.get(this.lineAt(start));
    return from !== undefined && (anywhere || from <= start);
  }

  /** Whether a name stands once in the text: where it is declared. */
  isOnce(name: string): boolean {
    return this.lines.flatMap((line) => line.match(/[\p{L}_][\p{L}\p{N}_-]*/gu) ?? []).filter((word) => word === name).length === 1;
  }

  /** The first word of the statement around an offset; a statement word that has only been begun counts as whole. */
  private kindAt(offset: number): string {
    const at = this.lineAt(offset);
    const own = this.wordOf(at);
    const begun = own.length > 1 && STATEMENT_WORDS.find((word) => word.startsWith(own));
    return begun || this.wordOf(this.heads[at] ?? 0);
  }

  private wordOf(line: number): string {
    return /^\s*(\S+)/.exec(this.lines[line] ?? '')?.[1] ?? '';
  }

  private statement(first: number, at: number): string {
    let last = at + 1;
    while (last < this.lines.length && this.heads[last] === this.heads[at]) last++;
    return this.lines.slice(first, last).join('\n');
  }

  private lineAt(offset: number): number {
    let low = 0;
    for (let high = this.starts.length; low + 1 < high; ) {
      const middle = (low + high) >> 1;
      if ((this.starts[middle] ?? 0) <= offset) low = middle;
      else high = middle;
    }
    return low;
  }
}

/** Found in the text and not by what is computed from it. */
function isText(code: Code): boolean {
  return /^(text|names|units|models|use|rig)\//.test(code);
}

function signalOf(run: Run): string | undefined {
  return run.kind === 'output' ? run.carries : run.takes?.id;
}

function endOf(run: Run): string {
  return run.kind === 'house' ? run.piece : run.kind === 'input' ? run.to.piece : run.from.piece;
}
