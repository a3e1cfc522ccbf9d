/**
 * Rigs of any length for tests and measurements: plausible, mostly clean, and the same for the same seed. All invented.
 *
 * A rig is made of bays, each a little band with an interface and an expander of its own: an evening of many bands on one
 * stage, whose interfaces are linked. A bay has every kind of statement.
 */

/** A small generator of random numbers from 0 to 1 (mulberry32, public domain). */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const PEOPLE = [
  'ada',
  'brais',
  'chidi',
  'dita',
  'eskil',
  'farah',
  'gethin',
  'hana',
  'ines',
  'jun',
  'kofi',
  'leela',
  'maud',
  'noor',
  'odile',
  'priya',
];
const SUNG = ['voice', 'alto', 'descant', 'drone-voice', 'yodel', 'chant'];
const STRUCK = ['frame-drum', 'bodhran', 'snare', 'tabla', 'cajon', 'gong'];
const BLOWN = ['clarinet', 'ocarina', 'shawm', 'tuba', 'bombarde', 'accordion'];
const BOWED = ['double-bass', 'viola', 'nyckelharpa', 'hurdy-gurdy', 'esraj', 'cello'];

/** Clear of each other and of what they make together. Whoever comes later has digital sets. */
const CLEAR_MHZ = [863.1, 863.4, 863.8, 864.3, 864.65];

/** About as many lines as a bay has. */
const BAY_LINES = 46;

/** The house's desk numbers its lines from 1 to 1000. */
const HOUSE_LINES = 1000;

/** A rig of exactly so many lines. */
export function generateRig(lines: number, seed = 1): string {
  const random = randomFrom(seed);
  const header = [
    '# Made by a generator; every name in it is invented.',
    `rig "Evening ${seed}"`,
    '  region EU',
    '  rate 48 kHz',
    `  set ${30 + Math.floor(random() * 60)} min`,
    '  stage 24 m by 12 m',
    '',
    'house at 11 m, 1 m',
    '',
  ];
  const bays = Math.max(1, Math.floor((lines - header.length) / BAY_LINES));
  const perBay = Math.min(4, Math.floor(HOUSE_LINES / bays));
  const all = [...header];
  for (let bay = 1; bay <= bays; bay++) {
    const made = makeBay(bay, random, perBay);
    if (all.length + made.length > lines) break;
    all.push(...made);
  }
  while (all.length < lines) all.push(`# ${all.length}`);
  return `${all.slice(0, lines).join('\n')}\n`;
}

function makeBay(bay: number, random: () => number, houseLines: number): string[] {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  const between = (low: number, high: number) => low + Math.floor(random() * (high - low + 1));
  const name = (word: string) => `${word}-${bay}`;
  const x = between(-10, 10);
  const at = (dx: number, y: number) => `at ${x + dx} m, ${y} m`;
  const firstPerson = between(0, PEOPLE.length - 4);
  const people = PEOPLE.slice(firstPerson, firstPerson + 4).map(name) as [string, string, string, string];
  const [voice, drum, reed, strings] = [SUNG, STRUCK, BLOWN, BOWED].map((words) => name(pick(words))) as [string, string, string, string];
  const overhead = name('overhead');
  const keys = name('keys');
  const click = name('click');
  const tracks = name('tracks');
  const talk = name('talkback');
  const iface = name('iface');
  const expander = name('expander');
  const [tx, mixA, mixB, mixC, mixD, toHouse] = ['tx', 'mix-a', 'mix-b', 'mix-c', 'mix-d', 'for-house'].map(name) as [
    string,
    string,
    string,
    string,
    string,
    string,
  ];
  const level = (most = 0) => `${between(-16, most)} dB`;
  const sends = (...sources: string[]) => sources.map((source) => `${source} ${level()}`).join('  ');
  const side = () => `${pick(['left', 'right'])} ${between(5, 90)} %`;
  const house = (index: number, words: string) => (index < houseLines ? [`house ${(bay - 1) * houseLines + index + 1}  ${words}`] : []);
  const frequency = CLEAR_MHZ[bay - 1];
  const air = frequency === undefined ? 'digital-' : '';
  const playback = houseLines >= 4;
  return [
    `# Bay ${bay}`,
    `performer ${people[0]}  ${at(0, 2)}`,
    `performer ${people[1]}  "Drums ${bay}"  ${at(1, 4)}`,
    `performer ${people[2]}  ${at(-1, 2)}  ears earphones`,
    `performer ${people[3]}  ${at(2, 3)}`,
    '',
    `model ${name('bell-mic')} "Bell microphone ${bay}" is clip-on-mic {`,
    `  output out  xlr  mic  impedance 200 ohm  sensitivity ${between(3, 8)} mV/Pa  max 138 dB SPL  phantom needed  draws 3 mA`,
    `  peak ${between(108, 118)} dB SPL   # measured by us`,
    '  owned',
    '}',
    `source ${voice}  "Voice ${bay}"  is dynamic-mic  by ${people[0]}`,
    `source ${drum}  is dynamic-mic  by ${people[1]}  typical ${between(100, 112)} dB SPL`,
    `source ${reed}  is ${name('bell-mic')}  by ${people[2]}`,
    `source ${strings}  "Strings ${bay}"  is piezo-pickup  by ${people[3]}  lowest ${between(55, 90)} Hz`,
    `source ${overhead}  is condenser-mic  by ${people[1]}  should`,
    `source ${keys}  is modeller  by ${people[3]}  could`,
    `source ${talk}  is talkback-mic  by ${people[0]}`,
    `source ${click}  is click-channel`,
    `source ${tracks}  "Tracks ${bay}"  is computer-channel`,
    `gear ${iface}  "Interface ${bay}"  is interface-16  ${at(1, 6)}`,
    `gear ${expander}  is preamp-expander  ${at(1, 6)}  borrowed`,
    `gear ${tx}  "Transmitter ${bay}"  is ${air}in-ear-transmitter  ${at(1, 6)}${frequency === undefined ? '' : `  on ${frequency} MHz`}`,
    `gear ${name('pack-a')}  is ${air}belt-pack  for ${people[0]}  hears ${tx}.left`,
    // Now and then something is forgotten, so that there is something to find.
    ...(random() < 0.15
      ? []
      : [
          `gear ${name('pack-b')}  is ${air}belt-pack  for ${people[2]}  hears ${tx}.right  ${pick(['owned', 'spare', 'borrowed', 'buy 95 EUR'])}`,
        ]),
    '',
    `input ${iface}.1  takes ${voice}  via transformer-split.iso`,
    `input ${iface}.2  takes ${drum}${random() < 0.5 ? '' : `  gain ${between(6, 10)} dB`}`,
    `input ${iface}.5  takes ${reed}`,
    `input ${iface}.6  takes ${overhead}`,
    `input ${expander}.1  takes ${strings}  via active-di`,
    `input ${expander}.5  takes ${keys}.main`,
    `input ${expander}.6  takes ${talk}${random() < 0.1 ? '  gain 80 dB' : ''}`,
    `input ${iface}.optical  takes ${expander}`,
    `input ${iface}.usb1  takes ${click}`,
    `input ${iface}.usb2  takes ${tracks}`,
    ...house(0, `takes ${voice}`),
    ...house(1, `"Keys ${bay}"  takes ${keys}.jack  via passive-di`),
    ...house(2, `"Kick ${bay}"  own mic`),
    ...(playback ? house(3, `takes ${toHouse}`) : []),
    `mix ${mixA}  mono  for ${people[0]}  { ${sends(voice, drum, reed, click)} }`,
    `mix ${mixB}  mono  for ${people[2]}  {`,
    `  ${sends(reed, voice, strings)}`,
    `  ${sends(click, talk)}`,
    '}',
    `mix ${mixC}  stereo  for ${people[1]}  { ${drum} ${level()}  ${overhead} ${level()} ${side()}  ${strings} ${level(-3)} ${side()}  ${tracks} ${level()} }`,
    `mix ${mixD}  stereo  for ${people[3]}  { ${strings} ${level()} ${side()}  ${keys} ${level()}  ${sends(voice, talk)} }`,
    ...(playback ? [`mix ${toHouse}  mono  for house  { ${tracks} 0 dB }`] : []),
    `output ${iface}.1  carries ${mixA}  via ${tx}.left`,
    `output ${iface}.2  carries ${mixB}  via ${tx}.right`,
    `output ${iface}.3..4  carries ${mixC}  via headphone-amp`,
    `output ${iface}.phones1  carries ${mixD}`,
    ...(playback ? [`output ${iface}.6  carries ${toHouse}  via passive-di`] : []),
    '',
  ];
}
