/** Places of two rigs on one sheet. */
import type { Place } from '#rig';

/** The place of what is in the old rig alone. */
export function oldPlace(place: Place): Place {
  return `${OLD}${place}`;
}

/** The place in the old rig that is meant; nothing where the new one is. */
export function placeInOld(place: Place): Place | undefined {
  return place.startsWith(OLD) ? place.slice(OLD.length) : undefined;
}

const OLD = 'old ';
