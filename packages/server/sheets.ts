/** Sends the sheets of the documents that somebody is looking at. */
import { DocumentState, type LangiumDocument, URI, UriUtils } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import { type CancellationToken, type Connection, ErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Analysis, RigServices } from '#language';
import type { Paper } from '#pdf';
import { EXPORT_ENDINGS, filesOf, oneFileOf, placesOf, SHEET_IDS, type Sheet, type SheetId, sheetOf, sheetsOf } from '#sheets';
import {
  EXPORT,
  EXPORT_PDF,
  type Export,
  type Exported,
  type ExportPdf,
  type OfDocument,
  SHEETS,
  type Sheets,
  type Spot,
  UNWATCH,
  WATCH,
  type Watched,
} from './protocol';

/** What takes time to lay out is begun when nobody has typed for so long, in ms: the layout keeps all else waiting. */
const QUIET_MS = 250;
/** They answer later than the others. */
const LAID_OUT: ReadonlySet<SheetId> = new Set(['signal-flow']);

/** Makes a PDF of sheets, in base64. */
export type Printer = (sheets: readonly Sheet[], paper: Paper) => Promise<string>;

/** Without a printer it makes no PDF. */
export function sendSheets(connection: Connection, shared: LangiumSharedServices, rig: RigServices, printer?: Printer): void {
  /** By the address that documents are kept under; the client has its own way to write it. */
  const watches = new Map<string, Watch>();
  const { LangiumDocuments, DocumentBuilder } = shared.workspace;
  const end = (key: string) => {
    watches.get(key)?.end();
    watches.delete(key);
  };
  connection.onNotification(WATCH, (watched: Watched) => {
    const key = UriUtils.normalize(watched.uri);
    end(key);
    const watch = new Watch(connection, rig, watched);
    watches.set(key, watch);
    const document = LangiumDocuments.getDocument(URI.parse(watched.uri));
    if (document?.state === DocumentState.Validated) watch.send(document);
  });
  connection.onNotification(UNWATCH, ({ uri }: OfDocument) => end(UriUtils.normalize(uri)));
  const asked = async ({ uri: address, sheets }: Pick<Export, 'uri' | 'sheets'>, token: CancellationToken): Promise<Sheet[]> => {
    const uri = URI.parse(address);
    await DocumentBuilder.waitUntil(DocumentState.Validated, uri, token);
    const document = LangiumDocuments.getDocument(uri);
    const { checked, located } = document ? rig.rig.Analyser.of(document) : { checked: undefined, located: [] };
    if (!checked) throw new ResponseError(ErrorCodes.InvalidParams, 'This file has no rig of its own.');
    const findings = located.map(({ finding }) => finding);
    return sheetsOf(checked, findings, sheets);
  };
  connection.onRequest(EXPORT, async (wanted: Export, token: CancellationToken): Promise<Exported> => {
    return exported(await asked(wanted, token), wanted);
  });
  if (printer) {
    connection.onRequest(EXPORT_PDF, async (wanted: ExportPdf, token: CancellationToken): Promise<string> => {
      return printer(await asked(wanted, token), wanted.paper);
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

  constructor(
    private readonly connection: Connection,
    private readonly rig: RigServices,
    private readonly watched: Watched,
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
      void this.connection.sendNotification(SHEETS, message(this.watched.uri, version, analysis, sheets));
    };
    if (!analysis.checked) {
      tell(undefined);
      return;
    }
    this.make(analysis, false).then(
      (sheets) => sheets.length > 0 && tell(sheets),
      (problem) => this.failed(problem),
    );
    if (!this.wanted.some((id) => LAID_OUT.has(id))) return;
    const later = new AbortController();
    this.later = later;
    quiet(later.signal)
      .then(() => this.make(analysis, true, later.signal))
      .then(
        (sheets) => !later.signal.aborted && tell(sheets),
        (problem) => later.signal.aborted || this.failed(problem),
      );
  }

  private async make({ checked, located }: Analysis, laidOut: boolean, signal?: AbortSignal): Promise<Sheet[]> {
    const findings = located.map(({ finding }) => finding);
    const ids = this.wanted.filter((id) => LAID_OUT.has(id) === laidOut);
    return checked ? Promise.all(ids.map((id) => sheetOf(id, checked, findings, { signal }))) : [];
  }

  private failed(problem: unknown): void {
    console.error(`Could not make the sheets of ${this.watched.uri}.`, problem);
  }
}

/** Resolves after a while without a word from the signal; never after one. */
function quiet(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, QUIET_MS);
    signal.addEventListener('abort', () => clearTimeout(timer), { once: true });
  });
}

function message(uri: string, version: number, { document, checked, spotOf }: Analysis, sheets: readonly Sheet[] | undefined): Sheets {
  const spots: Record<string, Spot> = {};
  for (const sheet of sheets ?? []) {
    for (const place of placesOf(sheet)) {
      const spot = spots[place] ? undefined : spotOf(place);
      if (spot) spots[place] = spot;
    }
  }
  const title = checked ? (checked.rig.label ?? sheets?.[0]?.title) : undefined;
  return { uri, version, title: title ?? UriUtils.basename(document.uri), sheets, spots };
}
