/**
 * One slip, one message. A statement that cannot be read whole leaves holes: a name it should have declared, an input it
 * should have filled. What would be reported only because of such a hole is left unsaid until the statement is mended.
 */
import type { Code, Finding } from '#engine';
import { canonicalUnit, type Rig } from '#rig';
import type { TextFinding } from './syntax/mistakes';
import { STATEMENT_WORDS } from './syntax/words';

/** What leaves a hole. */
const DAMAGING: ReadonlySet<Code> = new Set<Code>([
  'text/unexpected',
  'text/unfinished',
  'text/no-statement',
  'text/reserved-word',
  'text/unclosed-quote',
  'text/unclosed-brace',
  'text/stray-character',
  'text/spaced-dot',
]);

const STARTS_STATEMENT = /^\s*(?:(?:rig|use|model|gear|performer|source|house|mix)\b|(?:input|output)\s+\S+\s*\.)/;
const DECLARES = /^\s*(?:gear|model)\s+(\S+)/;

/** Runs and sources, whose names are few; a mix or a performer mentions too much of the rig to keep silent about. */
const KEEPS_QUIET = /^\s*(?:gear|source|input|house|output)\b/;

/** A finding and where it starts in the text, where that is in this text at all. */
interface Placed<F> {
  readonly finding: F;
  readonly start: number | undefined;
}

/** The findings without those that only follow from what could not be read, or from a name that is not known. Dangers are always kept. */
export function withoutAftermath<F extends Finding>(
  findings: readonly Placed<F>[],
  damage: readonly TextFinding[],
  text: string,
  rig: Rig,
): F[] {
  if (damage.length === 0 && !findings.some(({ finding }) => finding.code === 'names/unknown'))
    return findings.map(({ finding }) => finding);
  const damaged = new Damaged(text);
  for (const { finding, start } of damage) {
    if (!DAMAGING.has(finding.code)) continue;
    damaged.add(start, finding.code === 'text/no-statement');
    if (finding.code === 'text/unfinished' || finding.code === 'text/no-statement') damaged.unfinished.add(damaged.kindAt(start));
    if (finding.code === 'text/reserved-word') damaged.nameless.add(damaged.kindAt(start));
  }
  if (damage.some(({ finding }) => finding.code === 'text/missing-unit')) damaged.unitMissing = true;
  const unitless = new Set(damage.flatMap(({ finding, start }) => (finding.code === 'text/missing-unit' ? [start] : [])));
  const left = findings.filter(({ finding, start }) => {
    if (finding.code === 'units/wrong' && start !== undefined && unitless.has(start)) return false;
    return !follows(finding, damaged, rig);
  });
  // Only a send names a source and nothing else.
  damaged.sendLost = left.some(
    ({ finding }) => finding.code === 'names/unknown' && (finding.figures as { what: string }).what === 'source',
  );
  for (const { finding, start } of left)
    if (finding.code === 'names/unknown' && start !== undefined) damaged.add(start, false, KEEPS_QUIET);
  return left.flatMap(({ finding }) => (finding.code !== 'names/unknown' && follows(finding, damaged, rig) ? [] : [finding]));
}

/** The words of the statements that are damaged. */
class Damaged {
  readonly words = new Set<string>();
  /** The gear and models that they should have declared. */
  readonly declared = new Set<string>();

  /** The first words of statements that break off: what they were going to say is not known. */
  readonly unfinished = new Set<string>();
  /** The first words of statements whose name cannot be one. */
  readonly nameless = new Set<string>();
  /** Where a unit is missing, the next word is taken for it, and the one after for a name. */
  unitMissing = false;
  /** What somebody was to have in a mix is not known. */
  sendLost = false;

  private readonly lines: readonly string[];
  /** The offsets at which they start. */
  private readonly starts: readonly number[];
  /** For each line the one that its statement starts in. */
  private readonly heads: readonly number[];
  /** What has been added: one statement can have many mistakes. */
  private readonly added = new Set<string>();

  constructor(text: string) {
    this.lines = text.split('\n');
    let offset = 0;
    this.starts = this.lines.map((line) => {
      const start = offset;
      offset += line.length + 1;
      return start;
    });
    let head = 0;
    this.heads = this.lines.map((line, index) => {
      if (STARTS_STATEMENT.test(line)) head = index;
      return head;
    });
  }

  /** Adds the statement around an offset; of what starts no statement, what stands from its own line on. */
  add(offset: number, fromHere: boolean, only?: RegExp): void {
    const at = this.lineAt(offset);
    const first = fromHere ? at : (this.heads[at] ?? 0);
    const key = `${first} ${only?.source ?? ''}`;
    if (this.added.has(key)) return;
    this.added.add(key);
    const statement = this.statement(first, at);
    if (only && !only.test(statement)) return;
    for (const [word] of statement.matchAll(/[\p{L}\p{N}_-]+/gu)) this.words.add(word.toLowerCase());
    const name = DECLARES.exec(statement)?.[1];
    if (name !== undefined) this.declared.add(name);
  }

  /** The first word of the statement around an offset; a statement word that has only been begun counts as whole. */
  kindAt(offset: number): string {
    const line = this.lines[this.heads[this.lineAt(offset)] ?? 0] ?? '';
    const own = /^\s*(\S+)/.exec(this.lines[this.lineAt(offset)] ?? '')?.[1] ?? '';
    const begun = own.length > 1 && STATEMENT_WORDS.find((word) => word.startsWith(own));
    return begun || (/^\s*(\S+)/.exec(line)?.[1] ?? '');
  }

  private statement(first: number, at: number): string {
    let last = at + 1;
    while (last < this.lines.length && this.heads[last] === this.heads[at]) last++;
    // What comments say is no part of it.
    return this.lines
      .slice(first, last)
      .map((line) => line.replace(/#.*/, ''))
      .join('\n');
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

function follows(finding: Finding, { words, declared, unfinished, nameless, unitMissing, sendLost }: Damaged, rig: Rig): boolean {
  if (words.size === 0 && !unitMissing && !sendLost) return false;
  const isIn = (name: string | undefined) => name !== undefined && words.has(name.toLowerCase());
  const { code } = finding;
  const figures = finding.figures as { name?: string; what?: string; written?: string };
  /** Whether the name of anything that it is about stands where it cannot be read. */
  const isAbout = (all: ReadonlyMap<string, { readonly name?: string }>) => finding.about.some((id) => isIn(all.get(id)?.name));
  switch (code) {
    case 'names/unknown':
      if (unitMissing && canonicalUnit(figures.name ?? '') !== undefined) return true;
      return isIn(figures.name) || (figures.what ?? '').split(' ').some((word) => nameless.has(word));
    case 'mixes/not-patched':
      return isAbout(rig.sources) || unfinished.has('input');
    case 'mixes/unheard':
    case 'mixes/too-few-sockets':
      return isAbout(rig.mixes) || unfinished.has('output');
    case 'mixes/no-mix':
      return isAbout(rig.performers) || unfinished.has('mix');
    case 'mixes/empty':
    case 'mixes/without-self':
      return isAbout(rig.mixes) || unitMissing || sendLost || unfinished.has('mix');
    case 'mixes/no-pack':
      return isAbout(rig.performers);
    case 'mixes/house-not-told':
    case 'mixes/no-way-to-house':
    case 'mixes/for-nobody':
      return isAbout(rig.mixes);
    case 'splits/side-left-out':
    case 'splits/missing':
    case 'splits/needless':
      return isAbout(rig.sources);
    case 'capacity/no-such-port': {
      const piece = finding.about.map((id) => rig.pieces.get(id)).find((each) => each !== undefined);
      return piece !== undefined && (declared.has(piece.name ?? '') || declared.has(piece.model.id));
    }
    case 'models/bad-range':
      return (figures.written ?? '').split('..').every(isIn);
    default:
      return false;
  }
}
