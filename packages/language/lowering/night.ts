/**
 * One band, many nights: what a file takes over from the rig that it uses whole, without what it leaves out, and with what it says itself
 * instead. Nothing is replaced unless "instead" says so.
 */
import type { LangiumDocument } from 'langium';
import type { Night } from '#rig';
import type * as ast from '../generated/ast';
import type { Declaration, Kind, Symbols, SymbolTable } from '../symbols';
import { contentOf, isRun, type RunStatement } from './identity';

type Replacing = Declaration | RunStatement;

export class NightOf {
  /** The rigs that are used whole, directly or not, nearest first. */
  readonly bands: readonly Symbols[];
  /** The file's own statements, then those of the bands that hold. */
  readonly statements: readonly ast.Statement[];
  /** The facts of the house's, of the nearest that says any. */
  readonly house: readonly ast.Statement[];
  /** Statements of this file that take the place of nothing. */
  readonly needless: readonly Replacing[];
  private readonly leftOut = new Set<unknown>();
  private readonly replacing: Replacing[] = [];
  private readonly without: string[] = [];

  constructor(
    private readonly document: LangiumDocument<ast.RigFile>,
    table: SymbolTable,
  ) {
    this.bands = table.bands(document);
    const files = [document, ...this.bands.map((symbols) => symbols.document)];
    const houseless = files.map((file) => this.leave(file));
    const kept: ast.Statement[] = [];
    const replaced = new Set<string>();
    const needless: Replacing[] = [];
    let house: readonly ast.Statement[] = [];
    let withoutHouse = false;
    for (const [index, file] of files.entries()) {
      const all = statementsOf(file);
      const facts = all.filter((each) => each.$type === 'House' && each.facts.length > 0);
      if (house.length === 0 && !withoutHouse) house = facts;
      kept.push(...all.filter((each) => index === 0 || (isRun(each) && this.holds(each, replaced, withoutHouse))));
      for (const each of all) {
        if (!saysInstead(each)) continue;
        if (isRun(each)) replaced.add(contentOf(each));
        if (this.replaces(each, files.slice(index + 1))) this.replacing.push(each);
        else if (index === 0) needless.push(each);
      }
      withoutHouse ||= houseless[index] === true;
    }
    this.statements = kept;
    this.house = house;
    this.needless = needless;
  }

  /** No file is used whole, and nothing is left out. */
  get isPlain(): boolean {
    return this.bands.length === 0 && this.leftOut.size === 0;
  }

  /** Whether it is a declaration of a band's that is not there on this night. */
  isLeftOut(node: unknown): boolean {
    return this.leftOut.has(node);
  }

  /** Of the bands, what a statement of this file has the name of without saying so. */
  hidden(kind: Kind, name: string): Declaration | undefined {
    const found = this.bands.map((symbols) => symbols.get(kind, name)).find((node) => node && !this.leftOut.has(node));
    return found;
  }

  /** What differs from the band's own rig, in words; nothing where no file is used whole. */
  differs(nameOf: (run: RunStatement) => string): Night | undefined {
    const [band] = this.bands;
    if (!band) return undefined;
    const of = band.title?.label ?? band.document.uri.path.split('/').at(-1) ?? '';
    const instead = this.replacing.map((each) => (isRun(each) ? nameOf(each) : (each.label ?? each.name)));
    return { of, without: [...new Set(this.without)], instead };
  }

  /** Takes note of what a file leaves out of the ones that it uses whole; whether the house's lines are among it. */
  private leave(file: LangiumDocument<ast.RigFile>): boolean {
    let house = false;
    for (const use of statementsOf(file)) {
      if (use.$type !== 'Use') continue;
      for (const each of use.without) {
        const target = each.target?.ref;
        if (each.house) {
          house = true;
          this.without.push('the house’s lines');
        } else if (target && target.$container?.$document !== this.document) this.leaveOut(target);
      }
    }
    return house;
  }

  /** With somebody go what they play, their packs, and the mixes that are for nobody else. */
  private leaveOut(target: Declaration): void {
    this.leftOut.add(target);
    this.without.push(target.label ?? target.name);
    if (target.$type !== 'Performer') return;
    const absent = (people: readonly { readonly ref?: unknown }[]) => people.length > 0 && people.every(({ ref }) => this.leftOut.has(ref));
    for (const symbols of this.bands) {
      for (const node of symbols.all('Source') as Iterable<ast.Source>)
        if (node.clauses.some((clause) => clause.$type === 'By' && clause.performer?.ref === target)) this.leftOut.add(node);
      for (const node of symbols.all('Gear') as Iterable<ast.Gear>)
        if (node.clauses.some((clause) => clause.$type === 'ForWhom' && absent(clause.performers))) this.leftOut.add(node);
      for (const node of symbols.all('Mix') as Iterable<ast.Mix>) if (absent(node.performers)) this.leftOut.add(node);
    }
  }

  private holds(run: RunStatement, replaced: ReadonlySet<string>, withoutHouse: boolean): boolean {
    if (replaced.has(contentOf(run)) || (run.$type === 'House' && withoutHouse)) return false;
    const named = run.$type === 'Output' ? [run.port?.gear?.ref, run.mix?.ref] : [run.taken?.target?.ref];
    if (run.$type === 'Input') named.push(run.port?.gear?.ref);
    return !named.some((node) => node && this.leftOut.has(node));
  }

  private replaces(each: Replacing, farther: readonly LangiumDocument<ast.RigFile>[]): boolean {
    return farther.some((file) =>
      statementsOf(file).some((other) =>
        isRun(each)
          ? isRun(other) && contentOf(other) === contentOf(each)
          : other.$type === each.$type && (other as Declaration).name === each.name,
      ),
    );
  }
}

export function saysInstead(statement: ast.Statement): statement is Replacing {
  if (isRun(statement) && statement.$type !== 'Input') return statement.instead;
  if (statement.$type === 'Mix') return statement.instead;
  if (statement.$type !== 'Input' && statement.$type !== 'Gear' && statement.$type !== 'Source' && statement.$type !== 'Performer')
    return false;
  return statement.clauses.some(({ $type }) => $type === 'Instead');
}

function statementsOf(document: LangiumDocument<ast.RigFile>): readonly ast.Statement[] {
  return document.parseResult.value.statements ?? [];
}
