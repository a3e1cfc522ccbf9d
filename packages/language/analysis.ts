/** Everything that is known of a document: its rig, what is computed from it, and what is wrong, with where it stands. */
import { type LangiumDocument, URI, UriUtils, WorkspaceCache } from 'langium';
import type { Range } from 'vscode-languageserver-types';
import { type Checked, check, type Examined, examineEdited, type Finding, finding, message, toldIn, whyNotAllowed } from '#engine';
import { type Model, type Place, type Rig, sharing } from '#rig';
import { withoutAftermath } from './aftermath';
import { Allowances } from './allowances';
import type * as ast from './generated/ast';
import { isLibrary } from './library';
import { Context } from './lowering/context';
import { type Lowered, lower } from './lowering/lower';
import type { Taped } from './lowering/tapes';
import { checkUses } from './lowering/uses';
import type { RigServices } from './module';
import { usedUri } from './symbols';
import { mistakes } from './syntax/mistakes';

/** A finding with the stretch of this document it is shown at. */
export interface Located {
  readonly finding: Finding;
  readonly range: Range;
  readonly related: readonly { readonly uri: string; readonly range: Range; readonly says: string }[];
}

export interface Analysis {
  readonly document: LangiumDocument<ast.RigFile>;
  readonly lowered: Lowered;
  /** What the engine makes of it; nothing for a file that only lends its gear to others. */
  readonly checked?: Checked;
  readonly located: readonly Located[];
  /** What is found as well, and may stand: each with its reason. */
  readonly allowed: readonly Located[];
  /** Where a place is, in this document or in another. */
  spotOf(place: Place): { uri: string; range: Range } | undefined;
}

/** What readers of the sheets are told: what is wrong, and what may stand. */
export function foundBy({ located, allowed }: Pick<Analysis, 'located' | 'allowed'>): Finding[] {
  return [...located, ...allowed].map((each) => each.finding);
}

export class RigAnalyser {
  private readonly services: RigServices;
  private readonly cache: WorkspaceCache<string, Analysis>;
  /** Of each document that has been looked at and not forgotten: what its statements came to last, and what the engine found of its rig. */
  private readonly kept = new WeakMap<LangiumDocument, { readonly taped: Taped; readonly examined?: Examined }>();
  /** Those of the library, made once. */
  readonly libraryModels = new WeakMap<ast.Model, Model>();

  constructor(services: RigServices) {
    this.services = services;
    this.cache = new WorkspaceCache(services.shared);
  }

  /** The analysis of a document as it is now; done once for each state of the workspace. */
  of(document: LangiumDocument): Analysis {
    return this.cache.get(document.uri.toString(), () => this.analyse(document as LangiumDocument<ast.RigFile>));
  }

  /** The tree of a document has been let go, and with it what was made of it. */
  forget(document: LangiumDocument): void {
    this.cache.delete(document.uri.toString());
    this.kept.delete(document);
  }

  /** What is the same as before is kept, and with it what was found of it; a comment, a space or another layout changes nothing of a rig. */
  private examine(document: LangiumDocument, lowered: Rig): Examined {
    const before = this.kept.get(document)?.examined;
    const rig = before ? sharing(before.rig, lowered) : lowered;
    return before && rig === before.rig ? before : examineEdited(rig, before);
  }

  private analyse(document: LangiumDocument<ast.RigFile>): Analysis {
    const { Symbols, Workspace, Scans } = this.services.rig;
    const context = new Context();
    const { uses } = Symbols.of(document);
    const { LangiumDocuments } = this.services.shared.workspace;
    const inside = (uri: string) => Workspace.isInside(uri, document.uri);
    const isWholeRig = (uri: URI) => {
      const used = LangiumDocuments.getDocument(uri);
      return used !== undefined && Symbols.of(used).title !== undefined;
    };
    checkUses(context, uses, LangiumDocuments, inside, (uri) => Workspace.whyUnreadable(uri), isWholeRig);
    const fresh = lower(document, Symbols, Workspace, Scans, this.libraryModels, context, this.kept.get(document)?.taped);
    const examined = fresh.isRig && !isLibrary(document.uri) ? this.examine(document, fresh.rig) : undefined;
    this.kept.set(document, { taped: fresh.taped, examined });
    const { settings } = fresh.rig;
    const lowered = { ...fresh, rig: examined?.rig ?? fresh.rig, findings: toldIn(settings, fresh.findings) };
    const read = mistakes(document, () => Symbols.all(document, 'Model').map(({ name }) => name));
    const text = read.map((each) => ({ ...each, finding: { ...each.finding, inFeet: settings.inFeet } }));
    const here = document.uri.toString();
    const positions = new Map(text.map(({ finding: { place }, start, end }) => [place, { start, end }]));
    const spotOf = (place: Place) => {
      const stretch = positions.get(place);
      if (stretch)
        return {
          uri: here,
          range: { start: document.textDocument.positionAt(stretch.start), end: document.textDocument.positionAt(stretch.end) },
        };
      const spot = lowered.marks.spotOf(place);
      return spot && { uri: spot.uri.toString(), range: spot.range };
    };
    const allowances = new Allowances(document, (uri) => {
      const parsed = URI.parse(uri);
      return isLibrary(parsed) ? undefined : LangiumDocuments.getDocument(parsed);
    });
    const reasonFor = (each: Finding) => allowances.reasonFor(each, spotOf(each.place));
    const whole = examined && check(lowered.rig, (each) => reasonFor(each) !== undefined, lowered.ownModels, examined);
    const startOf = (place: Place) => {
      const spot = lowered.marks.spotOf(place);
      return spot?.uri.toString() === here ? document.textDocument.offsetAt(spot.range.start) : undefined;
    };
    const placed = [...lowered.findings, ...(whole?.findings ?? [])].map((each) => ({ finding: each, start: startOf(each.place) }));
    const kept = new Set(withoutAftermath(placed, text, document.textDocument.getText(), lowered.rig, startOf));
    const standing = new Map([...text.map((each) => each.finding), ...kept].map((each) => [each, withReason(each, reasonFor(each))]));
    const checked = whole && { ...whole, findings: whole.findings.flatMap((each) => standing.get(each) ?? []) };
    const unread = [...standing.keys()].some(({ code }) => whyNotAllowed(code) === 'unread');
    const wrong = allowances.findings(whole !== undefined && !unread);
    for (const {
      finding: { place },
      start,
      end,
    } of wrong)
      positions.set(place, { start, end });
    const findings = [...standing.values(), ...wrong.map((each) => each.finding)];
    const located: Located[] = [];
    const allowed: Located[] = [];
    const troubles = new Map<string, Finding[]>();
    for (const each of findings) {
      const spot = spotOf(each.place) ?? { uri: here, range: START };
      if (spot.uri !== here && each.allowed === undefined) {
        const there = troubles.get(spot.uri);
        if (there) there.push(each);
        else troubles.set(spot.uri, [each]);
        continue;
      }
      const related = each.related.flatMap(({ place, says }) => {
        const at = spotOf(place);
        return at ? [{ ...at, says }] : [];
      });
      if (each.allowed === undefined) located.push({ finding: each, range: spot.range, related });
      else allowed.push({ finding: each, range: (spot.uri === here ? spot.range : rangeOfUse(uses, spot.uri)) ?? START, related });
    }
    located.push(...this.troubles(document, troubles, spotOf));
    return { document, lowered, checked, located, allowed, spotOf };
  }

  /** Told at the `use`, with where it stands in the rig that is used. */
  private onThisNight(each: Finding, uses: readonly ast.Use[], uri: string, spotOf: Analysis['spotOf']): Located[] {
    const range = rangeOfUse(uses, uri);
    if (!range) return [];
    const related = [{ place: each.place, says: 'the line that it is about' }, ...each.related].flatMap(({ place, says }) => {
      const at = spotOf(place);
      return at ? [{ ...at, says }] : [];
    });
    return [{ finding: each, range, related }];
  }

  /** What is wrong in a used file is told where it is used; the file itself has the details. */
  private troubles(
    document: LangiumDocument<ast.RigFile>,
    troubles: ReadonlyMap<string, readonly Finding[]>,
    spotOf: Analysis['spotOf'],
  ): Located[] {
    const { uses } = this.services.rig.Symbols.of(document);
    const bands = new Set(this.services.rig.Symbols.bands(document).map((symbols) => symbols.document.uri.toString()));
    return [...troubles].flatMap(([uri, findings]): Located[] => {
      // What is wrong with the band's rig on this night is each a matter of its own.
      if (bands.has(uri)) return findings.flatMap((each) => this.onThisNight(each, uses, uri, spotOf));
      const first = findings[0];
      if (!first || uri.startsWith('earloom:')) return [];
      const range = rangeOfUse(uses, uri);
      if (!range) return [];
      const path = UriUtils.relative(UriUtils.dirname(document.uri), uri);
      const told = finding('use/trouble', 'use', { path, count: findings.length, first: message(first) });
      const related = findings.slice(0, 5).flatMap((each) => {
        const at = spotOf(each.place);
        return at ? [{ ...at, says: message(each) }] : [];
      });
      return [{ finding: told, range, related }];
    });
  }
}

/** A file that is used by way of another is told at the first `use` that leads to it. */
function rangeOfUse(uses: readonly ast.Use[], uri: string): Range | undefined {
  return (uses.find((each) => usedUri(each)?.toString() === uri) ?? uses[0])?.$cstNode?.range;
}

function withReason(each: Finding, allowed: string | undefined): Finding {
  return allowed === undefined ? each : { ...each, allowed };
}

const START: Range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };
