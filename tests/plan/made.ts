/** Rigs to plan: sources, gear, mixes and a house, and nothing patched. The same for the same seed; all invented. */
import { randomFrom } from '../generate';

const MODELS = [
  'dynamic-mic',
  'clip-on-mic',
  'dynamic-mic',
  'condenser-mic',
  'kick-mic',
  'preamp-pickup',
  'piezo-pickup',
  'modeller',
  'wireless-mic',
  'amp-line-out',
  'ribbon-mic',
  'stereo-keyboard',
];

export interface Wishes {
  readonly sources: number;
  readonly seed: number;
  /** Interfaces and expanders, by their models; enough for all sources without it. */
  readonly devices?: readonly string[];
  readonly budget?: number;
  readonly needs?: boolean;
  readonly boxes?: number;
  /** Without mixes nobody listens, and every source is wanted. */
  readonly people?: number;
  readonly models?: readonly string[];
}

export function rigToPlan({ sources, seed, devices, budget, needs = false, boxes = 3, people = 4, models = MODELS }: Wishes): string {
  const random = randomFrom(seed);
  const pick = <T>(all: readonly T[]): T => all[Math.floor(random() * all.length)] as T;
  const lines = ['# Made by a generator; every name in it is invented.', `rig "Made ${seed}"`, '  rate 48 kHz'];
  if (budget !== undefined) lines.push(`  budget ${budget} EUR`);
  lines.push('house at 5 m, 0.5 m');
  for (let at = 1; at <= people; at++) {
    lines.push(`performer p${at} "Player ${at}" at ${Math.round((random() * 8 - 4) * 2) / 2} m, ${Math.round(random() * 8) / 2 + 1} m`);
  }
  const names: string[] = [];
  for (let at = 1; at <= sources; at++) {
    const by = people > 0 ? ` by p${1 + Math.floor(random() * people)}` : '';
    const need = needs ? ` ${pick(['must', 'must', 'should', 'could'])}` : '';
    names.push(`s${at}`);
    lines.push(`source s${at} "Sound ${at}" is ${pick(models)}${by}${need}`);
  }
  const all = devices ?? devicesFor(sources);
  if (all.includes('made-desk')) lines.push(...deskModel(sources));
  for (const [index, model] of all.entries()) lines.push(`gear dev${index} "Device ${index}" is ${model} at 1 m, 4.5 m owned`);
  for (let at = 1; at <= boxes; at++) {
    lines.push(`gear box${at} "Box ${at}" is ${pick(['y-lead', 'transformer-split', 'passive-di', 'active-di', 'pad-20'])} owned`);
  }
  let number = 0;
  for (const name of names) {
    const kind = random();
    if (kind < 0.3) lines.push(`house ${++number} takes ${name}`);
    else if (kind < 0.6) lines.push(`house ${++number} "Theirs ${number}" own mic`);
  }
  for (let at = 1; at <= people; at++) {
    const sends = names.filter((_, index) => index % people === at - 1 || random() < 0.3);
    lines.push(`mix m${at} ${random() < 0.3 ? 'stereo' : 'mono'} for p${at} { ${sends.map((name) => `${name} -6 dB`).join('  ')} }`);
  }
  return `${lines.join('\n')}\n`;
}

/** An interface with its expander, or, for more than they take, a desk with phantom power in banks of eight. */
function devicesFor(sources: number): string[] {
  return sources <= 13 ? ['interface-16', 'preamp-expander'] : ['made-desk'];
}

function deskModel(sources: number): string[] {
  const inputs = Math.ceil((sources * 1.2) / 8) * 8;
  const banks = Array.from({ length: inputs / 8 }, (_, bank) => [
    `  input ${bank * 8 + 1}..${bank * 8 + 8} combo {`,
    '    mic   impedance 2 kohm   max 8 dBu   gain 0..60 dB   noise -128 dBu  phantom shared',
    '    line  impedance 10 kohm  max 22 dBu  gain -10..20 dB',
    '  }',
  ]);
  return [
    'model made-desk is interface {',
    ...banks.flat(),
    '  input usb1..usb8  digital',
    '  output 1..16  trs  line  impedance 150 ohm  max 18 dBu',
    '  output phones1..phones2  trs  phones  impedance 20 ohm  max 12 dBu  channels 2',
    '  phantom 400 mA',
    '  mixes 8 stereo',
    '  power mains',
    '}',
  ];
}
