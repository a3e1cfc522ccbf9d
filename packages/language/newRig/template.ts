/** A first rig from four answers: a line for everything, short comments, and nothing wrong with it. */
import { capital } from '#engine';
import { soundsPrivate } from '../lowering/privacy';
import { isStereo, isVoice, label as labelOf, type Person, peopleIn } from './people';
import { Columns, idOf, inLine, names, quoted } from './written';

export interface Answers {
  /** What is printed above every sheet. */
  readonly title: string;
  /** As people write it down: "Ana voice, Brik hurdy-gurdy and voice". */
  readonly people: string;
  /** The name of an interface's model. */
  readonly interface: string;
  readonly ears: 'radio' | 'wire';
}

/** An invented band, for who only wants to look. */
export const DEFAULT_ANSWERS: Answers = {
  title: 'Copper Wren, first rig',
  people: 'Ana voice, Brik hurdy-gurdy, Cleo frame drum',
  interface: 'interface-8-mic',
  ears: 'radio',
};

/**
 * Within 863 to 865 MHz, for up to eight people, two on each transmitter. What two or three of them make together,
 * of the third and of the fifth order, falls on none (the engine's own choice).
 */
const FREQUENCIES_MHZ = [863.1, 863.4, 863.8, 864.3];

/** Whoever has written nothing yet need not be told of it as of a mistake: it is said in the rig, and on its sheets. */
const TELL_THE_HOUSE = "the house's plugs go into our splits first; we tell its engineer before the day";

/** Of a file's name, in letters: what a tab still shows, and every file system takes. */
const LONGEST_FILE_NAME = 40;

/** So many sources at their loudest fit through an output at 0 dB: a voice and things with a clip-on microphone, as the engine adds them up. */
const MOST_WHOLE = 4.5;

/** Metres from one person to the next, across the stage. */
const APART_M = 1.5;

interface Player {
  readonly id: string;
  readonly name: string;
  readonly pack: string;
  readonly sources: readonly Sound[];
}

interface Sound {
  readonly id: string;
  readonly by: string;
  readonly label: string;
  readonly model: string;
  /** What it goes through before it is split for the house: a DI. */
  readonly through?: string;
  /** What it sends: itself, or its left and its right. */
  readonly channels: readonly string[];
  /** A talkback or a click: the house does not get it. */
  readonly alone: boolean;
}

/** The name of a file for a rig of this title, without its ending: `copper-wren-first-rig`. */
export function fileNameOf(title: string): string {
  return idOf(title).slice(0, LONGEST_FILE_NAME).replace(/-+$/, '') || 'rig';
}

/** The text of the rig. It has no findings as long as the interface takes that many people and lines (see `interfacesOf`). */
export function newRig({ title, people, interface: model, ears }: Answers): string {
  const players = withIds(peopleIn(people));
  const radio = ears === 'radio';
  const packs = players.map((player, index) => ({ player, tx: `tx-${Math.floor(index / 2) + 1}`, side: index % 2 ? 'right' : 'left' }));
  const sources = players.flatMap((player) => player.sources);
  const lines = sources.flatMap((source) => source.channels.map((channel) => ({ ...source, channel })));
  const forHouse = lines.filter(({ alone }) => !alone);
  const out = new Columns();
  // An editor that has no folder to name the file in calls it by its first line.
  out.line(`# ${inLine(title)}`);
  out.line('# Made from four answers: change it into yours. What is wrong is underlined as you type.');
  out.line(`rig ${quoted(title)}${radio ? '  region EU' : ''}`);
  out.line('');
  out.rows(
    players.map(({ id, name }, index) => [
      `performer ${id}`,
      quoted(capital(name)),
      `at ${(index - (players.length - 1) / 2) * APART_M} m, 2 m`,
      index === 0 ? "# metres: to the players' left, and away from the audience" : '',
    ]),
  );
  out.rows(
    sources.map(({ id, by, label, model: is }, index) => [
      `source ${id}`,
      quoted(label),
      `is ${is}`,
      `by ${by}`,
      index === 0 ? '# what makes sound' : '',
    ]),
  );
  const gear = [['gear iface', '"Interface"', `is ${model}`, 'at 0 m, 3 m', '# its figures: go to its definition']];
  if (radio) {
    for (const [index, { tx }] of packs.filter(({ side }) => side === 'left').entries())
      gear.push([
        `gear ${tx}`,
        `"Transmitter ${index + 1}"`,
        'is in-ear-transmitter',
        'at 0 m, 3 m',
        `${index < FREQUENCIES_MHZ.length ? `on ${FREQUENCIES_MHZ[index]} MHz` : ''}${index === 0 ? '  # ask your radio regulator what you may use' : ''}`,
      ]);
    for (const { player, tx, side } of packs)
      gear.push([
        `gear ${player.pack}`,
        quoted(capital(`${player.name}'s pack`)),
        'is belt-pack',
        `for ${player.id}`,
        `hears ${tx}.${side}`,
      ]);
  }
  out.rows(gear);
  out.line('');
  out.rows(
    lines.map(({ channel, through, alone }, index) => {
      const steps = [through, alone ? undefined : 'transformer-split.iso'].filter(Boolean).join(', ');
      const split = channel === forHouse[0]?.channel ? '  # its other side goes to the house' : '';
      return [`input iface.${index + 1}`, `takes ${channel}`, steps && `via ${steps}${split}`];
    }),
  );
  if (forHouse.length > 0) out.line(`# allow house/replugged: ${TELL_THE_HOUSE}`);
  out.rows(
    forHouse.map(({ channel }, index) => [`house ${index + 1}`, `takes ${channel}`, index === 0 ? "# channel 1 of the house's desk" : '']),
  );
  out.rows(
    players.map(({ id, sources: own }) => {
      const others = sources.filter(({ by }) => by !== id);
      // Others come in at half the voltage, -6 dB. Of more than fits through an output all is halved, until it fits.
      const down = 6 * Math.max(0, Math.ceil(Math.log2((own.length + others.length / 2) / MOST_WHOLE)));
      const sends = [...own.map((source) => `${source.id} ${-down || 0} dB`), ...others.map((source) => `${source.id} ${-6 - down} dB`)];
      return [`mix ${id}`, `mono for ${id}`, `{ ${sends.join('  ')} }`];
    }),
  );
  out.rows(
    packs.map(({ player, tx, side }, index) => [
      `output iface.${index + 1}`,
      `carries ${player.id}`,
      `via ${radio ? `${tx}.${side}` : 'headphone-amp'}${index === 0 ? '  # knobs down before anybody puts their ears in' : ''}`,
    ]),
  );
  return out.text();
}

/** Names that the language can tell apart: sources, mixes and gear have one set of names between them. */
function withIds(people: readonly Person[]): Player[] {
  const fresh = names(GIVEN);
  const named = people.map((person, index) => ({ ...person, id: fresh(idOf(person.name), `player-${index + 1}`) }));
  const withPacks = named.map((person) => ({ ...person, pack: fresh(`pack-${person.id}`, '') }));
  const sounds = withPacks.flatMap(({ plays }) => plays.map((each) => idOf(labelOf(each))));
  return withPacks.map((person) => {
    const sources = (person.plays.length === 0 ? [undefined] : person.plays).map((plays): Sound => {
      const what = labelOf(plays ?? '');
      const sound = idOf(what);
      // Two voices are told apart by whose they are.
      const shared = sound !== '' && sounds.indexOf(sound) !== sounds.lastIndexOf(sound);
      const wanted = shared ? `${person.id}-${sound}` : sound;
      const id = fresh(wanted === person.id ? '' : wanted, `${person.id}-mic`);
      const label = capital(what === '' ? person.name : shared ? `${person.name}'s ${what}` : what);
      const alone = soundsPrivate(id, label);
      const stereo = plays !== undefined && isStereo(plays) && !alone;
      const channels = stereo ? [`${id}.left`, `${id}.right`] : [id];
      return { id, by: person.id, label, alone, channels, ...(alone ? { model: 'dynamic-mic' } : pickedUp(plays, stereo)) };
    });
    return { ...person, sources };
  });
}

/** The model of what somebody plays, as it is usually taken, and the DI it needs. Common practice, no source. */
function pickedUp(plays: string | undefined, stereo: boolean): Pick<Sound, 'model' | 'through'> {
  // Somebody of whom nothing was said gets a microphone to sing into.
  if (plays === undefined || isVoice(plays))
    return { model: stereo ? 'stereo-playback' : 'dynamic-mic', through: stereo ? 'passive-di' : undefined };
  if (stereo) return { model: 'stereo-keyboard', through: 'passive-di' };
  if (/\bmagnetic\b|\b(electric bass|bass guitar)\b/i.test(plays)) return { model: 'magnetic-pickup', through: 'active-di' };
  if (/\b(piezo|pick-?up)\b/i.test(plays)) return { model: 'piezo-pickup', through: 'active-di' };
  return { model: /\belectric guitar\b/i.test(plays) ? 'dynamic-mic' : 'clip-on-mic' };
}

/** The names that the rig has anyway. */
const GIVEN = ['iface', 'tx-1', 'tx-2', 'tx-3', 'tx-4'];
