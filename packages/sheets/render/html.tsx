/** A document that stands alone: no script, nothing to load, and fit for printing. */
import type { ComponentChild } from 'preact';
import { render } from 'preact-render-to-string';
import { bound } from '../shared/bound';
import type { Sheet as SheetData } from '../sheet';
import { AnyBlock, Sheet } from './components';
import paper from './paper.css';
import style from './sheet.css';

/** One sheet is a page of its own; several begin with a list of them. */
export function html(sheets: readonly SheetData<string>[]): string {
  const [first] = sheets;
  const title = first?.title ?? '';
  if (first && sheets.length === 1) return page(`${title}: ${first.name.toLowerCase()}`, <Sheet sheet={first} />);
  const set = bound(sheets);
  return page(
    `${title}: sheets`,
    <>
      <header class="sheet contents">
        <h1>
          <span class="sheet-title">{title}</span>
        </h1>
        <nav aria-label="Sheets">
          <ol>
            {sheets.map(({ id, name }) => (
              <li key={id}>
                <a href={`#${id}`}>{name}</a>
              </li>
            ))}
          </ol>
        </nav>
        {set.cautions && <AnyBlock block={set.cautions} id="contents-cautions" />}
      </header>
      {set.sheets.map((sheet) => (
        <Sheet key={sheet.id} sheet={sheet} />
      ))}
    </>,
  );
}

/** All that comes from a rig goes through the renderer, which escapes it; the styles are ours. */
function page(title: string, body: ComponentChild): string {
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
${render(<title>{title}</title>)}
<style>
${style}${paper}</style>
</head>
<body>
${render(<main>{body}</main>)}
</body>
</html>
`;
}
