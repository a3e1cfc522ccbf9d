/** Which unit of length a text is written in. */

/** Comments say what they like. */
const COMMENT = /#.*/g;

/** More of its lengths are in feet than in metres. */
export function isInFeet(...texts: readonly string[]): boolean {
  const many = (unit: string) =>
    texts.reduce((sum, text) => sum + (text.replace(COMMENT, '').match(new RegExp(`\\d\\s*${unit}\\b`, 'g'))?.length ?? 0), 0);
  return many('(?:ft|foot|feet)') > many('m');
}
