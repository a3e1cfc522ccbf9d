/** Ears: what can drive earphones to a level that harms at once, what cannot drive them far enough, what changes how they sound, and how long it lasts. */
import type { Settings } from '#rig';
import { CREST_OF_A_TONE_DB, dailyExposureDb, dailyLawOf, dose, PEAK_LIMIT_DB } from '../solve/exposure';
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
  const ofEach = all.flatMap((each) => {
    const { performer, driver, earphones, others, highestDbSpl, limitedDbSpl, togetherDbSpl } = each;
    const key = `${performer.id} ${driver.key}`;
    if (told.has(key)) return [];
    told.add(key);
    const figures = { performer: performer.label, driver: socketName(driver), earphones: earphones?.label ?? 'earphones' };
    const place = `${each.run.id}/${each.run.via.length > 0 ? `via.${each.run.via.length - 1}` : 'port'}`;
    const more = { about: [performer.id, driver.piece.id], related: [{ place: performer.place, says: BESIDE.wears(performer.label) }] };
    const limited = limitedDbSpl !== undefined;
    // Others can pull theirs out at any time; nobody can be counted on to do it.
    const most = limitedDbSpl ?? highestDbSpl;
    const found: Finding[] = [];
    if (most !== undefined && most + CREST_OF_A_TONE_DB >= PEAK_LIMIT_DB)
      found.push(
        finding(
          'ears/too-loud',
          place,
          {
            ...figures,
            assumed: each.assumed,
            highestDbSpl: most,
            peakDb: most + CREST_OF_A_TONE_DB,
            limitDb: PEAK_LIMIT_DB,
            limited,
            others: others.length,
          },
          more,
        ),
      );
    const wantedDbSpl = (settings.listeningDbSpl ?? USUAL_LISTENING_DB_SPL) + CREST_OF_MUSIC_DB;
    if (togetherDbSpl !== undefined && !each.assumed && togetherDbSpl + CREST_OF_A_TONE_DB < wantedDbSpl)
      found.push(
        finding('ears/too-quiet', place, { ...figures, highestDbSpl: togetherDbSpl, wantedDbSpl, limited, others: others.length }, more),
      );
    // Half the voltage and more stays where it does no good. With others beside them that is so of whatever they wear, and told once.
    const { driveOhm, loadOhm, lossDb = 0 } = each;
    const shared = others.length > 0;
    if ((!each.assumed || shared) && driveOhm !== undefined && driveOhm > loadOhm && !(shared && told.has(driver.key))) {
      told.add(driver.key);
      found.push(
        finding(
          'ears/low-impedance',
          place,
          {
            ...figures,
            people: [performer, ...others].map(({ label }) => label),
            assumed: each.assumed,
            driveOhm,
            loadOhm,
            lossDb,
            riseDb: lossDb - 20 * Math.log10((each.earsOhm + driveOhm) / each.earsOhm),
          },
          { ...more, about: [...more.about, ...others.map(({ id }) => id)] },
        ),
      );
    }
    return found;
  });
  return all.length > 0 ? [...ofEach, ...tooLong(settings)] : ofEach;
}

/** One evening at the level that is written, against what the law puts up with in a day at work: that of the region, else the most lenient known. */
function tooLong(settings: Settings): Finding[] {
  const { listeningDbSpl: dbA, setS, checkS = 0 } = settings;
  if (dbA === undefined || setS === undefined) return [];
  const seconds = checkS + setS;
  const days = { niosh: dose('niosh', dbA, seconds), osha: dose('osha', dbA, seconds) };
  const law = dailyLawOf(settings);
  const daily = law && { exposureDb: dailyExposureDb(dbA, seconds), limitDb: law.limit.dbA, law: law.name };
  if (daily ? daily.exposureDb <= daily.limitDb : days.osha <= 1) return [];
  return [finding('ears/too-long', 'rig/listening', { dbA, checkS, setS, days, daily })];
}
