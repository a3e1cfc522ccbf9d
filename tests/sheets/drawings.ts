/** What has to hold of any drawing: everything inside its frame, words that fit and lie on no other words, no figure missing. */

import { widthOf } from '../../packages/sheets/draw/words';
import type { Drawing, Shape, Words } from '../../packages/sheets/drawing';

export interface Bounds {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Letters reach about this far above and below their base line, in parts of their size (DejaVu Sans: 0.76 and 0.24). */
const ABOVE = 0.76;
const BELOW = 0.24;
/** Millimetres that rounding may bring. */
const HAIR = 0.01;

/** All that is wrong with a drawing, a sentence each; nothing where all is well. Strokes are taken to have no width. */
export function troubles({ width, height, shapes }: Drawing): string[] {
  const found: string[] = [];
  if (!(Number.isFinite(width) && Number.isFinite(height) && width > 0 && height > 0)) found.push(`it is ${width} by ${height}`);
  for (const shape of shapes) {
    const { left, top, right, bottom } = boundsOf(shape);
    if (![left, top, right, bottom].every(Number.isFinite)) found.push(`${named(shape)} is nowhere: ${JSON.stringify(shape)}`);
    else if (left < -HAIR || top < -HAIR || right > width + HAIR || bottom > height + HAIR)
      found.push(`${named(shape)} leaves the frame of ${width} by ${height}: ${[left, top, right, bottom].map(tenth).join(', ')}`);
    if (shape.kind === 'box' && !(shape.width >= 0 && shape.height >= 0)) found.push(`${named(shape)} is inside out`);
    if (shape.kind === 'words' && widthOf(shape.text, shape.size, shape.bold) > shape.width + HAIR)
      found.push(`${named(shape)} takes more than its ${tenth(shape.width)} mm`);
  }
  const all = shapes
    .filter((shape) => shape.kind === 'words')
    .filter(({ text }) => text.trim() !== '')
    .map((word) => ({ word, box: boundsOf(word) }));
  all.forEach((one, index) => {
    for (const other of all.slice(index + 1)) {
      if (overlap(one.box, other.box)) found.push(`${named(one.word)} and ${named(other.word)} lie on each other`);
    }
  });
  return found;
}

export function boundsOf(shape: Shape): Bounds {
  switch (shape.kind) {
    case 'box':
      return { left: shape.x, top: shape.y, right: shape.x + shape.width, bottom: shape.y + shape.height };
    case 'dot':
      return { left: shape.x - shape.radius, top: shape.y - shape.radius, right: shape.x + shape.radius, bottom: shape.y + shape.radius };
    case 'path': {
      const xs = shape.points.map(([x]) => x);
      const ys = shape.points.map(([, y]) => y);
      return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
    }
    case 'words':
      return wordsBounds(shape);
  }
}

function wordsBounds({ x, y, text, size, bold, anchor }: Words): Bounds {
  const wide = widthOf(text, size, bold);
  const left = anchor === 'end' ? x - wide : anchor === 'middle' ? x - wide / 2 : x;
  return { left, top: y - ABOVE * size, right: left + wide, bottom: y + BELOW * size };
}

export function overlap(a: Bounds, b: Bounds): boolean {
  return a.left < b.right - HAIR && b.left < a.right - HAIR && a.top < b.bottom - HAIR && b.top < a.bottom - HAIR;
}

function named(shape: Shape): string {
  return shape.kind === 'words' ? `"${shape.text}"` : `a ${shape.kind}${shape.label ? ` (${shape.label})` : ''}`;
}

function tenth(value: number): string {
  return value.toFixed(1);
}
