/** The page that the webview loads: no script but ours, no style but ours, nothing from the network. */
export interface PreviewOptions {
  /** As the webview can load it: `dist/preview.js`. */
  readonly scriptUri: string;
  /** As the webview can load it: `dist/preview.css`. */
  readonly styleUri: string;
  /** `webview.cspSource`. */
  readonly cspSource: string;
  /** Fresh for each page, letters and digits. */
  readonly nonce: string;
  readonly title: string;
}

/** The document for `webview.html`. Everything that is put into it is escaped. */
export function previewHtml({ scriptUri, styleUri, cspSource, nonce, title }: PreviewOptions): string {
  const policy = `default-src 'none'; style-src ${cspSource}; script-src 'nonce-${nonce}'; base-uri 'none'; form-action 'none'`;
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escaped(title)}</title>
<link rel="stylesheet" href="${escaped(styleUri)}">
</head>
<body>
<main id="sheets"></main>
<script nonce="${escaped(nonce)}" src="${escaped(scriptUri)}"></script>
</body>
</html>
`;
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;').replaceAll("'", '&#39;');
}
