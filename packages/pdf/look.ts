/** How sheets look on paper: clear in black and white, one accent. Contrast on white (WCAG 2): accent 5.2, muted 6.4, lines 3.2. */
export const INK = '#16191c';
export const MUTED = '#4a5560';
export const LINE = '#87929a';
export const ACCENT = '#0f7b6c';

/** Sizes in points, all of them times `scale`. */
export interface Look {
  readonly title: number;
  readonly heading: number;
  readonly text: number;
  readonly small: number;
  /** Above and below what stands in a row. */
  readonly padding: number;
  /** Between columns of a table. */
  readonly between: number;
  /** Above a block. */
  readonly gap: number;
  /** Of cautions and of lines to fill in, beside each other. */
  readonly beside: 2 | 3 | 4;
  /** Cautions are lines over the whole width, each behind its subject. */
  readonly runIn: boolean;
}

/** On a `dense` sheet there is less white between things; the letters are as large. On a `tight` one there is hardly any. */
export function look(scale: number, dense = false, tight = false): Look {
  const [padding, gap] = tight ? [0, 1.5] : dense ? [scale < 0.9 ? 0.4 : 0.8, 5] : [3.2, 15];
  return {
    title: (tight ? 11 : dense ? 14 : 17) * scale,
    heading: (tight ? 9 : dense ? 10 : 11) * scale,
    text: 8.5 * scale,
    // On a page that is set smaller, the small letters stay as they are.
    small: dense ? Math.max(7.5, 8 * scale) : 7.5 * scale,
    padding: padding * scale,
    between: (tight ? 4 : dense ? 5 : 8.5) * scale,
    gap: gap * scale,
    beside: tight ? 4 : dense ? 3 : 2,
    runIn: tight,
  };
}
