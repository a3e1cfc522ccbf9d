/** Batteries that do not last, and a circuit that is asked for too much. */
import type { Piece, Rig } from '#rig';
import { drawOf, inUse, isComputer, onBatteries, overUsb, USB_W } from '../solve/power';
import { type Finding, finding } from './finding';

/** So much of what batteries give is to be left at the end: common practice, no source. */
const MARGIN = 0.2;
/** What is on for hours should take no more of a circuit than this: common practice (in the United States NEC 210.20 has it, from memory). */
const SHARE = 0.8;

export function power(rig: Pick<Rig, 'pieces' | 'settings'>): Finding[] {
  return [...batteries(rig), ...circuit(rig), ...usb(rig)];
}

/** Things of one model are told of together. */
function batteries({ settings: { setS, checkS = 0 }, pieces }: Pick<Rig, 'pieces' | 'settings'>): Finding[] {
  if (setS === undefined) return [];
  const byModel = new Map<string, Piece[]>();
  for (const piece of pieces.values()) {
    if (!inUse(piece) || !onBatteries(piece.model) || piece.model.power?.lifeS === undefined) continue;
    byModel.set(piece.model.id, [...(byModel.get(piece.model.id) ?? []), piece]);
  }
  return [...byModel.values()].flatMap((alike) => {
    const [first, ...more] = alike;
    const lifeS = first?.model.power?.lifeS;
    if (!first || lifeS === undefined) return [];
    const wantedS = checkS + setS;
    if (lifeS * (1 - MARGIN) >= wantedS) return [];
    const what = [...new Set(alike.map(({ label }) => label))];
    return [
      finding(
        lifeS < wantedS ? 'power/battery-short' : 'power/battery-close',
        first.place,
        { what, lifeS, checkS, setS, marginPercent: MARGIN * 100, computer: alike.every(isComputer) },
        { about: more.map(({ id }) => id), related: more.map(({ place, label }) => ({ place, says: label })) },
      ),
    ];
  });
}

function usb(rig: Pick<Rig, 'pieces'>): Finding[] {
  return overUsb(rig).map(({ place, label, model }) =>
    finding('power/over-usb', place, { what: label, watts: model.power?.watts ?? 0, two: USB_W.two, three: USB_W.three }),
  );
}

function circuit(rig: Pick<Rig, 'pieces' | 'settings'>): Finding[] {
  const { circuit } = rig.settings;
  if (!circuit) return [];
  const { currentA, voltageV } = circuit;
  const { watts, unstated, stated } = drawOf(rig);
  const allowedW = currentA * voltageV;
  if (watts <= allowedW * SHARE) return [];
  return [
    finding(
      'power/over-circuit',
      'rig/circuit',
      { watts, allowedW, currentA, voltageV, sharePercent: SHARE * 100, unstated: [...new Set(unstated.map(({ label }) => label))] },
      { about: [...stated, ...unstated].map(({ id }) => id) },
    ),
  ];
}
