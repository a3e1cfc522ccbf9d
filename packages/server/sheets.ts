/** Sends the sheets of the documents that somebody is looking at. */
import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { CancellationToken, type Connection, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Analysis, foundBy, type RigServices } from '#language';
import type { Paper } from '#pdf';
import {
  EXPORT_ENDINGS,
  filesOf,
  type LabelSet,
  type LayOut,
  labelsHtml,
  markChanges,
  oneFileOf,
  SHEET_IDS,
  type Sheet,
  type SheetId,
  type SheetOptions,
  sheetOf,
  sheetsOf,
} from '#sheets';
import { oldName, type Rigs } from './comparing';
import { wantedLabels } from './labels';
import type { Plans } from './planning';
import { PlanWatch } from './planWatch';
import {
  EXPORT,
  EXPORT_LABELS,
  EXPORT_LABELS_PDF,
  EXPORT_PDF,
  type Export,
  type Exported,
  type ExportLabels,
  type ExportPdf,
  type OfDocument,
  SHEETS,
  type Sheets,
  type SheetsUpdate,
  UNWATCH,
  WATCH,
  type Watched,
} from './protocol';
import { settled } from './settled';
import { message, quiet } from './sheetsMessage';
import { sharingSheets, sheetsUpdateOf } from './sheetsUpdate';

/** How what takes time to lay out is laid out for somebody who types. */
interface Pace extends SheetOptions {
  /** It is begun when nobody has typed for so long. */
  readonly quietMs: number;
}

/** Elsewhere, it is in nobody's way. */
const ELSEWHERE: Pace = { quietMs: 250 };
/** On the server's own thread all else waits for it. */
const HERE: Pace = { quietMs: 1000, mostBoxes: 80 };
/** They answer later than the others. */
const LAID_OUT: ReadonlySet<SheetId> = new Set(['signal-flow']);

/** Makes PDF, in base64. */
export interface Printer {
  readonly sheets: (sheets: readonly Sheet[], paper: Paper) => Promise<string>;
  readonly labels: (labels: LabelSet) => Promise<string>;
}

/** Without a printer it makes no PDF; without `layOut` what has to be laid out is laid out on this thread. */
export function sendSheets(
  connection: Connection,
  shared: LangiumSharedServices,
  rig: RigServices,
  rigs: Rigs,
  plans: Plans,
  printer?: Printer,
  layOut?: LayOut,
): void {
  const pace: Pace = layOut ? { ...ELSEWHERE, layOut } : HERE;
  /** By the address that documents are kept under; the client has its own way to write it. */
  const watches = new Map<string, Watch | PlanWatch>();
  const { LangiumDocuments, DocumentBuilder } = shared.workspace;
  const end = (key: string) => {
    watches.get(key)?.end();
    watches.delete(key);
  };
  connection.onNotification(WATCH, (watched: Watched) => {
    const key = UriUtils.normalize(watched.uri);
    end(key);
    const watch = watched.plan
      ? new PlanWatch(connection, rig, plans, watched, pace.quietMs)
      : new Watch(connection, rig, rigs, watched, pace);
    watches.set(key, watch);
    const document = LangiumDocuments.getDocument(URI.parse(watched.uri));
    if (document?.state === DocumentState.Validated) watch.send(document);
  });
  connection.onNotification(UNWATCH, ({ uri }: OfDocument) => end(UriUtils.normalize(uri)));
  const rigOf = async (address: string, token: CancellationToken) => {
    const document = await settled(shared, URI.parse(address), token);
    const analysis = document && rig.rig.Analyser.of(document);
    if (!analysis?.checked) throw new ResponseError(ErrorCodes.InvalidParams, 'This file has no rig of its own.');
    return { checked: analysis.checked, findings: foundBy(analysis) };
  };
  const asked = async ({ uri, sheets }: Pick<Export, 'uri' | 'sheets'>, token: CancellationToken): Promise<Sheet[]> => {
    const { checked, findings } = await rigOf(uri, token);
    const unwanted = new AbortController();
    const cancelled = token.onCancellationRequested(() =>
      unwanted.abort(new ResponseError(LSPErrorCodes.RequestCancelled, 'The sheets are no longer wanted.')),
    );
    try {
      return await sheetsOf(checked, findings, sheets, { layOut, signal: unwanted.signal });
    } finally {
      cancelled.dispose();
    }
  };
  const askedLabels = async (wanted: ExportLabels, token: CancellationToken): Promise<LabelSet> => {
    return wantedLabels((await rigOf(wanted.uri, token)).checked, wanted);
  };
  connection.onRequest(EXPORT, async (wanted: Export, token: CancellationToken): Promise<Exported> => {
    return exported(await asked(wanted, token), wanted);
  });
  connection.onRequest(EXPORT_LABELS, async (wanted: ExportLabels, token: CancellationToken): Promise<string> => {
    const { title, pages } = await askedLabels(wanted, token);
    return labelsHtml(title, wanted.stock, pages);
  });
  if (printer) {
    connection.onRequest(EXPORT_PDF, async (wanted: ExportPdf, token: CancellationToken): Promise<string> => {
      return printer.sheets(await asked(wanted, token), wanted.paper);
    });
    connection.onRequest(EXPORT_LABELS_PDF, async (wanted: ExportLabels, token: CancellationToken): Promise<string> => {
      return printer.labels(await askedLabels(wanted, token));
    });
  }
  DocumentBuilder.onDocumentPhase(DocumentState.Validated, (document) => watches.get(UriUtils.normalize(document.uri))?.send(document));
}

function exported(sheets: readonly Sheet[], { format, together }: Export): Exported {
  const whole = together ? oneFileOf(sheets, format) : undefined;
  if (whole === undefined) return { files: filesOf(sheets, format) };
  const [first, ...more] = sheets;
  return { files: [{ name: `${first && more.length === 0 ? first.id : 'sheets'}${EXPORT_ENDINGS[format]}`, text: whole }] };
}

class Watch {
  private readonly wanted: readonly SheetId[];
  private later: AbortController | undefined;
  /** The other rig, read once: whoever wants it anew watches anew. */
  private old: Promise<Analysis> | undefined;
  private unmarked: string | undefined;
  /** What the client has, where it wants updates. */
  private sent: Sheets | undefined;

  constructor(
    private readonly connection: Connection,
    private readonly rig: RigServices,
    private readonly rigs: Rigs,
    private readonly watched: Watched,
    private readonly pace: Pace,
  ) {
    this.wanted = SHEET_IDS.filter((id) => watched.sheets?.includes(id) ?? true);
  }

  end(): void {
    this.later?.abort();
  }

  send(document: LangiumDocument): void {
    this.end();
    const analysis = this.rig.rig.Analyser.of(document);
    const { version } = document.textDocument;
    const tell = (sheets: readonly Sheet[] | undefined) => {
      const now = { ...message(this.watched.uri, version, analysis, sheets), unmarked: this.unmarked };
      void this.connection.sendNotification(SHEETS, this.watched.updates ? this.update(now) : now);
    };
    if (!analysis.checked) {
      tell(undefined);
      return;
    }
    const later = new AbortController();
    this.later = later;
    const { signal } = later;
    for (const laidOut of [false, true]) {
      if (!this.wanted.some((id) => LAID_OUT.has(id) === laidOut)) continue;
      // What is wrong is told first, and of a text that has changed again nothing is made.
      quiet(laidOut ? this.pace.quietMs : 0, signal)
        .then(() => this.make(analysis, laidOut, signal))
        .then(
          (sheets) => signal.aborted || tell(sheets),
          (problem) => signal.aborted || this.failed(problem),
        );
    }
  }

  private update(now: Sheets): Sheets | SheetsUpdate {
    const before = this.sent;
    this.sent = sharingSheets(before, now);
    return sheetsUpdateOf(before, this.sent) ?? now;
  }

  private async make(analysis: Analysis, laidOut: boolean, signal?: AbortSignal): Promise<Sheet[]> {
    const { checked } = analysis;
    const findings = foundBy(analysis);
    const ids = this.wanted.filter((id) => LAID_OUT.has(id) === laidOut);
    if (!checked) return [];
    const made = await Promise.all(ids.map((id) => sheetOf(id, checked, findings, { ...this.pace, signal })));
    const { against } = this.watched;
    const old = against && (await this.read(against.old));
    if (!against || !old?.checked) return made;
    const { checked: then } = old;
    const olds = await Promise.all(ids.map((id) => sheetOf(id, then, foundBy(old), { ...this.pace, signal })));
    return made.map((sheet, index) => markChanges(sheet, olds[index] ?? sheet, oldName(against.old)));
  }

  /** Sheets come without marks where there is nothing to compare with. */
  private async read(address: string | undefined): Promise<Analysis | undefined> {
    this.old ??= this.rigs.old(this.watched.uri, address, CancellationToken.None);
    return this.old.catch((problem: unknown) => {
      this.unmarked = problem instanceof Error ? problem.message : String(problem);
      return undefined;
    });
  }

  private failed(problem: unknown): void {
    console.error(`Could not make the sheets of ${this.watched.uri}.`, problem);
  }
}
