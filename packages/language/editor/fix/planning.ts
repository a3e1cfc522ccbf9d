/** The offer to plan where a source is not patched: its place may take other gear, or what has to be bought. */
import { type CodeAction, CodeActionKind, type Diagnostic } from 'vscode-languageserver';
import type { Analysis } from '../../analysis';
import { findingsOf } from './quickFixes';

/** Found out by the editor's own command, as it takes longer than a light bulb may. */
export function planningActions(analysis: Analysis, diagnostics: readonly Diagnostic[], command: string | undefined): CodeAction[] {
  if (command === undefined) return [];
  const { sources } = analysis.lowered.rig;
  return diagnostics.flatMap((diagnostic) =>
    findingsOf(analysis, diagnostic).flatMap(({ finding }): CodeAction[] => {
      const source = finding.code === 'mixes/not-patched' ? finding.about.flatMap((id) => sources.get(id) ?? [])[0] : undefined;
      if (!source) return [];
      const title = `Plan a place for ${source.label}…`;
      return [
        {
          title,
          kind: CodeActionKind.QuickFix,
          diagnostics: [diagnostic],
          command: { title, command, arguments: [analysis.document.uri.toString(), source.name] },
        },
      ];
    }),
  );
}
