/** What the extension's host needs to show the preview. Nothing in here runs in the webview. */
export { type PreviewOptions, previewHtml } from './html';
export type { FromPreview, Ticked, ToPreview } from './messages';
