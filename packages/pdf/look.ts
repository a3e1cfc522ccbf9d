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

/** How much white there is between things, from much to hardly any; the letters are as large. */
export type Density = 'open' | 'close' | 'dense' | 'tight';

/** Read easily, and nothing in a table is smaller. */
const LEAST = 7.5;

const DENSITIES: Readonly<Record<Density, Omit<Look, 'text'>>> = {
  open: { title: 17, heading: 11, small: LEAST, padding: 3.2, between: 8.5, gap: 15, beside: 2, runIn: false },
  close: { title: 17, heading: 11, small: LEAST, padding: 1.8, between: 7, gap: 10, beside: 2, runIn: false },
  dense: { title: 14, heading: 10, small: 8, padding: 0.8, between: 5, gap: 5, beside: 3, runIn: false },
  tight: { title: 11, heading: 9, small: 8, padding: 0, between: 4, gap: 1.5, beside: 4, runIn: true },
};

export function look(scale: number, density: Density = 'open'): Look {
  const whole = DENSITIES[density];
  return {
    ...whole,
    title: whole.title * scale,
    heading: whole.heading * scale,
    text: 8.5 * scale,
    // On a page that is set smaller, the small letters stay as they are.
    small: Math.max(LEAST, whole.small * scale),
    padding: (density === 'dense' && scale < 0.9 ? 0.4 : whole.padding) * scale,
    between: whole.between * scale,
    gap: whole.gap * scale,
  };
}
