/**
 * The usual cautions for what a rig has in it. They say what is common practice, and leave the rest to local rules and to
 * qualified people.
 */
import { type Checked, isRadio, onMains } from '#engine';
import type { Piece } from '#rig';
import type { Context } from './context';
import { withoutHouse } from './facts';
import type { Caution, LeadRow } from './model';

export function cautions(context: Context, leads: readonly Pick<LeadRow, 'wiring'>[]): Caution[] {
  const { checked, supplies } = context;
  const pieces = [...checked.rig.pieces.values()];
  const found: Caution[] = [];
  if (drivesPhones(checked, pieces)) found.push(EARS);
  if (checked.network.lines.some((line) => line.run.kind !== 'output' && supplies.of(line) === 'on')) found.push(PHANTOM);
  if (pieces.some((piece) => piece.model.ports.some(isRadio) || piece.model.tunesHz !== undefined)) found.push(radioCaution(checked));
  if (
    pieces.some((piece) =>
      piece.model.ports.some((port) => port.direction === 'output' && port.modes.some((mode) => mode.kind === 'speaker')),
    )
  )
    found.push(AMPLIFIERS);
  if (pieces.some(onMains)) found.push(MAINS);
  if (leads.some((lead) => lead.wiring !== undefined)) found.push(LEADS);
  return found;
}

/** Earphones are driven by phones outputs, by packs, and by whatever a mix for a performer ends in. */
function drivesPhones(checked: Checked, pieces: readonly Piece[]): boolean {
  const phones = pieces.some((piece) =>
    piece.model.ports.some((port) => port.direction === 'output' && port.modes.some((mode) => mode.kind === 'phones')),
  );
  return phones || [...checked.rig.mixes.values()].some((mix) => mix.for.length > 0);
}

export const EARS: Caution = {
  subject: 'Ears',
  text: 'Earphones can play loud enough to harm hearing for good, and there is no warning before it. Plug in and switch on with nobody’s ears in and every level down, then bring up one thing at a time. Play as quietly as the music allows, for the whole night and not only the set; a limiter helps and promises nothing. If ears ring or sound is dull afterwards, turn down, and ask a doctor or an audiologist. Rules on noise at work hold on stage too.',
};

export const PHANTOM: Caution = {
  subject: 'Phantom power',
  text: 'Plug first, then switch it on. Switch it off and wait a few seconds before anything is unplugged. Ears out and levels down each time: it thumps.',
};

export function radioCaution({ rig }: Checked): Caution {
  const { region, country, licensed } = rig.settings;
  const where = country ?? region;
  return {
    subject: 'Radio',
    text: `Which frequencies may be used, at what power and with which licence, is for the local radio regulator to say${where ? ` (${where}, as this rig has it)` : ''}: a frequency on this sheet is no permission.${licensed ? ' This rig says that you hold a licence for this place and day: bring it, and keep to what it names.' : ''} Before anything is switched on, agree all frequencies with ${withoutHouse(rig) ? 'all others' : 'the house and with the other bands'}.`,
  };
}

const AMPLIFIERS: Caution = {
  subject: 'Amplifiers',
  text: 'A loudspeaker output goes to a loudspeaker that suits it, and into no other socket. Leave the loudspeaker plugged in whenever the amplifier is on: many are damaged without it. Where unsure, ask a qualified technician.',
};

const MAINS: Caution = {
  subject: 'Mains',
  text: 'Take power where the venue’s electrician says, all of the rig from one distribution. Never lift a mains earth to cure hum: lift a signal earth, with the switch that is made for it. A tingle from gear or a microphone means stop, touch nothing, and call a qualified electrician. Keep drinks and rain away.',
};

const LEADS: Caution = {
  subject: 'Leads',
  text: 'Lay leads along edges, away from doors and from where people walk. What must cross a way is taped flat or covered. Ways out stay clear. The rules of the venue come first.',
};
