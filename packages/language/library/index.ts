/** The gear library: rig text that ships with the program. */
import type { URI } from 'langium';
import { URI as Uri } from 'langium';
import house from './house.rig';
import instruments from './instruments.rig';
import interfaces from './interfaces.rig';
import listening from './listening.rig';
import microphones from './microphones.rig';
import pickups from './pickups.rig';
import playback from './playback.rig';
import shop from './shop.rig';
import splits from './splits.rig';
import wireless from './wireless.rig';

export const LIBRARY_SCHEME = 'earloom';

const FILES: Readonly<Record<string, string>> = {
  house,
  instruments,
  interfaces,
  listening,
  microphones,
  pickups,
  playback,
  splits,
  wireless,
};

/** Models with prices that are invented, for rigs that name none. Not part of the library: nobody's names are taken by it. */
export const SHOP = { uri: Uri.from({ scheme: 'shop', path: '/shop.rig' }), text: shop };

/** How many files it has. */
export const LIBRARY_SIZE = Object.keys(FILES).length;

/** Each file of the library with its address, such as `earloom:/library/microphones.rig`. */
export function libraryFiles(): { uri: URI; text: string }[] {
  return Object.entries(FILES).map(([name, text]) => ({ uri: Uri.from({ scheme: LIBRARY_SCHEME, path: `/library/${name}.rig` }), text }));
}

export function isLibrary(uri: URI): boolean {
  return uri.scheme === LIBRARY_SCHEME;
}
