/** Quick fixes: the cures of a finding as actions, the best one marked. */
import { type CodeAction, CodeActionKind, type Diagnostic, type Range } from 'vscode-languageserver';
import type { Code, Finding, Fix } from '#engine';
import type { Analysis, Located } from '../../analysis';
import { type Cure, Curing } from '../edits';
import type { RigEditorServices } from '../services';
import { analyseWithAll, isCured, isWorse, triesIn } from '../trial';
import { renamings } from './renaming';
import { TextualCures } from './textual';
import { takesAway, triedCures } from './tried';

/** A list that nobody would read to its end is no help. */
const MOST = 6;

/** What the text alone cannot tell: which of two titles is the right one, whether a port is one more or a number wrong, why somebody allows something. */
const UNSURE: ReadonlySet<Code> = new Set<Code>([
  'rig/two-titles',
  'models/port-twice',
  'units/impossible',
  'allow/no-reason',
  'allow/not-this',
  'allow/nothing-here',
]);

export interface Offer {
  readonly cure: Cure;
  /** Clearly the one to take. */
  readonly best: boolean;
}

interface Proposal {
  readonly cure: Cure;
  /** What the engine has made it of. */
  readonly fix?: Fix;
  /** For the user to choose, even where it is the only one. */
  readonly choice?: boolean;
  /** Once it was tried: it makes for something else that is to be put right, no graver than what it cures. */
  readonly brings?: boolean;
}

export class QuickFixes {
  private readonly textual: TextualCures;
  private readonly tried = new WeakMap<Analysis, Map<Finding, Offer[]>>();

  constructor(private readonly services: RigEditorServices) {
    this.textual = new TextualCures(services);
  }

  /** What a finding can be cured by, the likeliest first: each was tried, does away with it, and brings nothing graver than what goes. */
  offers(analysis: Analysis, located: Located): Offer[] {
    const { finding } = located;
    const known = this.tried.get(analysis) ?? new Map<Finding, Offer[]>();
    this.tried.set(analysis, known);
    const before = known.get(finding);
    if (before) return before;
    const good: Proposal[] = [];
    for (const proposal of this.proposals(analysis, located).slice(0, triesIn(analysis.document))) {
      const after = analyseWithAll(this.services, analysis.document, proposal.cure.changes);
      if (after && isCured(after, analysis, finding)) good.push({ ...proposal, brings: isWorse(after, analysis) });
      if (good.length === MOST) break;
    }
    const offers = this.ranked(cleanFirst(good));
    known.set(finding, offers);
    return offers;
  }

  /** The clear cure, where there is one, before anybody has tried it. */
  clearCure(analysis: Analysis, located: Located): Cure | undefined {
    return this.ranked(this.proposals(analysis, located)).find(({ best }) => best)?.cure;
  }

  private proposals(analysis: Analysis, located: Located): Proposal[] {
    const { finding } = located;
    const curing = new Curing(this.services, analysis);
    const unsure = UNSURE.has(finding.code);
    const cures: Proposal[] = [
      ...this.textual.of(analysis.document, located).map((cure, _, all) => ({ cure, choice: unsure || all.length > 1 })),
      ...renamings(this.services, analysis.document, located).map((cure) => ({ cure, choice: true })),
      ...triedCures(this.services, analysis, curing, located).map((cure) => ({ cure, choice: true })),
      ...finding.fixes.flatMap((fix) => {
        const cure = curing.cure(fix);
        return cure ? [{ fix, cure }] : [];
      }),
    ];
    return cures.filter(({ cure: { title } }, index) => cures.findIndex((each) => each.cure.title === title) === index);
  }

  /** The first is the best where it puts things right by itself, or is the only one. */
  private ranked(proposals: readonly Proposal[]): Offer[] {
    const alone = proposals.length === 1;
    return proposals.map(({ cure, fix, choice }, index) => ({
      cure,
      best: index === 0 && !choice && (fix === undefined || isClear(fix) || (alone && !takesAway(fix))),
    }));
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

/** What brings nothing comes before what brings something; what takes something out stays where it is. */
function cleanFirst(proposals: readonly Proposal[]): Proposal[] {
  const takes = ({ fix }: Proposal) => fix !== undefined && takesAway(fix);
  const others = proposals.filter((each) => !takes(each));
  const ordered = [...others.filter(({ brings }) => !brings), ...others.filter(({ brings }) => brings)];
  return proposals.map((each) => (takes(each) ? each : (ordered.shift() as Proposal)));
}

/** A cure that puts things right by itself; one of many names is for the user to choose. */
function isClear(fix: Fix): boolean {
  const rewrites = fix.kind === 'several' ? fix.fixes.every(({ kind }) => kind === 'rewrite') : fix.kind === 'rewrite';
  return !rewrites && !takesAway(fix);
}

function sameRange(a: Range, b: Range): boolean {
  return (
    a.start.line === b.start.line &&
    a.start.character === b.start.character &&
    a.end.line === b.end.line &&
    a.end.character === b.end.character
  );
}
