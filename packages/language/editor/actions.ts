/** What the light bulb offers: cures of what is wrong here, and refactorings of what stands here. */
import type { LangiumDocument } from 'langium';
import type { CodeActionProvider } from 'langium/lsp';
import { type CodeAction, CodeActionKind, type CodeActionParams, type WorkspaceEdit } from 'vscode-languageserver';
import { isLibrary } from '../library';
import { allowingActions } from './allowing';
import { FIX_ALL, FixAll } from './fix/fixAll';
import { PlanningActions } from './fix/planning';
import { QuickFixes } from './fix/quickFixes';
import { REFACTORING_KINDS, refactorings } from './refactor';
import type { RigEditorServices } from './services';

/** All kinds that there are, so that an editor can show what it may ask for. */
export const ACTION_KINDS: readonly string[] = [CodeActionKind.QuickFix, FIX_ALL, ...REFACTORING_KINDS];

export class RigActionProvider implements CodeActionProvider {
  private readonly fixes: QuickFixes;
  private readonly fixAll: FixAll;
  private readonly planning: PlanningActions;

  constructor(private readonly services: RigEditorServices) {
    this.fixes = new QuickFixes(services);
    this.fixAll = new FixAll(services, this.fixes);
    this.planning = new PlanningActions(services);
  }

  getCodeActions(document: LangiumDocument, { range, context }: CodeActionParams): CodeAction[] {
    if (isLibrary(document.uri)) return [];
    const wanted = (kind: string) => context.only?.some((only) => isWithin(kind, only)) ?? true;
    const analysis = this.services.rig.Analyser.of(document);
    const actions: CodeAction[] = [];
    const allowing: CodeAction[] = [];
    if (wanted(CodeActionKind.QuickFix)) {
      const curing = this.fixes.actions(analysis, context.diagnostics);
      const alike = curing.length > 0 ? this.fixAll.ofKinds(analysis, context.diagnostics) : [];
      const { planRig } = this.services.editor.Settings.commands;
      actions.push(...curing, ...alike, ...this.planning.actions(analysis, context.diagnostics, range, planRig));
      allowing.push(...allowingActions(analysis, context.diagnostics));
    }
    // What is asked for on save is no answer to a cursor.
    if (context.only && wanted(FIX_ALL)) actions.push(...this.fixAll.onSave(analysis));
    actions.push(...refactorings(this.services, analysis, range, wanted), ...allowing);
    return actions.map((action) => ({ ...action, edit: action.edit && this.ofThisText(action.edit) }));
  }

  /** An edit that says which text it is for, so that it is not carried out on a later one, where the editor can tell. */
  private ofThisText(edit: WorkspaceEdit): WorkspaceEdit {
    if (!this.services.editor.Abilities.knowsVersions || !edit.changes) return edit;
    const { TextDocuments } = this.services.shared.workspace;
    const documentChanges = Object.entries(edit.changes).map(([uri, edits]) => ({
      textDocument: { uri, version: TextDocuments?.get(uri)?.version ?? null },
      edits,
    }));
    return { documentChanges };
  }
}

/** Whether a kind is the one that is asked for or below it, as in `refactor.rewrite`, `refactor`. */
function isWithin(kind: string, only: string): boolean {
  return only === '' || kind === only || kind.startsWith(`${only}.`);
}
