/** A way for a mix to leave and be heard. */
import type { Mix } from '#rig';
import { isRadio } from '../solve/mating';
import type { Network } from '../solve/network';
import { freeInputs } from '../solve/ports';
import type { Fix } from './fix';
import { freeOutputs } from './free';

/** A way for a mix to leave and be heard: to the transmitter that its listener's pack hears, else by a headphone amplifier. */
export function wayOut(net: Network, mix: Pick<Mix, 'name' | 'stereo' | 'house' | 'for'>): Fix[] {
  const port = freeOutputs(net, mix.stereo)[0];
  if (port === undefined) return [];
  const via = mix.house ? undefined : (transmitterFor(net, mix) ?? 'headphone-amp');
  return [{ kind: 'add-output', mix: mix.name, port, via }];
}

/** A transmitter, and its side, that all the listeners of a mix have a pack for. */
function transmitterFor(net: Network, mix: Pick<Mix, 'stereo' | 'for'>): string | undefined {
  const packs = [...net.rig.pieces.values()].filter((piece) => piece.hears && piece.for.some((id) => mix.for.includes(id)));
  for (const { hears } of packs) {
    const transmitter = net.rig.pieces.get(hears?.piece ?? '');
    if (!hears || !transmitter?.name || !transmitter.model.ports.some(isRadio)) continue;
    const hearing = packs.filter((pack) => pack.hears?.piece === hears.piece && pack.hears.port === hears.port);
    if (!mix.for.every((id) => hearing.some((pack) => pack.for.includes(id)))) continue;
    const sides = freeInputs(net, transmitter);
    const side = sides.find((port) => hears.port === undefined || port.id === hears.port);
    if (mix.stereo && sides.length >= 2 && hears.port === undefined) return transmitter.name;
    if (!mix.stereo && side) return `${transmitter.name}.${side.id}`;
  }
  return undefined;
}
