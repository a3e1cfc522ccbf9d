/** The offer to plan where a source is not patched, or a mix leaves nowhere: its place may take other gear, or what has to be bought. */
import { type CodeAction, CodeActionKind, type Diagnostic, type Range } from 'vscode-languageserver';
import { isHearable } from '#plan';
import type { Place } from '#rig';
import type { Analysis, Located } from '../../analysis';
import { offersOf } from '../../offers';
import type { RigEditorServices } from '../services';
import { canTry } from '../trial';
import { findingsOf } from './quickFixes';

/** What is without a place, and what is offered for it. */
interface Homeless {
  readonly id: Place;
  readonly title: string;
}

export class PlanningActions {
  /** Whether each mix has a way at all, of those that were asked about. */
  private readonly hearable = new WeakMap<Analysis, Map<Place, boolean>>();

  constructor(private readonly services: RigEditorServices) {}

  /** At what is found of it, and at the source or mix itself. Found out by the editor's own command, as it takes longer than a light bulb may. */
  actions(analysis: Analysis, diagnostics: readonly Diagnostic[], { start, end }: Range, command: string | undefined): CodeAction[] {
    if (command === undefined) return [];
    const here = analysis.document.uri.toString();
    const stands = ({ id }: Homeless) => {
      const spot = analysis.spotOf(id);
      return spot?.uri === here && spot.range.start.line <= end.line && start.line <= spot.range.end.line;
    };
    const offered = new Map<Place, Homeless & { readonly diagnostic?: Diagnostic }>();
    for (const each of analysis.located.flatMap((located) => homeless(analysis, located))) if (stands(each)) offered.set(each.id, each);
    for (const diagnostic of diagnostics)
      for (const each of findingsOf(analysis, diagnostic).flatMap((located) => homeless(analysis, located)))
        offered.set(each.id, { ...each, diagnostic });
    return [...offered.values()].flatMap(({ id, title, diagnostic }): CodeAction[] => {
      if (id.startsWith('mix:') && !this.isHearable(analysis, id)) return [];
      return [
        {
          title,
          kind: CodeActionKind.QuickFix,
          ...(diagnostic && { diagnostics: [diagnostic] }),
          command: { title, command, arguments: [here, id] },
        },
      ];
    });
  }

  private isHearable(analysis: Analysis, mix: Place): boolean {
    const known = this.hearable.get(analysis) ?? new Map<Place, boolean>();
    this.hearable.set(analysis, known);
    const { checked, document } = analysis;
    const is = known.get(mix) ?? (checked !== undefined && canTry(document) && isHearable(checked, offersOf(this.services, document), mix));
    known.set(mix, is);
    return is;
  }
}

function homeless({ lowered: { rig } }: Analysis, { finding: { code, place, about } }: Located): Homeless[] {
  if (code === 'mixes/not-patched')
    return about
      .flatMap((id) => rig.sources.get(id) ?? [])
      .slice(0, 1)
      .map(({ id, label }) => ({ id, title: `Plan a place for ${label}…` }));
  const mix = code === 'mixes/unheard' ? rig.mixes.get(place) : undefined;
  return mix ? [{ id: mix.id, title: `Plan a way for the mix ${mix.label}…` }] : [];
}
