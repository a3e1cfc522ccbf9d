/** Labels as a document that stands alone: each page as large as the sheet of labels, to be printed at 100 %. */
import { render } from 'preact-render-to-string';
import { Svg } from '../draw/svg';
import type { LabelPage } from '../labels/pages';
import { LABEL_STOCKS, type LabelStockId } from '../labels/stocks';

/** All that comes from a rig goes through the renderer, which escapes it; the styles are ours. */
export function labelsHtml(title: string, stock: LabelStockId, pages: readonly LabelPage[]): string {
  const { name, page } = LABEL_STOCKS[stock];
  const body = render(
    <main>
      <p class="hint">
        {name}. Print at 100 %, without “fit to page”. Sizes are the usual ones: hold a trial on plain paper against your sheet first.
      </p>
      {pages.map(({ drawing, description }, index) => (
        <section key={index}>
          <Svg drawing={drawing} description={description} />
        </section>
      ))}
    </main>,
  );
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
${render(<title>{`${title}: labels`}</title>)}
<style>
:root { color-scheme: light; --ink: #000; --muted: #3c444a; --line: #87929a; --accent: #000; --tint: #fff; --paper: #fff; --warning: #000; --danger: #000;
  --sans: system-ui, "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; }
@page { size: ${page.width}mm ${page.height}mm; margin: 0; }
body { margin: 0; background: #fff; color: #000; font-family: var(--sans); }
.hint { margin: 6mm; font-size: 10pt; }
section { width: ${page.width}mm; height: ${page.height}mm; overflow: hidden; break-after: page; }
section:last-child { break-after: auto; }
svg { display: block; width: ${page.width}mm; height: ${page.height}mm; }
@media screen { section { margin: 0 6mm 6mm; outline: 0.2mm solid #b8c0c5; } }
@media print { .hint { display: none; } }
</style>
</head>
<body>
${body}
</body>
</html>
`;
}
