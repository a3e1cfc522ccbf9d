/** Who and what stands off a stage whose size is stated. */
import { isStage, type Position, type Rig } from '#rig';
import { type Finding, finding } from './finding';

/** How far off each side somebody or something may stand before it is told, in metres. Common practice, no source. */
interface Leave {
  readonly beside: number;
  readonly behind: number;
  readonly before: number;
}

/** The edge itself is stage; a conductor or a soloist may stand on the floor before it. */
const PEOPLE: Leave = { beside: 0.5, behind: 0.5, before: 3 };
/** Racks stand in the wings and behind; the house's desk and a speaker's stand among the audience. */
const THINGS: Leave = { beside: 100, behind: 100, before: 100 };

export function offStage(rig: Pick<Rig, 'pieces' | 'performers' | 'settings' | 'house'>): Finding[] {
  const { stageM } = rig.settings;
  if (!stageM || !isStage(stageM)) return [];
  const { width, depth } = stageM;
  const off = (at: Position | undefined, leave: Leave) => {
    if (!at) return undefined;
    const ways = [
      { farM: Math.abs(at.x) - width / 2, where: at.x > 0 ? ('left' as const) : ('right' as const), leaveM: leave.beside },
      { farM: at.y - depth, where: 'behind' as const, leaveM: leave.behind },
      { farM: -at.y, where: 'before' as const, leaveM: leave.before },
    ];
    return ways.find(({ farM, leaveM }) => farM > leaveM + 1e-9);
  };
  const findings: Finding[] = [];
  for (const { label, at, place } of rig.performers.values()) {
    const far = off(at, PEOPLE);
    if (far) findings.push(finding('stage/off-stage', place, { who: label, width, depth, ...far }));
  }
  const [first] = rig.house;
  for (const piece of rig.pieces.values()) {
    // All sockets of the house's stand in one box.
    const isBox = piece.kind === 'house';
    const far = isBox && piece.id !== first?.piece ? undefined : off(piece.at, THINGS);
    if (far)
      findings.push(finding('stage/far-off', piece.place, { what: isBox ? 'The house’s stage box' : piece.label, width, depth, ...far }));
  }
  return findings;
}
