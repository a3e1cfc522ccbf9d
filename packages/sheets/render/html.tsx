/** A document that stands alone: no script, nothing to load, and fit for printing. */
import { render } from 'preact-render-to-string';
import type { PatchList } from '../model';
import { Sheet } from './components';
import paper from './paper.css';
import sheet from './sheet.css';
import { SHEET_NAME } from './words';

/** All that comes from a rig goes through the renderer, which escapes it; the styles are ours. */
export function html(list: PatchList): string {
  const title = render(<title>{`${list.title}: ${SHEET_NAME.toLowerCase()}`}</title>);
  const body = render(<Sheet list={list} />);
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
${title}
<style>
${sheet}${paper}</style>
</head>
<body>
${body}
</body>
</html>
`;
}
