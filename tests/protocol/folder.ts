/** A folder of its own for one test, with files in it. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { onTestFinished } from 'vitest';

export class Folder {
  readonly path = mkdtempSync(path.join(os.tmpdir(), 'earloom-'));
  readonly uri = pathToFileURL(this.path).toString();

  constructor(files: Readonly<Record<string, string>> = {}) {
    for (const [name, text] of Object.entries(files)) this.write(name, text);
    onTestFinished(() => rmSync(this.path, { recursive: true, force: true }));
  }

  write(name: string, text: string): void {
    const file = path.join(this.path, name);
    mkdirSync(path.dirname(file), { recursive: true });
    writeFileSync(file, text);
  }

  remove(name: string): void {
    rmSync(path.join(this.path, name), { recursive: true });
  }

  uriOf(name: string): string {
    return `${this.uri}/${name}`;
  }
}
