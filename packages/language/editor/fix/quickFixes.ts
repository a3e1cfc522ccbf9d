/** Quick fixes: the cures of a finding as actions, the best one marked. */
import { type CodeAction, CodeActionKind, type Diagnostic, type Range } from 'vscode-languageserver';
import type { Code, Fix } from '#engine';
import type { Analysis, Located } from '../../analysis';
import { type Cure, Curing } from '../edits';
import type { RigEditorServices } from '../services';
import { renamings } from './renaming';
import { TextualCures } from './textual';
import { triedCures } from './tried';

/** A list that nobody would read to its end is no help. */
const MOST = 6;

/** What the text alone cannot tell: which of two titles is the right one, whether a port is one more or a number wrong. */
const UNSURE: ReadonlySet<Code> = new Set<Code>(['rig/two-titles', 'models/port-twice', 'units/impossible']);

export interface Offer {
  readonly cure: Cure;
  /** Clearly the one to take. */
  readonly best: boolean;
}

export class QuickFixes {
  private readonly textual: TextualCures;

  constructor(private readonly services: RigEditorServices) {
    this.textual = new TextualCures(services);
  }

  /** What a finding can be cured by, the likeliest first. */
  offers(analysis: Analysis, located: Located): Offer[] {
    const { finding } = located;
    const curing = new Curing(this.services, analysis);
    const textual = this.textual.of(analysis.document, located);
    const cures: { fix?: Fix; cure: Cure; choice?: boolean }[] = [
      ...textual.map((cure) => ({ cure, choice: UNSURE.has(finding.code) })),
      ...renamings(this.services, analysis.document, located).map((cure) => ({ cure, choice: true })),
      ...triedCures(this.services, analysis, curing, located).map((cure) => ({ cure, choice: true })),
      ...finding.fixes.flatMap((fix) => {
        const cure = curing.cure(fix);
        return cure ? [{ fix, cure }] : [];
      }),
    ];
    const offers: Offer[] = [];
    for (const { fix, cure, choice } of cures) {
      if (offers.some((each) => each.cure.title === cure.title)) continue;
      const first = offers.length === 0;
      const clear = fix ? isClear(fix) || (cures.length === 1 && !takesAway(fix)) : textual.length === 1;
      offers.push({ cure, best: first && clear && !choice });
    }
    return offers.slice(0, MOST);
  }

  /** For these diagnostics, as far as they still are where the text has them. */
  actions(analysis: Analysis, diagnostics: readonly Diagnostic[]): CodeAction[] {
    const actions: CodeAction[] = [];
    for (const diagnostic of diagnostics) {
      const offers = findingsOf(analysis, diagnostic).flatMap((located) => this.offers(analysis, located));
      const seen = new Set<string>();
      let preferred = false;
      for (const { cure, best } of offers) {
        if (seen.has(cure.title) || seen.size === MOST) continue;
        seen.add(cure.title);
        const action = asAction(cure, diagnostic);
        if (best && !preferred) {
          action.isPreferred = true;
          preferred = true;
        }
        actions.push(action);
      }
    }
    return merged(actions);
  }
}

/** The findings that a diagnostic was made of. */
export function findingsOf({ located }: Analysis, { code, range }: Diagnostic): Located[] {
  return located.filter((each) => each.finding.code === code && sameRange(each.range, range));
}

export function asAction(cure: Cure, diagnostic: Diagnostic): CodeAction {
  const changes = Object.fromEntries(Object.entries(cure.changes).map(([uri, edits]) => [uri, [...edits]]));
  return { title: cure.title, kind: CodeActionKind.QuickFix, diagnostics: [diagnostic], edit: { changes } };
}

/** One action for all the diagnostics that it cures. It is the preferred one only if it is so for each of them. */
function merged(actions: readonly CodeAction[]): CodeAction[] {
  const found = new Map<string, CodeAction>();
  for (const action of actions) {
    const key = JSON.stringify([action.title, action.edit]);
    const before = found.get(key);
    if (!before) found.set(key, action);
    else {
      before.diagnostics = [...(before.diagnostics ?? []), ...(action.diagnostics ?? [])];
      if (!action.isPreferred) before.isPreferred = undefined;
    }
  }
  return [...found.values()];
}

/** A cure that puts things right by itself; one of many names is for the user to choose. */
function isClear(fix: Fix): boolean {
  return fix.kind !== 'rewrite' && !takesAway(fix);
}

/** What takes something out of the rig is for the user to choose, even where it is the only cure. */
function takesAway(fix: Fix): boolean {
  if (fix.kind === 'several') return fix.fixes.every(takesAway);
  return fix.kind === 'remove' || fix.kind === 'remove-send';
}

function sameRange(a: Range, b: Range): boolean {
  return (
    a.start.line === b.start.line &&
    a.start.character === b.start.character &&
    a.end.line === b.end.line &&
    a.end.character === b.end.character
  );
}
