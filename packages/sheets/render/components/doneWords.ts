/** What is said of a sheet's boxes, by the preview and by a page that stands alone. */
export function doneWords(done: number, of: number): string {
  return `${done} of ${of} done`;
}

export function clearWords(done: number): string {
  return `Clear ${done === 1 ? 'the tick' : `all ${done} ticks`} on this sheet?`;
}

export const NOT_KEPT = 'Keep this page open: this browser does not keep ticks.';
