/** Where there is room in a drawing: what is taken, and whether something more fits beside it. */

/** An area on paper, in mm, y down. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Side of the squares by which it is looked up what lies near. */
const CELL_MM = 8;

export class Room {
  private readonly columns: number;
  private readonly cells: Area[][];

  constructor(readonly within: Area) {
    this.columns = Math.ceil((within.right - within.left) / CELL_MM) + 1;
    const rows = Math.ceil((within.bottom - within.top) / CELL_MM) + 1;
    this.cells = Array.from({ length: this.columns * rows }, () => []);
  }

  /** Inside, and on nothing that is taken. */
  fits(area: Area): boolean {
    const { within } = this;
    if (area.left < within.left || area.top < within.top || area.right > within.right || area.bottom > within.bottom) return false;
    return !this.someCell(area, (cell) => cell.some((taken) => meet(taken, area)));
  }

  take(area: Area): void {
    this.someCell(area, (cell) => {
      cell.push(area);
      return false;
    });
  }

  /** How many of those taken lie under it. */
  under(area: Area): number {
    const found = new Set<Area>();
    this.someCell(area, (cell) => {
      for (const taken of cell) if (meet(taken, area)) found.add(taken);
      return false;
    });
    return found.size;
  }

  /** Whether something holds of a square that the area touches; stops at the first. */
  private someCell({ left, top, right, bottom }: Area, holds: (cell: Area[]) => boolean): boolean {
    const { within, columns, cells } = this;
    const column = (x: number) => Math.floor((x - within.left) / CELL_MM);
    const row = (y: number) => Math.floor((y - within.top) / CELL_MM);
    for (let y = row(top); y <= row(bottom); y++) {
      for (let x = Math.max(0, column(left)); x <= Math.min(columns - 1, column(right)); x++) {
        const cell = cells[y * columns + x];
        if (cell && holds(cell)) return true;
      }
    }
    return false;
  }
}

function meet(a: Area, b: Area): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
