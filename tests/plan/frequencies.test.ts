/** Transmitters that a plan buys are written with frequencies that are clear of what is there and of each other. */
import { describe, expect, it } from 'vitest';
import { applied, editsOf, writePlan } from '#language';
import { changesOf, changeText, plan, summaryText } from '#plan';
import { analyseText } from '../checks/open';
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

describe('what is there and has no frequency', () => {
  const OWNED = `# Invented.
rig "Ours on the air"  region EU
performer ada "Ada" at 0 m, 1 m
performer bo "Bo" at 1 m, 1 m
source voice "Voice" is wireless-mic by ada
source saw "Singing saw" is clip-on-mic or wireless-mic
gear iface "Interface" is interface-2 at 1 m, 2 m owned
gear tx "Transmitter" is in-ear-transmitter owned
gear pack "Pack" is belt-pack owned
gear theirs "Theirs" is in-ear-transmitter theirs on 863.5 MHz
mix ada stereo for ada { voice 0 dB  saw 0 dB }
mix bo mono for bo { voice 0 dB }
`;

  async function written(text: string) {
    const { checked, offers } = await open(text);
    const made = await plan(checked, { offers, solver: await solver(), now });
    if (!made) throw new Error('There is no plan.');
    const analysis = await analyseText(text);
    const edits = editsOf(writePlan(analysis, changesOf(made)).flatMap((each) => each ?? []));
    return { made, after: applied(text, edits, (position) => analysis.document.textDocument.offsetAt(position)) };
  }

  it('gets one where the plan uses it, and keeps the one that it has', async () => {
    const { made, after } = await written(OWNED);
    expect(after).toMatch(/^source voice "Voice" is wireless-mic by ada {1,2}on 8\d\d(\.\d+)? MHz$/m);
    expect(after).toMatch(/^gear tx "Transmitter" is in-ear-transmitter owned {1,2}on 8\d\d(\.\d+)? MHz$/m);
    expect(after).toContain('theirs on 863.5 MHz\n');
    expect(made.untuned).toEqual([]);
    const { checked } = await analyseText(after);
    expect(checked?.findings.filter(({ code, severity }) => code.startsWith('radio/') && severity !== 'note')).toEqual([]);
    expect(changesOf(made).map(({ fix }) => changeText(made.before.rig, fix))).toEqual(
      expect.arrayContaining([expect.stringMatching(/^source voice … on 8/), expect.stringMatching(/^gear tx … on 8/)]),
    );
    const kept = await written(OWNED.replace('is in-ear-transmitter owned', 'is in-ear-transmitter owned on 864.2 MHz'));
    expect(kept.after).toContain('owned on 864.2 MHz\n');
  });

  it('gets one with the way that is chosen for it, where nothing stands behind the ways', async () => {
    const { after } = await written(`# Invented.
model lines is interface {
  input 1..2 trs { line impedance 20 kohm max 16 dBu }
  output phones trs phones impedance 10 ohm max 10 dBu
  mixes 1 stereo
  power usb
}
rig "By line"  region EU
performer ada "Ada" at 0 m, 1 m
source saw "Singing saw" is clip-on-mic or wireless-mic
gear iface "Interface" is lines at 1 m, 2 m owned
mix ada mono for ada { saw 0 dB }
`);
    expect(after).toMatch(/^source saw "Singing saw" is wireless-mic or clip-on-mic {1,2}on 8\d\d(\.\d+)? MHz$/m);
  });

  it('is used before another is bought, though money is there', async () => {
    const { made } = await written(OWNED.replace('region EU', 'region EU  budget 200 EUR'));
    expect(made.purchases).toEqual([]);
    expect(made.assembled.gear).toEqual([]);
  });

  it('has none where none is clear, and the plan says so', async () => {
    const { made, after } = await written(OWNED.replace('region EU', 'region EU  avoid 400..2000 MHz'));
    expect(after).toContain('is in-ear-transmitter owned\n');
    expect(summaryText(made)).toContain('Transmitter has no frequency yet: all that it tunes is to be avoided here, or loud in the scan.');
  });
});
