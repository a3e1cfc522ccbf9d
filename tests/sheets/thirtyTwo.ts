/** Thirty-two lines to the house, of every kind: tails that reach and tails that do not, boxes, radio, the house's own, a mix of ours. All of it is invented. */

const PEOPLE = ['Ottilie', 'Brannoc', 'Sunniva', 'Idris', 'Marenka', 'Kofi', 'Yevgenia', 'Tamsin'];
const SPLIT = [
  ['Hurdy-gurdy', 'clip-on-mic'],
  ['Bass clarinet', 'dynamic-mic'],
  ['Nyckelharpa', 'clip-on-mic'],
  ['Tenor horn', 'dynamic-mic'],
  ['Bombard', 'dynamic-mic'],
  ['Cimbalom high', 'condenser-mic'],
  ['Cimbalom low', 'condenser-mic'],
  ['Frame drum', 'dynamic-mic'],
  ['Fiddle', 'clip-on-mic'],
  ['Low whistle', 'dynamic-mic'],
  ['Euphonium', 'dynamic-mic'],
  ['Alto voice', 'dynamic-mic'],
  ['Bass voice', 'dynamic-mic'],
  ['Marimba high', 'condenser-mic'],
  ['Marimba low', 'condenser-mic'],
  ['Accordion', 'clip-on-mic'],
] as const;
const BOXED = ['Zither', 'Bass guitar', 'Bouzouki', 'Lute'];
const OWN = ['Kick', 'Snare', 'Floor tom', 'Overhead left', 'Overhead right', 'Timpani', 'Glockenspiel', 'Tam-tam'];

export const THIRTY_TWO = `rig "The Orrery Players, thirty-two lines"
  region UK
  set 90 min
  stage 14 m by 9 m
${PEOPLE.map((name, at) => `performer p${at} "${name}" at ${at * 1.5 - 5} m, ${1 + (at % 3)} m`).join('\n')}
gear iface "Interface" is interface-16 at 6 m, 8 m
gear more "Second interface" is interface-8-mic at 6 m, 8 m
gear low "Expander" is preamp-expander at 6 m, 8 m
gear split "Stage split" is shared-split at 5 m, 8 m
gear tx "Transmitter" is in-ear-transmitter at 6 m, 8 m on 864.6 MHz
gear pack "Ottilie's pack" is belt-pack for p0 hears tx.left
house at -6 m, 1 m
input iface.optical takes low.optical
${SPLIT.map(([label, model], at) => {
  const port = at < 8 ? `low.${at + 1}` : `iface.${at - 7}`;
  return `source s${at} "${label}" is ${model} by p${at % 8}
input ${port} takes s${at} via split.iso${at + 1}
house ${at + 1} "${label}" takes s${at} via split.${at + 1}`;
}).join('\n')}
${BOXED.map(
  (label, at) => `source b${at} "${label}" is preamp-pickup by p${at}
gear di${at} "${label} DI" is active-di at ${at * 1.5 - 5} m, 2 m
input more.${1 + at} takes b${at} via di${at}
house ${17 + at} "${label}" takes b${at} via di${at}.thru, their-di`,
).join('\n')}
source d "Drone" is computer-channel by p7
input iface.usb1 takes d
source r0 "Soprano" is wireless-mic by p4 on 863.2 MHz
source r1 "Baritone" is wireless-mic by p5 on 863.7 MHz
house 21 "Soprano" takes r0
house 22 "Baritone" takes r1
${OWN.map((label, at) => `house ${23 + at} "${label}" own mic`).join('\n')}
mix p0 mono for p0 { s0 0 dB  s11 -3 dB  b0 -6 dB }
mix drone "Drone" mono for house { d 0 dB }
output iface.1 carries p0 via tx.left
output iface.3 carries drone via passive-di
house 31 "Drone" takes drone
house 32 "Talkback" own mic
`;
