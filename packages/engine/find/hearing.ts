/** Ears: what can drive earphones to a level that harms at once, what cannot drive them far enough, and what changes how they sound. */
import type { Settings } from '#rig';
import { CREST_OF_A_TONE_DB, PEAK_LIMIT_DB } from '../solve/exposure';
import type { Hearing } from '../solve/hearing';
import { socketName } from '../solve/naming';
import { BESIDE } from '../words/beside';
import { type Finding, finding } from './finding';

/** How loud musicians listen with in-ear monitors where the rig does not say, in dB SPL: common practice, no source. */
export const USUAL_LISTENING_DB_SPL = 94;
/** Peaks of music are so far above its usual level: common practice, no source. */
const CREST_OF_MUSIC_DB = 12;

export function hearing(settings: Settings, all: readonly Hearing[]): Finding[] {
  const told = new Set<string>();
  return all.flatMap((each) => {
    const { performer, driver, earphones, highestDbSpl, limitedDbSpl } = each;
    const key = `${performer.id} ${driver.key}`;
    if (told.has(key)) return [];
    told.add(key);
    const figures = { performer: performer.label, driver: socketName(driver), earphones: earphones?.label ?? 'earphones' };
    const place = `${each.run.id}/${each.run.via.length > 0 ? `via.${each.run.via.length - 1}` : 'port'}`;
    const more = { about: [performer.id, driver.piece.id], related: [{ place: performer.place, says: BESIDE.wears(performer.label) }] };
    const limited = limitedDbSpl !== undefined;
    const most = limitedDbSpl ?? highestDbSpl;
    const found: Finding[] = [];
    if (most !== undefined && most + CREST_OF_A_TONE_DB >= PEAK_LIMIT_DB)
      found.push(
        finding(
          'ears/too-loud',
          place,
          { ...figures, assumed: each.assumed, highestDbSpl: most, peakDb: most + CREST_OF_A_TONE_DB, limitDb: PEAK_LIMIT_DB, limited },
          more,
        ),
      );
    const wantedDbSpl = (settings.listeningDbSpl ?? USUAL_LISTENING_DB_SPL) + CREST_OF_MUSIC_DB;
    if (most !== undefined && !each.assumed && most + CREST_OF_A_TONE_DB < wantedDbSpl)
      found.push(finding('ears/too-quiet', place, { ...figures, highestDbSpl: most, wantedDbSpl, limited }, more));
    // Half the voltage and more stays where it does no good.
    if (!each.assumed && each.driveOhm !== undefined && each.driveOhm > each.earsOhm)
      found.push(
        finding(
          'ears/low-impedance',
          place,
          { ...figures, driveOhm: each.driveOhm, earsOhm: each.earsOhm, lossDb: each.lossDb ?? 0 },
          more,
        ),
      );
    return found;
  });
}
