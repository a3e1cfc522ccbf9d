/** How what a finding is about is called. */
import type { Place } from '#rig';
import type { Socket } from './network';

/** The statement that a place is in: `input:iface.3` of `input:iface.3/via.0`. It is the id of what the statement makes, too. */
export function statementOf(place: Place): string {
  return place.split('/', 1)[0] as string;
}

/** A lead by its two ends. */
export function leadId(from: Socket, to: Socket): string {
  return `lead:${from.key}>${to.key}`;
}
