/** What stands around the tests of a file that has a workbench: whether they can be run, their folder, and their end. */
import { mkdtempSync, rmSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, afterEach } from 'vitest';
import { root } from '../../.ci/setup.mjs';
import { missing } from './host.mjs';
import type { Workbench } from './workbench.mjs';

/** Whether there is no editor here; then it says so. `what` as in "the tests of typing in a real editor". */
export function withoutEditor(what: string): boolean {
  const why = missing();
  if (why) console.warn(`\nNOT RUN: the tests of ${what} (tests/editor), because ${why}.\n`);
  return why !== undefined;
}

/** A folder of this file's own, gone when its tests have been run. To be asked for before `ended`: the workbench goes first. */
export function temporaryFolder(name: string): string {
  const folder = mkdtempSync(path.join(os.tmpdir(), `earloom-${name}-`));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

interface Ending {
  /** Before the name of a picture. */
  readonly named?: string;
  /** After a test that has failed, so that what it has left half done is not the next one's trouble. */
  mend?(): Promise<void>;
}

/** After a test that fails there is a picture in `out/`; after all of them the workbench is stopped. */
export function ended(workbench: () => Workbench | undefined, { named = '', mend }: Ending = {}): void {
  afterEach(async ({ task }) => {
    if (task.result?.state !== 'fail') return;
    await workbench()?.page.screenshot({ path: path.join(root, 'out', `${named}${task.name}.png`) });
    await mend?.();
  });
  afterAll(() => workbench()?.stop());
}
