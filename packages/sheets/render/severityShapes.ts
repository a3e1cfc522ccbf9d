/** An eight-sided sign, a crossed disc, a triangle, a ring: told apart without colour. Paths in a square of 16, filled by the even-odd rule. */
import type { Severity } from '#engine';

export const SEVERITY_SHAPES: Readonly<Record<Severity, string>> = {
  danger: 'M5 .8h6L15.2 5v6L11 15.2H5L.8 11V5zM7 3.5l.3 6h1.4l.3-6zm1 7.3a1 1 0 1 0 0 2 1 1 0 0 0 0-2z',
  error: 'M8 1a7 7 0 1 0 0 14A7 7 0 0 0 8 1zM5.6 4.5 8 6.9l2.4-2.4 1.1 1.1L9.1 8l2.4 2.4-1.1 1.1L8 9.1l-2.4 2.4-1.1-1.1L6.9 8 4.5 5.6z',
  warning: 'M8 1.2 15.5 14.5H.5zM7.2 6l.2 4.2h1.2L8.8 6zm.8 5.1a.9.9 0 1 0 0 1.8.9.9 0 0 0 0-1.8z',
  note: 'M8 1a7 7 0 1 0 0 14A7 7 0 0 0 8 1zm0 1.5a5.5 5.5 0 1 1 0 11 5.5 5.5 0 0 1 0-11zM7.3 7h1.4v4.5H7.3zM8 4.3a.9.9 0 1 0 0 1.8.9.9 0 0 0 0-1.8z',
};
