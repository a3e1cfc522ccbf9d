/** The pages that a sheet gets when a browser prints it: how they lie, how close they are set, and what stands at their edge. */
import { sum } from '../shared/columns';
import { nearlyEmpty } from '../shared/extent';
import { graphemes } from '../shared/graphemes';
import { bareWords, type Sheet } from '../sheet';
import { type Closeness, extent, pieces } from './extent';
import { draftWords, fingerprintWords, plain } from './words';

/** On paper, what is wider than a page that stands lies. */
const UPRIGHT_MM = 186;

function isWide({ blocks }: Sheet<string>): boolean {
  return blocks.some((block) => block.kind === 'drawing' && block.drawing.width > UPRIGHT_MM);
}

/** In rows of a table, findings among them, and in mm of what is drawn. */
function takenBy({ blocks }: Sheet<string>): { readonly rows: number; readonly drawn: number } {
  const rows = blocks.flatMap((block) => (block.kind === 'table' ? block.rows.map(({ findings }) => 1 + 2 * findings.length) : []));
  const drawn = blocks.flatMap((block) => (block.kind === 'drawing' ? [Math.min(block.drawing.height, DRAWN_MM)] : []));
  return { rows: sum(rows), drawn: sum(drawn) };
}

/** So high is a drawing on a page with its table at the most, as the style sheet says. */
const DRAWN_MM = 108;
const ROW_MM = 3.6;
/** In rows: more than fits with any white between them. */
const ROOMY = 38;
/** Of a row of one line where there is none, and of what else is on the page. */
const LEAST_ROW_MM = 3;
const BESIDES_MM = 35;
const PAGE_MM = 282;

/** What is meant for one page, how close that has to be set; `over` is what cannot be one, so that it is to be read easily. */
function densityOf(sheet: Sheet<string>): 'open' | 'dense' | 'tight' | 'over' {
  if (!sheet.dense) return 'open';
  const { rows, drawn } = takenBy(sheet);
  if (rows * LEAST_ROW_MM + drawn + BESIDES_MM > PAGE_MM) return 'over';
  return rows + drawn / ROW_MM > ROOMY ? 'tight' : 'dense';
}

/** For the style sheet; what is `bare` has no page in a set. */
export function pageClasses(sheet: Sheet<string>): string[] {
  const density = densityOf(sheet);
  const classes = { dense: sheet.dense, [density]: sheet.dense, bare: bareWords(sheet) !== undefined };
  return Object.entries(classes).flatMap(([name, is]) => (is ? [name] : []));
}

const MARGIN = 10;

/** Above and below, and at the sides. */
function margins(sheet: Sheet<string>): string {
  const density = densityOf(sheet);
  return density === 'tight' ? '7mm 10mm 8mm' : density === 'open' ? `${MARGIN}mm 12mm` : '8mm 10mm';
}

/** Of the style sheet of the page, what hangs on the sheets. In CSS. */
export function pageRules(sheets: readonly Sheet<string>[]): string {
  return `@media print { .sheet { ${properties(OPEN)} } }\n${sheets.map(pageRule).join('')}`;
}

/** Each page says which sheet of which rig it is, and whether it is a draft. It has its number already. */
function pageRule(sheet: Sheet<string>): string {
  const { id, name, title } = sheet;
  const foot = [name, cut(plain(title)), fingerprintWords(sheet)].filter(Boolean).join(' · ');
  const draft = draftWords(sheet);
  return `@page ${id} {
  margin: ${margins(sheet)};${isWide(sheet) ? '\n  size: landscape;' : ''}
  @bottom-left { content: "${quoted(foot)}"; }${draft === undefined ? '' : `\n  @top-left { content: "${quoted(draft)}"; }`}
}
@media print { #${id} { page: ${id}; ${properties(closenessOf(sheet))} } }
`;
}

function properties({ padding, gap, leading }: Closeness): string {
  return `--row: ${padding}mm; --gap: ${gap}mm; --leading: ${leading};`;
}

const OPEN: Closeness = { padding: 0.8, gap: 4, leading: 1.18 };
/** Letters stay as large. */
const CLOSER: readonly Closeness[] = [
  { padding: 0.5, gap: 3, leading: 1.14 },
  { padding: 0.25, gap: 2.2, leading: 1.1 },
];
/** Of the two papers, less the margins: nobody knows here which it will be. */
const ROOMS = [297 - 2 * MARGIN, 279.4 - 2 * MARGIN] as const;

/** Closer only where a last page would have next to nothing on it. */
export function closenessOf(sheet: Sheet<string>): Closeness {
  if (sheet.dense || isWide(sheet)) return OPEN;
  let best = OPEN;
  let least = emptyPages(sheet, OPEN);
  for (const closer of CLOSER) {
    if (least === 0) break;
    const empty = emptyPages(sheet, closer);
    if (empty < least) [best, least] = [closer, empty];
  }
  return best;
}

/** On how many of the papers its last page is nearly empty. */
function emptyPages(sheet: Sheet<string>, closeness: Closeness): number {
  const all = pieces(sheet, closeness);
  return ROOMS.map((room) => extent(all, room)).filter(nearlyEmpty).length;
}

/** Beside the page's number there is room for so much. */
const MOST_LETTERS = 60;

function cut(title: string): string {
  const letters = graphemes(title);
  return letters.length > MOST_LETTERS ? `${letters.slice(0, MOST_LETTERS - 1).join('')}…` : title;
}

/** What somebody wrote can end neither the string nor the style sheet. */
function quoted(text: string): string {
  return text.replace(/[^\p{L}\p{M}\p{N} ]/gu, (each) => `\\${each.codePointAt(0)?.toString(16)} `);
}
