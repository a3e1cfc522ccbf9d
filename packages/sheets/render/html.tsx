/** A document that stands alone: nothing to load, fit for printing, and no script but the one that keeps what is ticked, where there is anything to tick. */
import type { ComponentChild } from 'preact';
import { render } from 'preact-render-to-string';
import { bound } from '../shared/bound';
import { CONTENTS } from '../shared/titles';
import { bareWords, type Sheet as SheetData } from '../sheet';
import { AnyBlock, allBoxes, Draft, Head, Sheet } from './components';
import * as keepTicks from './keepTicks.ts?script';
import { pageRules } from './pages';
import paper from './paper.css';
import style from './sheet.css';

/** One sheet is a page of its own; several begin with a list of them. */
export function html(sheets: readonly SheetData<string>[]): string {
  const [first] = sheets;
  const title = first?.title ?? '';
  if (first && sheets.length === 1) return page(`${title}: ${first.name.toLowerCase()}`, <Sheet sheet={first} />, sheets);
  const set = bound(sheets);
  return page(
    `${title}: sheets`,
    <>
      <div class="sheet contents">
        {first && <Draft sheet={first} />}
        {first && <Head sheet={{ ...first, name: CONTENTS, counts: sheets.find(({ counts }) => counts)?.counts }} />}
        <nav aria-label="Sheets">
          <ul>
            {sheets.map((sheet) => (
              <li key={sheet.id}>
                <a href={`#${sheet.id}`}>{sheet.name}</a> <span class="empty">{bareWords(sheet)}</span>
              </li>
            ))}
          </ul>
        </nav>
        {set.cautions && <AnyBlock block={set.cautions} id="contents-cautions" />}
      </div>
      {set.sheets.map((sheet) => (
        <Sheet key={sheet.id} sheet={sheet} />
      ))}
    </>,
    set.sheets,
  );
}

function keepsTicks(sheets: readonly SheetData<string>[]): boolean {
  return sheets.some((sheet) => sheet.fingerprint !== undefined && allBoxes(sheet).length > 0);
}

/** All that comes from a rig goes through the renderer, which escapes it; the styles and the script are ours. */
function page(title: string, body: ComponentChild, sheets: readonly SheetData<string>[]): string {
  const scripted = keepsTicks(sheets);
  const policy = `default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'${scripted ? `; script-src '${keepTicks.hash}'` : ''}`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
${render(<title>{title}</title>)}
<style>
${style}${paper}${pageRules(sheets)}</style>
</head>
<body>
${render(<main>{body}</main>)}
${scripted ? `<script>${keepTicks.text}</script>\n` : ''}</body>
</html>
`;
}
