/** What a scan shows across a band: its levels, the highest of each bit of the width, and the level from which on it is kept clear of. */
import { decibels } from '#engine';
import type { AirScan } from '#rig';
import { type Scale, xOf } from '../draw/axis';
import { straight } from '../draw/straight';
import { words } from '../draw/words';
import type { Shape } from '../drawing';

/** In mm. */
export const SCAN_HEIGHT = 16;
const BIT = 0.4;
const LABEL = 2.4;

/** In dBm: what is drawn of levels. */
const BOTTOM_DBM = -120;
const TOP_DBM = -30;

export const SCAN_LOOK = { stroke: 'ink', strokeWidth: 0.2 } as const;
export const ABOVE_LOOK = { stroke: 'danger', strokeWidth: 0.2, dashed: true } as const;

/** Those that show anything of a band. */
export function scansOf(scans: readonly AirScan[], { from, to }: Scale): AirScan[] {
  return scans.filter(({ points }) => points.some(({ hz }) => hz >= from && hz <= to));
}

export function scanStrip(
  { file, points, aboveDbm, place }: AirScan,
  scale: Scale,
  top: number,
  nameWidth: number,
  pageWidth: number,
): Shape[] {
  const bottom = top + SCAN_HEIGHT;
  const y = (dbm: number) =>
    bottom - 1 - ((Math.max(BOTTOM_DBM, Math.min(dbm, TOP_DBM)) - BOTTOM_DBM) / (TOP_DBM - BOTTOM_DBM)) * (SCAN_HEIGHT - 2);
  const highest = new Map<number, number>();
  for (const { hz, dbm } of points) {
    if (hz < scale.from || hz > scale.to) continue;
    const bit = Math.round((xOf(scale, hz) - scale.x) / BIT);
    highest.set(bit, Math.max(highest.get(bit) ?? Number.NEGATIVE_INFINITY, dbm));
  }
  const right = scale.x + scale.width;
  const line = [...highest].sort(([a], [b]) => a - b).map(([bit, dbm]) => [Math.min(right, scale.x + bit * BIT), y(dbm)] as const);
  const shapes: Shape[] = [
    straight(0, top, pageWidth, top, { stroke: 'line', strokeWidth: 0.12 }),
    words(file, { x: 0, y: top + 5, size: LABEL, width: nameWidth, role: 'muted' }),
    words(`kept clear of above ${decibels(aboveDbm, 'dBm')}`, { x: 0, y: top + 9, size: LABEL, width: nameWidth, role: 'muted' }),
    straight(scale.x, y(aboveDbm), right, y(aboveDbm), ABOVE_LOOK),
    { kind: 'path', points: line, ...SCAN_LOOK, label: `what ${file} shows` },
  ];
  return shapes.map((shape) => ({ ...shape, place }));
}
