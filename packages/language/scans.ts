/** The scans that rigs name, read once and kept until their file changes. */
import { type URI, URI as Uri } from 'langium';
import { louderThan, readScan, type Scan } from '#engine';
import type { LoudSpan } from '#rig';

/** As rigs are known by their ending, so that nothing else is read by a slip. */
export function isScan(uri: URI): boolean {
  return uri.path.toLowerCase().endsWith('.csv');
}

export class Scans {
  private readonly known = new Map<string, Scan>();
  private readonly loud = new WeakMap<Scan, Map<number, readonly LoudSpan[]>>();

  has(uri: URI): boolean {
    return this.known.has(uri.toString());
  }

  /** Undefined where there is no such file, or none that can be read. */
  get(uri: URI): Scan | undefined {
    return this.known.get(uri.toString());
  }

  readable(): URI[] {
    return [...this.known].flatMap(([uri, { kind }]) => (kind === 'read' ? Uri.parse(uri) : []));
  }

  take(uri: URI, text: string): void {
    this.known.set(uri.toString(), readScan(text));
  }

  /** Something has happened to the file. */
  forget(uri: string): void {
    this.known.delete(uri);
  }

  /** Where it is louder than a level: worked out once, and asked for at every key. */
  louderThan(scan: Extract<Scan, { kind: 'read' }>, dbm: number): readonly LoudSpan[] {
    const levels = this.loud.get(scan) ?? new Map<number, readonly LoudSpan[]>();
    this.loud.set(scan, levels);
    const known = levels.get(dbm) ?? louderThan(scan.points, dbm);
    levels.set(dbm, known);
    return known;
  }
}
