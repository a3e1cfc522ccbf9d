/** Plans a rig for a client that asks: by a thread of its own where there can be one. */
import { type LangiumDocument, URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { type CancellationToken, type Connection, ErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Analysis, offersOf, type RigServices, unreadIn, writePlan } from '#language';
import { changeText } from '#plan';
import { renderSheet } from '#sheets';
import type { PlanMade, PlanWork } from './planHere';
import { PLAN, PLAN_PROGRESS, type Planned, type PlanWanted } from './protocol';
import { settled } from './settled';

/** `told` is how far it is, from 0 to 1. Rejects where the signal says that nobody waits. */
export type Planner = (work: PlanWork, signal: AbortSignal, told: (done: number) => void) => Promise<PlanMade>;

export interface PlanAsked {
  /** What is written is thought over, too. */
  readonly afresh?: boolean;
  /** Names of gear that is not there. */
  readonly without?: readonly string[];
}

/** Makes plans of rigs that have been analysed, and keeps of each the plain one: it is looked at as a sheet, and then written. */
export class Plans {
  private readonly made = new WeakMap<Analysis, PlanMade>();
  private readonly last = new WeakMap<LangiumDocument, PlanMade>();

  constructor(
    private readonly rig: RigServices,
    private readonly planner: Planner,
  ) {}

  /** The plain one, where it has been made already. */
  known(analysis: Analysis): PlanMade | undefined {
    return this.made.get(analysis);
  }

  /** The last plain one of a document, of whatever text that was. */
  latest(document: LangiumDocument): PlanMade | undefined {
    return this.last.get(document);
  }

  async make(analysis: Analysis, { afresh, without }: PlanAsked, signal: AbortSignal, told: (done: number) => void): Promise<PlanMade> {
    const isPlain = !afresh && !without?.length;
    const known = isPlain ? this.known(analysis) : undefined;
    if (known) return known;
    const work = { rig: analysis.lowered.rig, ...offersOf(this.rig, analysis.document), unread: unreadIn(analysis), afresh, without };
    const made = await this.planner(work, signal, told);
    if (isPlain) {
      this.made.set(analysis, made);
      this.last.set(analysis.document, made);
    }
    return made;
  }
}

export function answerPlans(connection: Connection, shared: LangiumSharedServices, rig: RigServices, plans: Plans): void {
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
    const end = new AbortController();
    token.onCancellationRequested(() => end.abort());
    const made = await plans.make(analysis, { afresh, without }, end.signal, (done) => {
      void connection.sendNotification(PLAN_PROGRESS, { uri: address, done });
    });
    const written = writePlan(analysis, made.changes);
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
                about: each.change.about,
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
