/** What every sheet gets last: the evening, the mark of its rig, and its words as they are printed. */
import type { Rig } from '#rig';
import type { Sheet } from '../sheet';
import { occasionOf } from './facts';
import { fingerprintOf } from './fingerprint';
import { typesetSheet } from './typeset';

export function finished<Id extends string>(sheet: Sheet<Id>, rig: Rig): Sheet<Id> {
  return typesetSheet({ ...sheet, ...occasionOf(rig), fingerprint: fingerprintOf(rig) });
}
