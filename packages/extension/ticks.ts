/** What is ticked on the sheets, by rig: kept with the workspace, over a reload of the window. */
import type * as vscode from 'vscode';
import type { Ticked } from '#preview';

export class Ticks {
  constructor(private readonly memento: vscode.Memento) {}

  of(uri: string): Ticked {
    return this.memento.get<Ticked>(keyOf(uri)) ?? {};
  }

  /** Where nothing is ticked any more, nothing is kept. */
  keep(uri: string, ticked: Ticked): void {
    const some = Object.values(ticked).some((boxes) => boxes.length > 0);
    void this.memento.update(keyOf(uri), some ? ticked : undefined);
  }
}

function keyOf(uri: string): string {
  return `ticked ${uri}`;
}
