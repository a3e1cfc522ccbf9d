/** Plans a rig for a client that asks: by a thread of its own where there can be one. */
import { URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { type CancellationToken, type Connection, ErrorCodes, ResponseError } from 'vscode-languageserver';
import { offersOf, type RigServices, unreadIn, writePlan } from '#language';
import { changeText } from '#plan';
import { renderSheet } from '#sheets';
import type { PlanMade, PlanWork } from './planHere';
import { PLAN, PLAN_PROGRESS, type Planned, type PlanWanted } from './protocol';
import { settled } from './settled';

/** `told` is how far it is, from 0 to 1. Rejects where the signal says that nobody waits. */
export type Planner = (work: PlanWork, signal: AbortSignal, told: (done: number) => void) => Promise<PlanMade>;

export function answerPlans(connection: Connection, shared: LangiumSharedServices, rig: RigServices, planner: Planner): void {
  connection.onRequest(PLAN, async ({ uri: address, afresh, without }: PlanWanted, token: CancellationToken): Promise<Planned> => {
    const document = await settled(shared, URI.parse(address), token);
    const analysis = document && rig.rig.Analyser.of(document);
    if (!document || !analysis?.checked) {
      throw new ResponseError(
        ErrorCodes.InvalidParams,
        'There is no rig in this file yet: it only lends its gear to others, or nothing is written.',
      );
    }
    const { version } = document.textDocument;
    const { offers, invented } = offersOf(rig, document);
    const end = new AbortController();
    token.onCancellationRequested(() => end.abort());
    const made = await planner(
      { rig: analysis.lowered.rig, offers, invented, unread: unreadIn(analysis), afresh, without },
      end.signal,
      (done) => {
        void connection.sendNotification(PLAN_PROGRESS, { uri: address, done });
      },
    );
    const written = writePlan(analysis, made.changes);
    const names = analysis.lowered.rig.sources;
    return {
      uri: address,
      version,
      summary: made.summary,
      page: renderSheet(made.sheet, 'markdown'),
      changes: written.flatMap((each) =>
        each
          ? [
              {
                uri: each.uri,
                edits: each.edits,
                opening: each.opening,
                says: changeText(analysis.lowered.rig, each.change.fix),
                about: names.get(each.change.about)?.name,
                needs: each.change.needs,
                brings: each.change.fix.kind === 'add-gear' ? each.change.fix.name : undefined,
              },
            ]
          : [],
      ),
      unwritten: written.filter((each) => each === undefined).length,
    };
  });
}
