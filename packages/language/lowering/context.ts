/** What lowering keeps at hand while it goes through the statements of a rig. */
import type { AstNode, Reference } from 'langium';
import { type Code, type FiguresOf, type Finding, type Fix, finding, type Related } from '#engine';
import {
  canonicalUnit,
  type Dimension,
  dimensionOf,
  EXTENTS,
  isWithin,
  MOST_COUNTED,
  MOST_PLACE_M,
  MOST_STAGE_M,
  spokenUnit,
  toBase,
  unitsFor,
  unitsMeant,
} from '#rig';
import { type Holding, isHolding, type Quantity, type Range } from '../generated/ast';
import { nearest } from '../near';
import type { Kind } from '../symbols';
import { numberOf } from '../syntax/values';
import { type Mark, SourceMap } from './marks';
import { Recorder } from './tapes';

/** What a figure has to be, beyond having the right unit. */
export interface Rule {
  readonly holds: (value: number) => boolean;
  /** In words; of lengths up to the figure that follows. */
  readonly says: string;
  readonly upToM?: number;
}

/** Figures in metres. */
export const FROM_THE_STAGE: Rule = {
  holds: (value) => Math.abs(value) <= MOST_PLACE_M,
  says: 'no further from the middle of the stage’s front edge than',
  upToM: MOST_PLACE_M,
};
export const OF_A_STAGE: Rule = {
  holds: (value) => value > 0 && value <= MOST_STAGE_M,
  says: 'more than nought and no more than',
  upToM: MOST_STAGE_M,
};
export const A_LEAD: Rule = {
  holds: (value) => value >= 0.01 && value <= MOST_PLACE_M,
  says: 'from 1 cm to',
  upToM: MOST_PLACE_M,
};
/** In hertz: interfaces work at 44.1 kHz and upwards (common practice, no source). */
export const SAMPLE_RATE: Rule = { holds: (value) => value >= 8_000 && value <= 768_000, says: 'from 8 to 768 kHz' };
/** In hertz: from wireless headphones at some MHz up to 10 GHz (common practice, no source); a slip of the prefix is a thousand times off. */
export const RADIO: Rule = { holds: (value) => value >= 1e6 && value <= 10e9, says: 'from 1 MHz to 10 GHz, as in "863.5 MHz"' };
export const POSITIVE: Rule = { holds: (value) => value > 0, says: 'more than nought' };
export const NOT_NEGATIVE: Rule = { holds: (value) => value >= 0, says: 'nought or more' };

/** Beyond so many unknown names it is another mistake than a slip of the finger, and looking for what was meant takes long. */
const MOST_MEANT = 300;

/** Ports and pieces that are there because a number says so, beyond the first of each range: a few digits must not make a million. */
const MOST_MADE = 4096;

/** The names that there are. */
export interface Naming {
  known(kinds: readonly Kind[]): readonly string[];
  /** The names of what is called so on its label. */
  labelled(label: string, kinds: readonly Kind[]): readonly string[];
  /** Another file that has a name of these kinds which nothing here uses. */
  elsewhere(name: string, kinds: readonly Kind[]): string | undefined;
}

export class Context {
  /** What is done for a statement, for whoever keeps it. */
  readonly recorder = new Recorder();
  readonly marks = new SourceMap((place, mark) => this.recorder.marked(place, mark));
  readonly findings: Finding[] = [];
  private count = 0;
  private made = 0;
  /** What unknown names were meant for, by what they name and themselves. */
  private readonly meant = new Map<string, Meant>();

  /** Reports something about a piece of text. */
  report<C extends Code>(
    code: C,
    mark: Mark,
    figures: FiguresOf<C>,
    more: { related?: readonly Related[]; fixes?: readonly FixAt[]; together?: boolean } = {},
  ): void {
    this.recorder.reported();
    const place = this.marks.set(`text:${this.count++}`, mark);
    const each = (more.fixes ?? []).map((fix): Fix => {
      const at = fix.at ? this.marks.set(`text:${this.count++}`, fix.at) : place;
      return { kind: 'rewrite', place: at, with: fix.with };
    });
    const fixes: Fix[] = more.together && each.length > 1 ? [{ kind: 'several', fixes: each }] : each;
    this.findings.push(finding(code, place, figures, { related: more.related, fixes }));
  }

  /** A figure in the unit the program reckons in, or undefined (and a finding) where it is not one of these dimensions. */
  quantity(quantity: Quantity | undefined, what: string, dimensions: readonly Dimension[], rule?: Rule): number | undefined {
    return this.measure(quantity, what, dimensions, rule)?.value;
  }

  measure(
    quantity: Quantity | undefined,
    what: string,
    dimensions: readonly Dimension[],
    rule?: Rule,
  ): { value: number; dimension: Dimension; unit: string } | undefined {
    // Without a number or a unit the parser has already said so.
    if (quantity?.value === undefined || quantity.unit === undefined) return undefined;
    this.decimalComma(quantity, 'value', quantity.value);
    const unit = this.unit(quantity, quantity.value, quantity.unit, what, dimensions);
    if (!unit) return undefined;
    const value = toBase(numberOf(quantity.value), unit);
    const dimension = dimensionOf(unit) as Dimension;
    const extent = EXTENTS[dimension];
    // The level of no voltage is below all numbers.
    const bare = Number.isNaN(value) || value === -Infinity ? POSITIVE : isWithin(value, extent) ? undefined : extent;
    const broken = rule?.holds(value) === false ? rule : bare;
    if (!broken) return { value, dimension, unit };
    const { says, upToM } = broken;
    this.report('units/impossible', { node: quantity }, { written: `${quantity.value} ${spokenUnit(unit)}`, what, rule: says, upToM });
    return undefined;
  }

  range(range: Range | undefined, what: string, dimension: Dimension): { low: number; high: number } | undefined {
    if (range?.low === undefined || range.high === undefined || range.unit === undefined) return undefined;
    this.decimalComma(range, 'low', range.low);
    this.decimalComma(range, 'high', range.high);
    const unit = this.unit(range, `${range.low}..${range.high}`, range.unit, what, [dimension]);
    if (!unit) return undefined;
    const low = toBase(numberOf(range.low), unit);
    const high = toBase(numberOf(range.high), unit);
    const extent = EXTENTS[dimension];
    const within = isWithin(low, extent) && isWithin(high, extent);
    if (low <= high && within) return { low, high };
    const { says, upToM } = within ? { says: 'from the lower to the higher' } : extent;
    this.report('units/impossible', { node: range }, { written: `${range.low}..${range.high} ${range.unit}`, what, rule: says, upToM });
    return undefined;
  }

  private unit(node: AstNode, number: string, written: string, what: string, dimensions: readonly Dimension[]): string | undefined {
    const unit = canonicalUnit(written);
    const dimension = unit && dimensionOf(unit);
    if (unit && dimension && dimensions.includes(dimension)) return unit;
    const units = dimensions.flatMap(unitsFor);
    // A unit that is known is no slip of the keys, and another prefix is another figure.
    const either = unitsMeant(written).filter((each) => dimensions.includes(dimensionOf(each) as Dimension));
    const near =
      (unit && dimension) || either.length > 0 ? undefined : nearest(written, units).find((each) => !differsByPrefix(written, each));
    // Decibels alone may be of anything; of any other unit the number would be another.
    const decibels = dimension === 'relative-level' ? units.filter((each) => /^dB(u|V| SPL)$/.test(each)) : [];
    this.report(
      'units/wrong',
      { node },
      {
        // What is no unit may be part of the number, so it stands as it is written.
        written: unit ? `${number} ${spokenUnit(unit)}` : (node.$cstNode?.text.replace(/\s+/g, ' ') ?? `${number} ${written}`),
        what,
        units,
        near: near && `${number} ${near}`,
        either: either.map((each) => `${number} ${each}`),
        power: dimension === 'power',
        sound: dimension === 'sound-level' && dimensions.includes('voltage-level'),
      },
      { fixes: (near ? [near] : either.length > 0 ? either : decibels).map((each) => ({ with: `${number} ${each}` })) },
    );
    return undefined;
  }

  private decimalComma(node: AstNode, property: string, written: string): void {
    if (!written.includes(',')) return;
    const instead = written.replace(',', '.');
    this.report('text/decimal-comma', { node, property }, { written, instead }, { fixes: [{ with: instead }] });
  }

  /** A whole number from 1, as counts and port numbers are. */
  counting(node: AstNode, property: string, written: string | undefined, what: string): number | undefined {
    if (written === undefined) return undefined;
    const value = numberOf(written);
    if (Number.isInteger(value) && value >= 1 && value <= MOST_COUNTED) return value;
    this.report('units/impossible', { node, property }, { written, what, rule: `a whole number from 1 to ${MOST_COUNTED}` });
    return undefined;
  }

  /** Whether a number may make so many more things; if not, says so, once. */
  mayMake(more: number, mark: Mark): boolean {
    const before = this.made;
    this.made += more;
    this.recorder.counted(more);
    if (this.made <= MOST_MADE) return true;
    if (before <= MOST_MADE) this.report('text/too-many', mark, { limit: MOST_MADE });
    this.made = MOST_MADE + 1;
    return false;
  }

  /** Takes so much as made without a word, where that may be. */
  hasMade(more: number): boolean {
    if (this.made + more > MOST_MADE) return false;
    this.made += more;
    this.recorder.counted(more);
    return true;
  }

  /** What a reference means, or undefined (and a finding, with near matches) where there is no such thing. */
  resolve<T extends AstNode>(
    reference: Reference<T> | undefined,
    mark: Mark,
    what: string,
    kinds: readonly Kind[],
    naming: Naming,
  ): T | undefined {
    const name = reference?.$refText;
    if (!reference || !name) return undefined;
    const target = reference.ref;
    if (target) {
      this.recorder.read({ name, kinds, target });
      return target;
    }
    const { near, minus, file } = this.meaning(name, what, kinds, naming);
    this.report(
      'names/unknown',
      mark,
      { what, name, near, minus, file, more: 0 },
      { fixes: minus ? [{ with: minus }] : near.map((candidate) => ({ with: candidate })) },
    );
    return undefined;
  }

  private meaning(name: string, what: string, kinds: readonly Kind[], { known, labelled, elsewhere }: Naming): Meant {
    const key = `${what} ${name}`;
    const before = this.meant.get(key);
    if (before) return before;
    if (this.meant.size >= MOST_MEANT) return { near: [], minus: undefined, file: undefined };
    const names = known(kinds);
    // `squeeze-3 dB` reads as one name.
    const glued = /^(.+)-(\d+)$/.exec(name);
    const minus = what === 'source' && glued && names.includes(glued[1] as string) ? `${glued[1]} -${glued[2]}` : undefined;
    const called = labelled(name, kinds);
    const meant = { near: called.length > 0 ? called : nearest(name, names), minus, file: elsewhere(name, kinds) };
    this.meant.set(key, meant);
    return meant;
  }

  /** The clauses of a statement by kind. One that is said twice is reported, and the last counts. */
  clauses<T extends AstNode, K extends T['$type']>(
    statement: string,
    all: readonly T[],
  ): Partial<{ [P in K]: Extract<T, { $type: P }> }> & { readonly Spare?: Holding } {
    const found: Partial<Record<string, T>> = {};
    for (const clause of all) {
      // Whose a thing is, and that it is to spare, are two things.
      const kind = isHolding(clause) && clause.how === 'spare' ? 'Spare' : clause.$type;
      const before = found[kind];
      if (before) {
        const figures = { clause: firstWord(clause), before: firstWord(before), statement, joined: undefined };
        this.report('text/clause-twice', { node: clause }, figures, { fixes: [{ with: '' }] });
      }
      found[kind] = clause;
    }
    return found as Partial<{ [P in K]: Extract<T, { $type: P }> }>;
  }
}

/** Whether two units are the same but for the prefix of one of them: `uF` and `nF`, `V` and `mV`. */
function differsByPrefix(one: string, other: string): boolean {
  const bare = (unit: string) => [unit, unit.slice(1)].filter((each) => each !== '').map((each) => each.toLowerCase());
  return one.toLowerCase() !== other.toLowerCase() && bare(one).some((each) => bare(other).includes(each));
}

interface Meant {
  readonly near: readonly string[];
  readonly minus: string | undefined;
  /** The file that has it. */
  readonly file: string | undefined;
}

interface FixAt {
  /** Where it is not what is reported that is to be written anew. */
  readonly at?: Mark;
  readonly with: string;
}

export function firstWord(node: AstNode): string {
  return /^\S+/.exec(node.$cstNode?.text ?? '')?.[0] ?? '';
}
