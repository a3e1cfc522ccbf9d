/** The offset at which the line starts that an offset is in. `lastIndexOf` takes a place before the text for its first letter. */
export function lineStartAt(text: string, offset: number): number {
  return offset <= 0 ? 0 : text.lastIndexOf('\n', offset - 1) + 1;
}
