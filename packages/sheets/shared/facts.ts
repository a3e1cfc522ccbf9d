/** What holds for the whole rig, in words: stands at the head of every sheet. */
import { hertz, lengthText, list, tidy } from '#engine';
import type { Rig, Settings } from '#rig';

/** `another night of Club set, without Tomek, with another Interface and house 1`; nothing for a rig by itself. */
export function nightOf({ night }: Rig): string[] {
  if (!night) return [];
  const { of, without, instead } = night;
  const parts = [
    `another night of ${of}`,
    ...(without.length > 0 ? [`without ${list(without)}`] : []),
    ...(instead.length > 0 ? [`instead of what that has: ${list(instead)}`] : []),
  ];
  return [parts.join(', ')];
}

export function titleOf({ label }: Rig): string {
  return label ?? 'Untitled rig';
}

/** There is no house, and nothing is written for one either: the sheets then do not speak of one. */
export function withoutHouse({ noHouse, house }: Rig): boolean {
  return noHouse !== undefined && house.length === 0;
}

/** What needs a place for the lengths of leads to be known. */
export function toPlace(rig: Rig): string {
  return withoutHouse(rig) ? 'performers and gear' : 'performers, gear and the house';
}

/** What a sheet says of the evening; nothing where the rig does not say. */
export function occasionOf({ settings: { date, venue, contacts } }: Rig): { readonly occasion?: readonly string[] } {
  const occasion = [date, venue, ...contacts].filter((words) => words !== undefined);
  return occasion.length > 0 ? { occasion } : {};
}

export function facts(settings: Settings): string[] {
  const { region, country, rateHz, setS, stageM } = settings;
  const length = (m: number) => lengthText(m, settings);
  return [
    hertz(rateHz),
    ...((country ?? region) ? [`region ${[region, country].filter(Boolean).join(', ')}`] : []),
    ...(setS === undefined ? [] : [`set of ${tidy(setS / 60, 0)} min`]),
    ...(stageM === undefined ? [] : [`stage ${length(stageM.width)} by ${length(stageM.depth)}`]),
  ];
}
