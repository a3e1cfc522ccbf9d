/** What the signs in a drawing mean: a sample and its words, one after another, in as many lines as they take. */
import type { Shape } from '../drawing';
import { widthOf, words } from './words';

export interface Sign {
  /** The sample, in a field `SAMPLE_MM` wide from x on, with its middle at y. */
  sample(x: number, y: number): readonly Shape[];
  readonly text: string;
}

export const SAMPLE_MM = 9;
const SIZE = 2.4;
const LINE_MM = 4.6;
const GAP_MM = 5;

/** `height` is what it takes from `top` on, in mm. */
export function legend(
  signs: readonly Sign[],
  at: { readonly x: number; readonly top: number; readonly width: number },
): { shapes: Shape[]; height: number } {
  const shapes: Shape[] = [];
  let x = at.x;
  let line = 0;
  for (const { sample, text } of signs) {
    const wide = SAMPLE_MM + 1.5 + widthOf(text, SIZE);
    if (x > at.x && x + wide > at.x + at.width) {
      x = at.x;
      line += 1;
    }
    const y = at.top + line * LINE_MM + LINE_MM / 2;
    const left = x + SAMPLE_MM + 1.5;
    shapes.push(...sample(x, y), words(text, { x: left, y: y + SIZE * 0.35, size: SIZE, width: at.x + at.width - left, role: 'muted' }));
    x += wide + GAP_MM;
  }
  return { shapes, height: signs.length === 0 ? 0 : (line + 1) * LINE_MM };
}
