/**
 * A picture as plain data. Lengths are millimetres on paper, x to the right, y down; nothing lies outside `width` by `height`.
 * Colours are roles, given by whoever shows it; no meaning rests on colour alone.
 */
import type { Place } from '#rig';

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly Shape[];
}

/** `ink` for what is read, `muted` for what stands behind, `line` for rules and frames, `accent` for what it is about, `paper` for what covers. */
export type Role = 'ink' | 'muted' | 'line' | 'accent' | 'tint' | 'paper' | 'warning' | 'danger';

interface Drawn {
  /** The statement that it stands for: a click goes there, and the cursor there lights it. */
  readonly place?: Place;
  /** What it is, for a pointer that rests on it and for a screen reader. */
  readonly label?: string;
}

export type Shape = Box | Path | Dot | Words;

export interface Box extends Drawn {
  readonly kind: 'box';
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Of the corners. */
  readonly radius?: number;
  readonly fill?: Role;
  readonly stroke?: Role;
  readonly strokeWidth?: number;
  readonly dashed?: boolean;
}

/** A line through points; closed and filled where it says so. */
export interface Path extends Drawn {
  readonly kind: 'path';
  readonly points: readonly (readonly [number, number])[];
  readonly closed?: boolean;
  readonly fill?: Role;
  readonly stroke?: Role;
  readonly strokeWidth?: number;
  readonly dashed?: boolean;
  /** An arrow's head at its last point. */
  readonly arrow?: boolean;
}

export interface Dot extends Drawn {
  readonly kind: 'dot';
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  readonly fill?: Role;
  readonly stroke?: Role;
  readonly strokeWidth?: number;
}

/** One line of words. `y` is its base line. It takes no more than `width`, for which it was made to fit. */
export interface Words extends Drawn {
  readonly kind: 'words';
  readonly x: number;
  readonly y: number;
  readonly text: string;
  /** Of the letters, in mm: 2.6 is small, 3.2 is usual. */
  readonly size: number;
  readonly width: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly role?: Role;
  readonly bold?: boolean;
}
