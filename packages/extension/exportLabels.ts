/** Labels for the leads as a file: on what, of which kind, how written, from which label on. */
import type * as vscode from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { EXPORT_LABELS, EXPORT_LABELS_PDF, type ExportLabels } from '#server/protocol';
import type { LabelStyle } from '#sheets';
import { isOnSheet, LABEL_STOCKS, type LabelStock, type LabelStockId, perPage } from '#sheets/stocks';
import { bytesOf, making, noRig, oneFile, type Source, stemOf, writeAll } from './export';
import { ask, type Questions } from './questions';

const STYLES: readonly (vscode.QuickPickItem & { readonly style: LabelStyle })[] = [
  {
    label: 'Flag',
    detail:
      'Folded round the lead and stuck to itself, the same on both faces. A small label has room for the number, the end and the length alone.',
    style: 'flag',
  },
  { label: 'Plain', detail: 'Lies flat and is read from above.', style: 'plain' },
];

const ANY = { stock: Object.values(LABEL_STOCKS)[0]?.id as LabelStockId, style: 'plain', start: 1, all: true } as const;

const LEADS: readonly (vscode.QuickPickItem & { readonly all: boolean })[] = [
  { label: 'Ours', detail: 'Those that we bring and take home again.', all: false },
  { label: 'All', detail: 'Those that the house brings as well.', all: true },
];

interface Format extends vscode.QuickPickItem {
  readonly ending: 'pdf' | 'html';
}

const HTML: Format = { label: 'HTML', detail: 'A page to print from a browser.', ending: 'html' };
/** Made by the server where it has a machine of its own. */
const PDF: Format = { label: 'PDF', detail: 'Pages exactly as large as the labels’ sheet.', ending: 'pdf' };

export async function exportLabels({ client, rig, pdf }: Source): Promise<void> {
  if (!rig) return noRig();
  const uri = rig.toString();
  // A rig without leads is refused before anything is asked.
  if (!(await making('labels', (token) => made(client, { uri, ...ANY }, HTML, token)))) return;
  const answers = await ask((questions) => answersTo(questions, pdf));
  if (!answers) return;
  const { format, ...options } = answers;
  const bytes = await making('labels', (token) => made(client, { uri, ...options }, format, token));
  if (!bytes) return;
  const name = `labels.${format.ending}`;
  const targets = await oneFile(rig, `${stemOf(rig)}-${name}`, format);
  if (targets) await writeAll(targets, [{ name, bytes }], 'labels', ' Print at 100 %, on plain paper first.');
}

interface Answers {
  readonly stock: LabelStockId;
  readonly style: LabelStyle;
  readonly all: boolean;
  readonly band: string;
  readonly start: number;
  readonly format: Format;
}

/** Nothing where somebody has thought better of it. A question with one answer is not asked. */
async function answersTo(questions: Questions, pdf: boolean): Promise<Answers | undefined> {
  let step = 0;
  let steps = pdf ? 6 : 5;
  const title = () => `Export lead labels, ${++step} of ${steps}`;
  const stocks = Object.values(LABEL_STOCKS).map(({ id, name }) => ({ label: name, id }));
  const stock = await questions.pick(stocks, { title: title(), placeHolder: 'On what are they printed?' });
  if (!stock) return undefined;
  const room = perPage(LABEL_STOCKS[stock.id]);
  // On a roll the next label is always the first.
  if (room === 1) steps--;
  const style = await questions.pick(STYLES, { title: title(), placeHolder: 'Which kind?' });
  if (!style) return undefined;
  const leads = await questions.pick(LEADS, { title: title(), placeHolder: 'For which leads?' });
  if (!leads) return undefined;
  const prompt = 'The band’s name, to stand on each label. Leave it empty for none.';
  const band = await questions.text({ title: title(), prompt, value: '' });
  if (band === undefined) return undefined;
  const format = pdf ? await questions.pick([PDF, HTML], { title: title(), placeHolder: 'As what?' }) : HTML;
  if (!format) return undefined;
  const start = room === 1 ? 1 : await startOn(questions, LABEL_STOCKS[stock.id], title());
  return start === undefined ? undefined : { stock: stock.id, style: style.style, all: leads.all, band, start, format };
}

async function startOn(questions: Questions, stock: LabelStock, title: string): Promise<number | undefined> {
  const room = perPage(stock);
  const typed = await questions.text({
    title,
    prompt: `Which is the first label that is still on the sheet? Row by row, 1 to ${room}.`,
    value: '1',
    wrong: (text) => (isOnSheet(stock, numberIn(text)) ? undefined : `A number from 1 to ${room}: the sheet has so many labels.`),
  });
  return typed === undefined ? undefined : numberIn(typed);
}

function numberIn(text: string): number {
  return /^\s*\d+\s*$/.test(text) ? Number(text) : Number.NaN;
}

async function made(
  client: BaseLanguageClient,
  wanted: ExportLabels,
  { ending }: Format,
  token: vscode.CancellationToken,
): Promise<Uint8Array> {
  if (ending === 'pdf') return bytesOf(await client.sendRequest<string>(EXPORT_LABELS_PDF, wanted, token));
  return new TextEncoder().encode(await client.sendRequest<string>(EXPORT_LABELS, wanted, token));
}
