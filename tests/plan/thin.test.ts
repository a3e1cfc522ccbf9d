/** What a plan says where there is little to plan with: what is missing, and what to do. */
import { describe, expect, it } from 'vitest';
import { type PlanOptions, plan } from '#plan';
import { planSheet, renderSheet } from '#sheets';
import { now, open, solver } from './open';

const BASE = `performer maja "Maja" at 0 m, 1 m
performer olek "Olek" at 2 m, 1 m
source voice "Voice" is dynamic-mic by maja
source cim "Cimbalom" is condenser-mic by olek
mix maja mono for maja { voice 0 dB  cim -3 dB }
mix olek mono for olek { cim 0 dB }
`;
const IFACE = 'gear iface "Interface" is interface-8-mic at 1 m, 3 m owned\n';
const HOUSE = 'house 1 takes voice\nhouse 2 takes cim\n';
const head = (settings = '') => `# Invented.\nrig "Thin"\n${settings}`;
const budget = (sum: string) => head(`  budget ${sum}\n`);

async function told(text: string, more: Partial<PlanOptions> = {}): Promise<string> {
  const { checked, offers, invented } = await open(text);
  const made = await plan(checked, { offers, solver: await solver(), now, frontier: true, ...more });
  if (!made) throw new Error('Time ran out.');
  return renderSheet(planSheet(made, { invented }), 'text', { width: 1000 });
}

const bells = (count: number, need = 'must') =>
  Array.from({ length: count }, (_, at) => `source b${at} "Bell ${at}" is condenser-mic by olek ${need}\n`).join('');
const heard = (count: number) => `mix bells mono for olek { ${Array.from({ length: count }, (_, at) => `b${at} 0 dB`).join('  ')} }\n`;

describe('a plan says', () => {
  it.each<[string, string, string[], string[]]>([
    [
      'without an interface, what to write',
      head() + BASE,
      ['Voice must Nothing makes a mix: write a piece of gear that does'],
      ['It costs nothing'],
    ],
    ['of an empty rig, what to write', 'rig "Nothing"\n', ['There is nothing to plan yet: write who plays'], ['everything has its line']],
    [
      'without an input, what to write; and that an amplifier waits for a budget',
      `model box is interface {\n output 1..2 trs line impedance 150 ohm max 16 dBu\n mixes 1 stereo\n}\n${head()}${BASE}gear iface is box owned\n`,
      [
        'Voice must Nothing has a free input for it: write a piece of gear that has',
        'Olek’s ears must It needs a headphone amplifier for 25 EUR, and the rig has no budget: write what you may spend, such as "budget 25 EUR".',
        'With 2 headphone amplifiers, for 50 EUR, two more musts would be served.',
      ],
      ['all other musts'],
    ],
    [
      'where the house’s desk makes the mixes, what goes into that',
      `${head('  mains shared\n')}${BASE}gear mon "Monitor desk" is interface-8-mic at 1 m, 3 m theirs\n`,
      ['input mon.2 takes voice', 'output mon.phones1 carries maja', 'It costs nothing'],
      ['Nothing makes a mix'],
    ],
    [
      'beside an interface of ours, nothing of the house’s desk',
      `${head('  mains shared\n')}${BASE}gear mon "Monitor desk" is interface-8-mic at 1 m, 3 m theirs\n${IFACE}`,
      ['input iface.2 takes voice', 'output iface.phones1 carries maja'],
      ['mon.'],
    ],
    [
      'with nothing to spend, that there is room and what is missing',
      budget('0 EUR') + BASE + IFACE + HOUSE,
      [
        'Voice must There is room at Interface 1..8. It needs a Y-lead for 10 EUR, and nothing of the budget is left.',
        'With what there is, Cimbalom finds no place, whatever else is left out. In all, two musts are left out. With 2 Y-leads, for 20 EUR, all musts would be served.',
      ],
      ['is needed by another must'],
    ],
    [
      'with too little to spend, how much is left',
      budget('14 EUR') + BASE + IFACE + HOUSE,
      ['It needs a Y-lead for 10 EUR, and 4 EUR of the budget are left.'],
      [],
    ],
    [
      'of musts that cannot stand together, one set of them and how many go in all, the last in the text',
      `${budget('100 EUR')}${BASE}${bells(4)}gear iface "Interface" is interface-4 at 1 m, 3 m owned\n${heard(4)}`,
      [
        'do not fit together: leave out any one of them, and the others fit. In all,',
        'Nothing that may be bought would help.',
        'Interface 1 Voice',
      ],
      ['the rest fits'],
    ],
    [
      'of a listener for whom no mix is left, who makes how many and that one can be shared',
      `${head()}${BASE}performer ina "Ina"\nperformer uve "Uve"\nmodel two is interface {
  input 1..4 combo { mic impedance 2 kohm max 2 dBu gain 0..55 dB noise -127 dBu phantom each }
  output 1..4 trs phones impedance 10 ohm max 10 dBu
  mixes 1 stereo
  power usb
}
gear iface "Small one" is two owned\nmix ina mono for ina { voice 0 dB }\n`,
      [
        'Small one makes one stereo mix or two mono ones, and others need them. Two who hear the same can share one, as in "mix … for a, b".',
      ],
      ['Every output or amplifier'],
    ],
    [
      'of prices in another currency, that they do not count',
      `model our-y is y-lead { buy 8 GBP }\n${budget('50 EUR')}${BASE}${IFACE}${HOUSE}`,
      [
        'Prices in GBP are not looked at: money is counted in EUR here, and nothing is converted. Name them in EUR, such as "model our-di is passive-di { buy 20 EUR }".',
        // Of a line that nothing splits, what to write; and no input is named where it is not.
        'Voice must No way in. House 1 takes it as well, and nothing splits it: write a split that you have, such as "gear voice-split is transformer-split owned", or what one costs, such as "model our-split is transformer-split { buy 30 EUR }".',
      ],
      ['invented'],
    ],
    [
      'of a shop without prices, that it has none that can be read',
      `model our-y is y-lead\n${budget('50 EUR')}${BASE}${IFACE}${HOUSE}`,
      ['No price can be read in this rig or in the files that it uses, so these are invented, for orientation.'],
      [],
    ],
  ])(
    '%s',
    async (_, text, says, not) => {
      const plain = (await told(text)).replace(/\s+/g, ' ');
      for (const words of says) expect(plain).toContain(words);
      for (const words of not) expect(plain).not.toContain(words);
    },
    60_000,
  );

  it('through what a line comes that takes a leg of what the house’s line goes through, and which inputs take it', async () => {
    const text = `${head()}${BASE}${IFACE}gear split "Split" is transformer-split owned\nhouse 1 takes voice via split.direct\n`;
    const says = (await told(text)).replace(/ +/g, ' ');
    expect(says).toMatch(/Interface \d Voice Split iso Only Interface 1\.\.8 take it\./);
    expect(says).toMatch(/Interface \d Cimbalom Only Interface 1\.\.8 take it\./);
  }, 60_000);

  it('of money, only what it serves besides what is served already', async () => {
    // Our own line of it is written: only the house goes without.
    const text = `${budget('50 EUR')}${BASE}${IFACE}input iface.1 takes voice\nhouse 1 takes voice\n`;
    const { checked, offers } = await open(text);
    const made = await plan(checked, { offers, solver: await solver(), now, frontier: true });
    const gains = made?.frontier.flatMap((step) => step.gains) ?? [];
    expect(gains).not.toContain('Voice');
    // The step of the plan is that plan: what it buys, it buys for the same.
    const step = made?.frontier.find(({ cents }) => cents === made.money.planned);
    expect(step?.purchases).toEqual(made?.purchases);
  }, 60_000);

  it('where time runs out, what it serves and how much more there may be', async () => {
    const text = `${budget('100 EUR')}${BASE}${bells(8)}${IFACE}${heard(8)}`;
    let clock = 0;
    const says = (await told(text, { now: () => (clock += 1e9), limitMs: 1 })).replace(/\s+/g, ' ');
    expect(says).toMatch(/Time ran out: this is the best that was found\. It serves 0 musts; it may be that up to \d+ can be served\./);
    expect(says).toContain('Time ran out before it was clear whether there is a place for it.');
    expect(says).not.toContain('No other plan is better');
  }, 60_000);
});
