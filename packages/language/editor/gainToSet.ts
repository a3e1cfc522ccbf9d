/** The gain to set at an input, as the hints show it and as it can be written down. */
import type { Arrival, Checked, Gain, Line } from '#engine';
import type { InputRun, Span } from '#rig';
import { wholeDown } from '#sheets';

export interface Setting {
  readonly arrival: Arrival;
  readonly gain: Gain;
  /** What is written, or else what to set, in dB. */
  readonly gainDb: number;
  /** What that leaves above the loudest peak, in dB. */
  readonly headroomDb: number;
  /** Undefined where there is no knob. */
  readonly range?: Span;
  readonly written: boolean;
}

/**
 * One setting for each channel of a line. None where one of them is not known, or where they differ: every channel of a line has the
 * one gain that is written on it, so channels that want different ones are told apart by a finding.
 */
export function settingsAt(checked: Checked, run: InputRun, lines: readonly Line[]): Setting[] {
  const settings = lines.flatMap((line) => settingAt(run, checked.levels.of(line)) ?? []);
  const [first] = settings;
  return settings.length < lines.length || settings.some((each) => each.gainDb !== first?.gainDb) ? [] : settings;
}

/** Nothing where the level is not known, or where what arrives is not what the input is made for: a finding tells of that. */
function settingAt(run: InputRun, arrival: Arrival | undefined): Setting | undefined {
  const { gain, mode } = arrival ?? {};
  if (!arrival || !gain || !mode || !arrival.kinds.includes(mode.kind) || !Number.isFinite(gain.setDb) || gain.hotDb > 0) return undefined;
  const range = mode.gainDb;
  const written = run.gainDb !== undefined;
  const gainDb = run.gainDb ?? (range ? Math.max(wholeDown(gain.setDb), range.low) : gain.setDb);
  return { arrival, gain, gainDb, headroomDb: wholeDown(gain.headroomDb + gain.setDb - gainDb), range, written };
}
