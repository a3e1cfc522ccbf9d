/** Sends the plan of a document that somebody is looking at: anew when nobody has typed for a while, and until then the last one, said to be of an earlier text. */
import type { LangiumDocument } from 'langium';
import type { Connection } from 'vscode-languageserver';
import type { Analysis, RigServices } from '#language';
import type { Sheet } from '#sheets';
import type { Plans } from './planning';
import { SHEETS, type Sheets, type Watched } from './protocol';
import { message, quiet } from './sheetsMessage';

export class PlanWatch {
  private making: AbortController | undefined;

  constructor(
    private readonly connection: Connection,
    private readonly rig: RigServices,
    private readonly plans: Plans,
    private readonly watched: Watched,
    private readonly quietMs: number,
  ) {}

  end(): void {
    this.making?.abort();
  }

  send(document: LangiumDocument): void {
    this.end();
    const analysis = this.rig.rig.Analyser.of(document);
    if (!analysis.checked) return this.tell(analysis);
    const known = this.plans.known(analysis);
    if (known) return this.tell(analysis, known.sheet);
    this.tell(analysis, this.plans.latest(document)?.sheet, { making: true });
    const making = new AbortController();
    this.making = making;
    quiet(this.quietMs, making.signal)
      .then(() => this.plans.make(analysis, {}, making.signal, () => undefined))
      .then(
        ({ sheet }) => making.signal.aborted || this.tell(analysis, sheet),
        (problem) => making.signal.aborted || this.failed(analysis, problem),
      );
  }

  private tell(analysis: Analysis, sheet?: Sheet<'plan'>, plan: Sheets['plan'] = { making: false }): void {
    const sheets = analysis.checked && (sheet ? [sheet] : []);
    const { version } = analysis.document.textDocument;
    void this.connection.sendNotification(SHEETS, { ...message(this.watched.uri, version, analysis, sheets), plan });
  }

  private failed(analysis: Analysis, problem: unknown): void {
    this.tell(analysis, undefined, { making: false, problem: problem instanceof Error ? problem.message : String(problem) });
  }
}
