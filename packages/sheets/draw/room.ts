/** Where there is room in a drawing: what is taken, and whether something more fits beside it. */

/** An area on paper, in mm, y down. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Side of the squares by which it is looked up what lies near. */
const CELL_MM = 10;

export class Room {
  private readonly cells = new Map<string, Area[]>();

  constructor(readonly within: Area) {}

  /** Inside, and on nothing that is taken. */
  fits(area: Area): boolean {
    const { within } = this;
    const inside = area.left >= within.left && area.top >= within.top && area.right <= within.right && area.bottom <= within.bottom;
    return inside && !this.near(area).some((taken) => meet(taken, area));
  }

  take(area: Area): void {
    for (const key of cellsOf(area)) {
      const cell = this.cells.get(key);
      if (cell) cell.push(area);
      else this.cells.set(key, [area]);
    }
  }

  /** How many of those taken lie under it. */
  under(area: Area): number {
    return new Set(this.near(area).filter((taken) => meet(taken, area))).size;
  }

  private near(area: Area): Area[] {
    return cellsOf(area).flatMap((key) => this.cells.get(key) ?? []);
  }
}

function meet(a: Area, b: Area): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function cellsOf({ left, top, right, bottom }: Area): string[] {
  const keys: string[] = [];
  for (let x = Math.floor(left / CELL_MM); x <= Math.floor(right / CELL_MM); x++)
    for (let y = Math.floor(top / CELL_MM); y <= Math.floor(bottom / CELL_MM); y++) keys.push(`${x} ${y}`);
  return keys;
}
