/** What an extension lead for earphones is, and what it is called. */
import type { Model, Performer } from '#rig';

/** `earphone extension, 6.35 mm TRS jack to 3.5 mm TRS jack socket`. */
export function extensionKind(plug: string, into: string): string {
  return `earphone extension, ${plug} to ${into}`;
}

/** A lead with a plug and a socket for earphones, written as gear on the way: it is plugged in, and is no box. */
export function isExtension({ lineage }: Model): boolean {
  return lineage.includes('earphone-extension');
}

/** `Blaž’s earphones`. */
export function earsOf({ label }: Pick<Performer, 'label'>): string {
  return `${label}’s earphones`;
}
