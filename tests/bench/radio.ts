/** Radio by the number of carriers: what is found of them, and how long a choice of frequencies takes. */
import { EmptyFileSystem, URI } from 'langium';
import { choose, chooseOne, coordination } from '#engine';
import { RigLoader } from '#language';
import { DEFAULT_GUARD, type Rig } from '#rig';
import { type Times, timed } from './times';

const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:///radio/'));

/** So many sets between 470 and 700 MHz, scattered. */
export async function crowd(carriers: number): Promise<Rig> {
  const sets = Array.from({ length: carriers }, (_, index) => {
    const mhz = 470.1 + ((index * 7919) % 9000) * 0.025;
    return `gear g${index} is far on ${mhz.toFixed(3)} MHz`;
  });
  const text = `rig "Crowd" region US\nmodel far is wireless-mic { tunes 470..700 MHz }\n${sets.join('\n')}`;
  const document = await loader.loadText(text, URI.parse(`memory:///radio/crowd-${carriers}.rig`));
  return loader.services.rig.Analyser.of(document).lowered.rig;
}

/** What carriers do to each other. */
export function looking(rig: Rig, times: number): { readonly troubles: number; readonly times: Times } {
  return { troubles: coordination(rig).troubles.length, times: timed(times, times / 2, () => coordination(rig)) };
}

/** Another frequency for one of them. */
export function choosingOne(rig: Rig, times: number): Times {
  return timed(times, 1, () => chooseOne(rig, 'gear:g1'));
}

/** So many at once, on so many points of a raster, from nothing. */
export function choosing(
  carriers: number,
  points: number,
  times: number,
): { readonly set: number; readonly proven: boolean; readonly times: Times } {
  const raster = Array.from({ length: points }, (_, index) => 470.1e6 + index * 25e3);
  const wanted = Array.from({ length: carriers }, () => ({ bandwidthHz: 200e3, mixes: true, points: raster }));
  const chosen = choose(wanted, [], DEFAULT_GUARD);
  return {
    set: chosen.hz.filter((hz) => hz !== undefined).length,
    proven: chosen.proven.most,
    times: timed(times, 1, () => choose(wanted, [], DEFAULT_GUARD)),
  };
}
