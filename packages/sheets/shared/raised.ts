/** Sends above 0 dB, louder than they come: each is marked wherever its level is told, to be looked at before anybody's ears go in. */
import { decibels, tidy } from '#engine';
import type { Send } from '#rig';
import { tenth } from './figures';

export function isRaised({ levelDb }: Pick<Send, 'levelDb'>): boolean {
  return tenth(levelDb) > 0;
}

/** Behind a figure that wants looking at; the sheet says why. */
export const MARK = '(!)';

export const RAISED = 'above 0 dB, louder than it comes';
export const RAISED_RULE = `${MARK}: ${RAISED}. Often the minus is missing: look at it before anybody’s ears go in, and bring it up slowly.`;

/** `12 (!)`; what is not raised stays a number. */
export function raisedCell(send: Pick<Send, 'levelDb'>): string | number {
  return isRaised(send) ? `${tidy(send.levelDb, 1)} ${MARK}` : tenth(send.levelDb);
}

/** `12 dB (!)`, `-3 dB`. */
export function raisedWords(send: Pick<Send, 'levelDb'>): string {
  return [decibels(send.levelDb), isRaised(send) ? MARK : ''].filter(Boolean).join(' ');
}
