/** Several cures at once: all of a kind, and what can be put right on save without asking. Each is tried before it is offered. */
import { type CodeAction, CodeActionKind, type Diagnostic, type TextEdit } from 'vscode-languageserver';
import type { Code, Finding } from '#engine';
import type { Analysis, Located } from '../../analysis';
import { diagnosticOf } from '../../validator';
import type { Cure } from '../edits';
import type { RigEditorServices } from '../services';
import { analyseWith, canTry, isWorse, tally } from '../trial';
import type { QuickFixes } from './quickFixes';

/** The kind under which an editor asks for what may be put right on save. */
export const FIX_ALL = `${CodeActionKind.SourceFixAll}.earloom`;

/** Each of these is read as it is meant, so that to write it right changes nothing but the spelling. */
const SPELLING: ReadonlySet<Code> = new Set<Code>(['text/decimal-comma', 'text/dash-range', 'text/spaced-dot']);

/** Each is tried by itself where not all can be taken together; more than these would take too long. */
const MOST_TRIES = 12;

export class FixAll {
  private readonly known = new WeakMap<Analysis, Map<Code, CodeAction | undefined>>();

  constructor(
    private readonly services: RigEditorServices,
    private readonly fixes: QuickFixes,
  ) {}

  /** For the kinds of finding that these diagnostics are of, where there are others like them. */
  ofKinds(analysis: Analysis, diagnostics: readonly Diagnostic[]): CodeAction[] {
    const codes = new Set(diagnostics.map(({ code }) => code));
    const known = this.known.get(analysis) ?? new Map<Code, CodeAction | undefined>();
    this.known.set(analysis, known);
    const found: CodeAction[] = [];
    for (const code of new Set(analysis.located.map(({ finding }) => finding.code))) {
      if (!codes.has(code)) continue;
      if (!known.has(code)) known.set(code, this.ofKind(analysis, code));
      const action = known.get(code);
      if (action) found.push(action);
    }
    return found;
  }

  private ofKind(analysis: Analysis, code: Code): CodeAction | undefined {
    const alike = analysis.located.filter(({ finding }) => finding.code === code);
    if (alike.length < 2) return undefined;
    const cured = this.curable(analysis, alike);
    if (cured.length < 2) return undefined;
    const all = cured.length === alike.length;
    return {
      title: all
        ? `Fix all ${cured.length} of this kind in this file`
        : `Fix ${cured.length} of the ${alike.length} of this kind in this file`,
      kind: CodeActionKind.QuickFix,
      diagnostics: cured.map(({ located }) => diagnosticOf(located)),
      edit: { changes: { [analysis.document.uri.toString()]: cured.flatMap(({ edits }) => edits) } },
    };
  }

  /** What can be put right on save: slips of spelling, whose cure leaves the rig as it was read. */
  onSave(analysis: Analysis): CodeAction[] {
    const slips = analysis.located.filter(({ finding }) => SPELLING.has(finding.code));
    const cured = this.curable(analysis, slips);
    if (cured.length === 0) return [];
    return [
      {
        title: 'Fix slips of spelling that can be read only one way',
        kind: FIX_ALL,
        diagnostics: cured.map(({ located }) => diagnosticOf(located)),
        edit: { changes: { [analysis.document.uri.toString()]: cured.flatMap(({ edits }) => edits) } },
      },
    ];
  }

  /** Those whose clear cure goes together with that of the others: no two edits at one place, and nothing new is wrong afterwards. */
  private curable(analysis: Analysis, all: readonly Located[]): { located: Located; edits: readonly TextEdit[] }[] {
    const here = analysis.document.uri.toString();
    const cures = all.flatMap((located) => {
      const clear = this.fixes.clearCure(analysis, located);
      const edits = clear && editsHere(clear, here);
      return edits ? [{ located, edits }] : [];
    });
    const apart = cures.filter(({ edits }, index) => cures.slice(0, index).every((other) => !overlap(edits, other.edits)));
    if (this.works(analysis, apart)) return apart;
    if (!canTry(analysis.document)) return [];
    let taken: typeof apart = [];
    for (const each of apart.slice(0, MOST_TRIES)) {
      const more = [...taken, each];
      if (this.works(analysis, more)) taken = more;
    }
    return taken;
  }

  /** Whether as many findings are gone as are cured, and nothing else has come. */
  private works(analysis: Analysis, cures: readonly { located: Located; edits: readonly TextEdit[] }[]): boolean {
    if (cures.length === 0) return false;
    const after = analyseWith(
      this.services,
      analysis.document,
      cures.flatMap(({ edits }) => edits),
    );
    const [was, is] = [tally(analysis), tally(after)];
    const gone = (finding: Finding) => (was.get(finding.code) ?? 0) - (is.get(finding.code) ?? 0);
    const wanted = new Map<Code, number>();
    for (const { located } of cures) wanted.set(located.finding.code, (wanted.get(located.finding.code) ?? 0) + 1);
    return cures.every(({ located: { finding } }) => gone(finding) >= (wanted.get(finding.code) ?? 0)) && !isWorse(after, analysis);
  }
}

/** A cure's edits, where it changes this file alone. */
function editsHere({ changes }: Cure, uri: string): readonly TextEdit[] | undefined {
  const [only, more] = Object.keys(changes);
  return only === uri && more === undefined ? changes[uri] : undefined;
}

function overlap(some: readonly TextEdit[], others: readonly TextEdit[]): boolean {
  return some.some((one) => others.some((other) => meet(one, other)));
}

function meet({ range: a }: TextEdit, { range: b }: TextEdit): boolean {
  const before = (one: typeof a.start, other: typeof a.start) =>
    one.line < other.line || (one.line === other.line && one.character <= other.character);
  const same = a.start.line === b.start.line && a.start.character === b.start.character;
  // New lines at one place would come in an order that nobody has chosen; words side by side do not meet.
  return same || !(before(a.end, b.start) || before(b.end, a.start));
}
