/** What is set anew although nobody wrote so: a gain that follows from another microphone, phantom power that comes from elsewhere now. */
import { type Checked, type Line, mustNotBe, type Supply, wholePath } from '#engine';
import type { InputRun, Place } from '#rig';
import type { Side } from './side';

export interface Setting {
  /** As written, else as reckoned, in whole dB downwards; nothing where it is not known or there is no knob. */
  readonly gainDb?: number;
  readonly phantom: Supply;
}

/** Of one channel of an input line that stays. */
export interface SettingChange {
  readonly before: Place;
  readonly after: Place;
  readonly channel: number;
  readonly was: Setting;
  readonly is: Setting;
}

export function settingChanges(before: Side, after: Side, lines: ReadonlyMap<string, string>): SettingChange[] {
  const [was, is] = [settingsOf(before.checked), settingsOf(after.checked)];
  return [...lines].flatMap(([old, anew]) => {
    const [olds, news] = [was.get(old) ?? [], is.get(anew) ?? []];
    return olds.slice(0, news.length).flatMap((each, channel): SettingChange[] => {
      const now = news[channel] as Setting;
      if (each.gainDb === now.gainDb && each.phantom === now.phantom) return [];
      return [{ before: old, after: anew, channel, was: each, is: now }];
    });
  });
}

function settingsOf(checked: Checked): ReadonlyMap<Place, readonly Setting[]> {
  const found = new Map<Place, Setting[]>();
  for (const line of checked.network.lines) {
    if (line.run.kind !== 'input') continue;
    const { id } = line.run;
    const all = found.get(id) ?? [];
    all[line.index] = { ...gain(checked, line.run, line), phantom: checked.supplies.of(line) };
    found.set(id, all);
  }
  return found;
}

function gain(checked: Checked, run: InputRun, line: Line): { gainDb?: number } {
  if (run.gainDb !== undefined) return { gainDb: run.gainDb };
  const arrival = checked.levels.of(line);
  const range = arrival?.mode?.gainDb;
  if (!arrival?.gain || !range || !Number.isFinite(arrival.gain.setDb)) return {};
  if (wholePath(checked.network, line).some(mustNotBe)) return {};
  // In whole steps, as a sheet has it: a smaller difference is none to set.
  return { gainDb: Math.max(Math.floor(arrival.gain.setDb + 1e-6), range.low) };
}
