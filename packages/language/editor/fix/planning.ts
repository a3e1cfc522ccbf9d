/** The offer to plan where a source is not patched: its place may take other gear, or what has to be bought. */
import { type CodeAction, CodeActionKind, type Diagnostic, type Range } from 'vscode-languageserver';
import type { Source } from '#rig';
import type { Analysis } from '../../analysis';
import { findingsOf } from './quickFixes';

/** At what is found of it, and at the source itself. Found out by the editor's own command, as it takes longer than a light bulb may. */
export function planningActions(
  analysis: Analysis,
  diagnostics: readonly Diagnostic[],
  { start, end }: Range,
  command: string | undefined,
): CodeAction[] {
  if (command === undefined) return [];
  const { sources } = analysis.lowered.rig;
  const here = analysis.document.uri.toString();
  const unpatched = ({ finding }: Analysis['located'][number]): Source[] =>
    finding.code === 'mixes/not-patched' ? finding.about.flatMap((id) => sources.get(id) ?? []).slice(0, 1) : [];
  const stands = ({ id }: Source) => {
    const spot = analysis.spotOf(id);
    return spot?.uri === here && spot.range.start.line <= end.line && start.line <= spot.range.end.line;
  };
  const offered = new Map<Source, Diagnostic | undefined>();
  for (const source of analysis.located.flatMap(unpatched)) if (stands(source)) offered.set(source, undefined);
  for (const diagnostic of diagnostics)
    for (const source of findingsOf(analysis, diagnostic).flatMap(unpatched)) offered.set(source, diagnostic);
  return [...offered].map(([source, diagnostic]): CodeAction => {
    const title = `Plan a place for ${source.label}…`;
    return {
      title,
      kind: CodeActionKind.QuickFix,
      ...(diagnostic && { diagnostics: [diagnostic] }),
      command: { title, command, arguments: [here, source.name] },
    };
  });
}
