/** What changes on the floor between two rigs, or two states of one. Pure: no files, no text, no clock. */
import type { Finding } from '#engine';
import type { Rig } from '#rig';
import { type FindingChanges, findingChanges } from './findings';
import { type TouchChange, touchChanges } from './house';
import { type LeadChange, leadChanges } from './leads';
import { isNothing, type Moves, movesOf } from './moves';
import { pairsOf } from './pairs';
import { type SettingChange, settingChanges } from './set';
import { type Side, sideOf } from './side';
import { type LeadCount, leadCounts, type ThingChange, thingChanges } from './things';

export interface Comparison {
  /** What it takes to have the new rig: applied to the old as plain data, they give it. All else follows from them. */
  readonly moves: Moves;
  readonly leads: readonly LeadChange[];
  readonly leadCounts: readonly LeadCount[];
  readonly settings: readonly SettingChange[];
  readonly house: readonly TouchChange[];
  readonly things: readonly ThingChange[];
  readonly findings: FindingChanges;
}

export interface Compared extends Comparison {
  readonly before: Side;
  readonly after: Side;
}

export interface Input {
  readonly rig: Rig;
  readonly findings: readonly Finding[];
}

export function compare(old: Input, anew: Input): Compared {
  const [before, after] = [sideOf(old.rig, old.findings), sideOf(anew.rig, anew.findings)];
  const moves = movesOf(before.plain, after.plain);
  const renaming = new Map(moves.renamed.map((each) => [each.before, each.after]));
  const name = (id: string) => renaming.get(id) ?? id;
  const lines = linesThatStay(before, after, renaming);
  const leads = leadChanges(before, after, name);
  return {
    before,
    after,
    moves,
    leads,
    leadCounts: leadCounts(leads, before, after),
    settings: settingChanges(before, after, lines),
    house: touchChanges(before, after, lines),
    things: thingChanges(before, after, name),
    findings: findingChanges(before.findings, after.findings, name),
  };
}

/** Lines of one that are lines of the other, by their ids in the text. */
function linesThatStay(before: Side, after: Side, renaming: ReadonlyMap<string, string>): Map<string, string> {
  return new Map(
    pairsOf(before.plain, after.plain, renaming).flatMap(([old, anew]) => {
      const [from, to] = [before.places.get(old), after.places.get(anew)];
      return from && to ? [[from, to] as const] : [];
    }),
  );
}

/** Whether the two are the same rig, however they are written. */
export function isSame({ moves }: Comparison): boolean {
  return isNothing(moves);
}
