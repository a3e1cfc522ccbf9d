/** Transmitters that a plan buys are written with frequencies that are clear of what is there and of each other. */
import { expect, it } from 'vitest';
import { changesOf, changeText, plan } from '#plan';
import { now, open, solver } from './open';

const RIG = (more = '') => `# Invented.
model our-transmitter  is in-ear-transmitter  { buy 2 EUR }
model our-pack  is belt-pack  { buy 1 EUR }
rig "Four on the air"  region EU
  budget 100 EUR
performer ada "Ada" at 0 m, 1 m
performer bo "Bo" at 1 m, 1 m
performer cy "Cy" at 2 m, 1 m
performer di "Di" at 3 m, 1 m
source voice "Voice" is dynamic-mic by ada
gear iface "Interface" is interface-8-mic at 1 m, 2 m owned
gear theirs "Theirs" is in-ear-transmitter theirs on 863.5 MHz
${more}mix ada stereo for ada { voice 0 dB }
mix bo stereo for bo { voice 0 dB }
mix cy stereo for cy { voice 0 dB }
mix di stereo for di { voice 0 dB }
output iface.phones1 carries ada
output iface.phones2 carries bo
`;

async function bought(text: string) {
  const { checked, offers } = await open(text);
  const made = await plan(checked, { offers, solver: await solver(), now });
  if (!made) throw new Error('There is no plan.');
  const gear = changesOf(made).flatMap(({ fix }) => (fix.kind === 'add-gear' && fix.model === 'in-ear-transmitter' ? [fix] : []));
  return { made, gear, says: gear.map((fix) => changeText(checked.rig, fix)) };
}

it('each has one of its own, and the check finds nothing wrong on the air', async () => {
  const { made, gear, says } = await bought(RIG());
  const onHz = gear.map(({ onHz }) => onHz);
  expect(onHz.length).toBeGreaterThan(1);
  expect(new Set([863.5e6, ...onHz]).size).toBe(onHz.length + 1);
  expect(says[0]).toMatch(/ on 86\d(\.\d+)? MHz buy 2 EUR$/);
  expect(made.after.findings.filter(({ code, severity }) => code.startsWith('radio/') && severity !== 'note')).toEqual([]);
});

it('none is written where none is clear', async () => {
  const { gear } = await bought(RIG().replace('  budget', '  avoid 862..866 MHz\n  budget'));
  expect(gear.length).toBeGreaterThan(1);
  expect(gear.map(({ onHz }) => onHz)).toEqual(gear.map(() => undefined));
});
