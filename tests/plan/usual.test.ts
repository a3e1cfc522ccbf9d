/** What the trade says of a usual band's rig (common practice, no source), against the plan of one that has written no input and no output. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Plan, plan } from '#plan';
import { now, open, solver } from './open';

const text = readFileSync(join(import.meta.dirname, 'rigs/usual.rig'), 'utf8');

async function planOf(changed: string): Promise<Plan> {
  const { checked, offers } = await open(changed);
  const made = await plan(checked, { offers, solver: await solver(), now });
  if (!made) throw new Error('Time ran out.');
  return made;
}

describe('a usual rig, planned', () => {
  let made: Plan;
  beforeAll(async () => {
    made = await planOf(text);
  }, 120_000);

  const lines = () => made.assembled.inputs.flatMap(({ runs }) => runs);
  const lineOf = (name: string) => lines().find(({ takes }) => takes?.id === `source:${name}`);

  it('needs 8 lines or fewer of the house’s 14, an overhead and the kick standing for the drum kit', () => {
    expect(made.before.rig.house).toHaveLength(14);
    expect(lines().length).toBeLessThanOrEqual(8);
    for (const name of ['kick', 'over']) expect(lineOf(name), name).toBeDefined();
    expect(made.leftOut.filter(({ need }) => need === 'must')).toEqual([]);
  });

  it('leaves the house’s lines alone where an amplifier or a modeller has a line output', () => {
    expect(lineOf('bass')?.via).toEqual([]);
    expect(made.after.rig.pieces.get('source:bass')?.model.id).toBe('amp-line-out');
    expect(lineOf('guitar')?.via).toEqual([]);
    expect(made.after.impact.replugged).toEqual([]);
    expect(made.after.impact.lines.filter(({ how }) => how === 'dependent')).toEqual([]);
  });

  it('lets a radio microphone’s line output stand in for a third microphone input', () => {
    expect(made.after.rig.pieces.get('source:voice')?.model.lineage).toContain('wireless-mic');
    expect(lineOf('voice')?.takes?.port).toBe('jack');
    expect(Number(lineOf('voice')?.to.ports[0])).toBeGreaterThan(2);
    expect(['kick', 'over'].map((name) => Number(lineOf(name)?.to.ports[0])).sort()).toEqual([1, 2]);
  });

  it('takes four outputs for four listeners in mono', () => {
    expect(new Set(made.assembled.outputs.flatMap(({ run }) => run.from.ports)).size).toBe(4);
  });

  it('costs about 200 EUR in all round an interface that is there', () => {
    // With radio for the three who walk about it would be more: what is cheapest and serves all is taken.
    expect(made.money.planned / 100).toBeGreaterThan(50);
    expect(made.money.planned / 100).toBeLessThanOrEqual(220);
  });

  it('has nothing wrong with it', () => {
    // The snare only could be heard, and is left out of a mix that asks for it.
    expect(made.leftOut.map(({ label }) => label)).toEqual(['Snare']);
    expect(made.after.findings.filter(({ severity }) => severity !== 'note').map(({ code }) => code)).toEqual(['mixes/not-patched']);
    expect(made.proven).toBe(true);
  });
});

describe('four who hear in stereo', () => {
  it('take eight outputs, or the phones’ own', async () => {
    const made = await planOf(text.replace(/ mono {2}for/g, ' stereo  for').replace('budget 250', 'budget 400'));
    const { rig } = made.assembled;
    const channels = made.assembled.outputs.map(({ run }) => {
      const port = rig.pieces
        .get(run.from.piece)
        ?.model.ports.find(({ id, direction }) => direction === 'output' && id === run.from.ports[0]);
      return run.from.ports.length > 1 ? run.from.ports.length : (port?.modes[0]?.channels ?? 1);
    });
    expect(made.reached.find(({ name }) => name === 'width')?.value).toBe(0);
    expect(channels.reduce((sum, count) => sum + count, 0)).toBe(8);
  }, 120_000);
});

describe('two who share a transmitter', () => {
  it('do so in mono, one on each side', async () => {
    const made = await planOf(`# Invented.
rig "Two on one"
performer ane "Ane" at 0 m, 1 m
performer bo "Bo" at 1 m, 1 m
source voice "Voice" is dynamic-mic by ane
model no-phones is interface {
  input 1..2 combo { mic impedance 2 kohm max 2 dBu gain 0..55 dB noise -127 dBu phantom shared }
  output 1..2 trs line impedance 150 ohm max 16 dBu
  phantom 20 mA
  mixes 1 stereo
  power usb
}
gear iface "Interface" is no-phones at 1 m, 3 m owned
gear tx "Transmitter" is in-ear-transmitter at 1 m, 3 m owned on 863.3 MHz
gear pack-1 "Pack one" is belt-pack owned
gear pack-2 "Pack two" is belt-pack owned
input iface.1 takes voice
mix ane mono for ane { voice 0 dB }
mix bo mono for bo { voice -3 dB }
`);
    expect(made.assembled.packs.map(({ piece }) => piece.hears?.port).sort()).toEqual(['left', 'right']);
    expect(made.leftOut).toEqual([]);
  }, 120_000);
});
