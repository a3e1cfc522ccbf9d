/** What each code means, one click away from where it is shown: its page, with an example of the mistake and of its cure. */
import * as vscode from 'vscode';
import { explanation, withMistake } from '#language/explanation';
import { LANGUAGE } from './language';

const SCHEME = 'earloom-explains';

/** Makes the code of a diagnostic a link to its page. */
export function explained(diagnostic: vscode.Diagnostic): vscode.Diagnostic {
  const { code } = diagnostic;
  if (typeof code === 'string')
    diagnostic.code = {
      value: code,
      target: vscode.Uri.from({ scheme: 'command', path: 'earloom.explain', query: JSON.stringify([code]) }),
    };
  return diagnostic;
}

export class Explanations implements vscode.TextDocumentContentProvider, vscode.Disposable {
  private readonly registration = vscode.workspace.registerTextDocumentContentProvider(SCHEME, this);
  private reading: Promise<Readonly<Record<string, string>>> | undefined;

  constructor(private readonly extensionUri: vscode.Uri) {}

  /** Shows the page of this code, or else of one that is picked. */
  async open(code?: string): Promise<void> {
    const examples = await this.examples();
    const picked = typeof code === 'string' ? code : await pick(examples);
    if (picked === undefined) return;
    if (!examples[picked]) {
      void vscode.window.showInformationMessage(`There is no page about "${picked}".`);
      return;
    }
    // The tab is called by the end of the path.
    const page = vscode.Uri.from({ scheme: SCHEME, path: `/${picked.replaceAll('/', '-')}.md`, query: picked });
    await showPage(page);
  }

  /** A rig of nobody's with this mistake in it, to be mended. It is always there. */
  async tryOut(code: string): Promise<true> {
    const content = withMistake((await this.examples())[code] ?? '');
    await vscode.window.showTextDocument(await vscode.workspace.openTextDocument({ language: LANGUAGE, content }));
    return true;
  }

  async provideTextDocumentContent({ query: code }: vscode.Uri): Promise<string | undefined> {
    const example = (await this.examples())[code];
    return example && explanation(code, example);
  }

  dispose(): void {
    this.registration.dispose();
  }

  /** The examples by their codes, read when somebody first asks. */
  private examples(): Promise<Readonly<Record<string, string>>> {
    this.reading ??= Promise.resolve(
      vscode.workspace.fs.readFile(vscode.Uri.joinPath(this.extensionUri, 'dist', 'mistakes.json')).then((bytes) => {
        return JSON.parse(new TextDecoder().decode(bytes)) as Record<string, string>;
      }),
    );
    return this.reading;
  }
}

/** A page in Markdown, rendered. */
export async function showPage(page: vscode.Uri): Promise<void> {
  // Beside the text; where something is there already, such as the sheets, that is not covered.
  const alone = vscode.window.tabGroups.all.length === 1;
  // Where the editor has no preview of Markdown, its text is readable enough.
  await vscode.commands
    .executeCommand(alone ? 'markdown.showPreviewToSide' : 'markdown.showPreview', page)
    .then(undefined, () => vscode.window.showTextDocument(page, { viewColumn: alone ? vscode.ViewColumn.Beside : textColumn() }));
}

function textColumn(): vscode.ViewColumn {
  return (vscode.window.activeTextEditor ?? vscode.window.visibleTextEditors[0])?.viewColumn ?? vscode.ViewColumn.One;
}

/** Those of the text that is open come first. */
async function pick(examples: Readonly<Record<string, string>>): Promise<string | undefined> {
  const open = vscode.window.activeTextEditor?.document.uri;
  const here = (open ? vscode.languages.getDiagnostics(open) : []).flatMap(({ code }) =>
    typeof code === 'object' ? String(code.value) : [],
  );
  const codes = new Set([...here.filter((code) => examples[code]), ...Object.keys(examples).sort()]);
  const items = [...codes].map((label) => ({ label, description: examples[label]?.match(/^# (.*)/)?.[1] }));
  const options = { placeHolder: 'Which mistake?', matchOnDescription: true, ignoreFocusOut: true };
  return (await vscode.window.showQuickPick(items, options))?.label;
}
