/** How late one hears oneself, added up by hand. */
import { describe, expect, it } from 'vitest';
import { buffersS, type Code, LATE_S, message, SOUND_M_PER_S, VOICE_LATE_S, wedgeM } from '#engine';
import { analyse, analyseText } from '../checks/open';

const rig = (settings: string, body: string) => `rig "by hand" ${settings}
model desk-1 is interface {
  input  1..4  xlr  mic  impedance 2 kohm  max 6 dBu  gain 0..60 dB
  input  opt   optical  digital  channels 8
  input  u1    digital
  output 1..4  trs  line  impedance 100 ohm  max 16 dBu
  mixes  4 stereo
  latency 1.5 ms
}
model box-1 is expander { input 1..2  xlr  mic  impedance 2 kohm  max 6 dBu  gain 0..60 dB
  output opt  optical  from 1..2 active  digital  channels 8
  latency 0.5 ms }
model tx-1 is transmitter { input left, right  xlr  line  impedance 10 kohm  max 20 dBu
  output air  from left, right active  radio  channels 2
  latency 2 ms }
model pack-1 is belt-pack { latency 1 ms }
model tx-0 is transmitter { input left, right  xlr  line  impedance 10 kohm  max 20 dBu
  output air  from left, right active  radio  channels 2 }
model mic-r is wireless-mic { latency 3 ms }
performer p "Per"
performer q "Quy"
gear desk "Desk" is desk-1
${body}`;

async function late(settings: string, body: string) {
  const { checked } = await analyseText(rig(settings, body));
  return (checked?.latencies ?? []).map(({ performer, source, mix, totalS, parts }) => ({
    who: performer.name,
    what: source.name,
    mix: mix.name,
    ms: Number((totalS * 1000).toFixed(3)),
    parts: parts.map(({ of, seconds }) => `${of} ${seconds === undefined ? '?' : Number((seconds * 1000).toFixed(3))}`),
  }));
}

async function told(settings: string, body: string, code: Code = 'latency/late') {
  const { located } = await analyseText(rig(settings, body));
  return located
    .filter(({ finding }) => finding.code === code)
    .map(({ finding }) => ({ place: finding.place, fixes: finding.fixes, says: message(finding) }));
}

const VOICE = 'source v "Voice" is dynamic-mic by p\ninput desk.1 takes v\n';
const OUD = 'source v "Oud" is dynamic-mic by p\ninput desk.1 takes v\n';
const WIRED = 'mix m mono for p { v 0 dB }\noutput desk.1 carries m via headphone-amp';

describe('time', () => {
  it('in a buffer is its samples by the rate: 64 at 48 kHz are 1.333 ms, and there are two', () => {
    expect(buffersS(64, 48_000) * 1000).toBeCloseTo(2 * 1.3333, 3);
    expect(buffersS(128, 44_100) * 1000).toBeCloseTo(2 * 2.9025, 3);
    expect(buffersS(64, 96_000) * 1000).toBeCloseTo(1.3333, 3);
  });

  it('in air is 2.9 ms a metre (343 m/s at 20 degrees: handbook, from memory)', () => {
    expect(1000 / SOUND_M_PER_S).toBeCloseTo(2.9, 1);
    expect(wedgeM(0.01)).toBeCloseTo(3.43, 6);
  });
});

describe('by kind of listener', () => {
  const digital = (by: string) =>
    `source v "${by}" is digital-wireless-mic by p\ngear tx is digital-in-ear-transmitter\ngear pk is digital-belt-pack for p hears tx.left\ninput desk.1 takes v\nmix m mono for p { v 0 dB }\noutput desk.1 carries m via tx.left`;

  // 4 ms in the microphone, 1.5 in the desk, 4 in the link; with two buffers of 64 samples at 48 kHz 2.667 more.
  it('a digital microphone, a digital link and buffers add up', async () => {
    const [mixed] = await late('', digital('Voice'));
    expect(mixed).toMatchObject({ ms: 9.5, parts: ['Voice 4', 'Desk 1.5', 'tx 4'] });
    const [buffered] = await late('buffer 64 samples', digital('Voice'));
    expect(buffered?.ms).toBeCloseTo(12.167, 3);
  });

  it('and are late for a voice, of which 5 ms are told, and not for an instrument, of which 10 are', async () => {
    expect((await told('', digital('Voice'))).map(({ says }) => says)).toEqual([expect.stringContaining('9.5 ms late')]);
    expect(await told('', digital('Fiddle'))).toEqual([]);
    expect(await told('buffer 64 samples', digital('Fiddle'))).toHaveLength(1);
  });
});

describe('one hears oneself late', () => {
  it('by the interface alone where it mixes by itself', async () => {
    expect(await late('', VOICE + WIRED)).toEqual([{ who: 'p', what: 'v', mix: 'm', ms: 1.5, parts: ['Desk 1.5'] }]);
  });

  it('by two buffers more where the computer mixes', async () => {
    // 1.5 + 2 x 128 / 48 = 1.5 + 5.333 ms.
    expect(await late('buffer 128 samples', VOICE + WIRED)).toMatchObject([
      { ms: 6.833, parts: ['Desk 1.5', 'two buffers of 128 samples 5.333'] },
    ]);
    expect(await late('rate 96 kHz buffer 128 samples', VOICE + WIRED)).toMatchObject([{ ms: 4.167 }]);
  });

  it('by the radio microphone, the expander, the interface, the transmitter and the pack, one after the other', async () => {
    const body = `source v "Voice" is mic-r by p
gear box "Box" is box-1
gear tx "Sender" is tx-1
gear pack "Pack" is pack-1 for p hears tx.left
gear other "Other" is belt-pack for q hears tx.right
input box.1 takes v.xlr
input desk.opt takes box
mix m mono for p { v 0 dB }
output desk.1 carries m via tx.left`;
    expect(await late('', body)).toEqual([
      { who: 'p', what: 'v', mix: 'm', ms: 8, parts: ['Voice 3', 'Box 0.5', 'Desk 1.5', 'Sender 2', 'Pack 1'] },
    ]);
  });

  it('by what nobody gives a figure for, which is named and left out of the sum', async () => {
    const body = `${VOICE}gear tx "Sender" is tx-0\ngear pack "Pack" is belt-pack for p hears tx.left\nmix m mono for p { v 0 dB }\noutput desk.1 carries m via tx.left`;
    expect(await late('', body)).toMatchObject([{ ms: 1.5, parts: ['Desk 1.5', 'Sender ?'] }]);
  });

  it('and only by what is on the way to their own ears', async () => {
    const body = `${VOICE}source w "Other voice" is dynamic-mic by q
input desk.2 takes w
source k is click-channel by p
input desk.u1 takes k
gear tx "Sender" is tx-1
gear pack "Pack" is pack-1 for q hears tx.left
mix m mono for p, q { v 0 dB  w 0 dB  k 0 dB }
output desk.1 carries m via headphone-amp
output desk.2 carries m via tx.left`;
    // A click is not played, so nobody is late with it.
    expect(await late('', body)).toMatchObject([
      { who: 'p', what: 'v', ms: 1.5 },
      { who: 'q', what: 'w', ms: 4.5, parts: ['Desk 1.5', 'Sender 2', 'Pack 1'] },
    ]);
  });

  it('not at all in a mix that does not have it, or does not leave', async () => {
    expect(await late('', `${VOICE}mix m mono for p { }\noutput desk.1 carries m via headphone-amp`)).toEqual([]);
    expect(await late('', `${VOICE}mix m mono for p { v 0 dB }`)).toEqual([]);
    expect(await late('', `source v is dynamic-mic by p\n${WIRED}`)).toEqual([]);
  });
});

describe('it is told', () => {
  it('at the buffer, with the largest power of two that will do', async () => {
    // 1.5 + 2 x 512 / 48 = 22.833 ms. 256: 12.167 is too much still, 128: 6.833 will do.
    expect(await told('buffer 512 samples', OUD + WIRED)).toEqual([
      {
        place: 'rig/buffer',
        fixes: [{ kind: 'rewrite', place: 'rig/buffer', with: 'buffer 128 samples' }],
        says: expect.stringContaining(
          'Per hears Oud 22.8 ms late, as from a wedge 7.8 m away: 1.5 ms in Desk and 21.3 ms in two buffers of 512 samples.',
        ),
      },
    ]);
    // At 96 kHz the same buffer is half as long: 1.5 + 5.333 ms.
    expect(await told('rate 96 kHz buffer 256 samples', OUD + WIRED)).toEqual([]);
  });

  it('above the limit and not at it', async () => {
    // 1.5 + 2 x 204 / 48 = 10 ms, and 205 samples are 0.04 ms more.
    expect(1.5e-3 + buffersS(204, 48_000)).toBeCloseTo(LATE_S, 9);
    expect(await told('buffer 204 samples', OUD + WIRED)).toEqual([]);
    expect((await told('buffer 205 samples', OUD + WIRED)).length).toBe(1);
  });

  it('of a voice from half of that, with a buffer that does for all', async () => {
    // 1.5 + 2 x 84 / 48 = 5 ms.
    expect(1.5e-3 + buffersS(84, 48_000)).toBeCloseTo(VOICE_LATE_S, 9);
    expect(await told('buffer 84 samples', VOICE + WIRED)).toEqual([]);
    const [late] = await told('buffer 85 samples', VOICE + WIRED);
    expect(late?.says).toContain('above 5 ms or so most singers');
    const both = 'source w "Voice" is dynamic-mic by q\ninput desk.2 takes w\n';
    const mixed =
      'mix m mono for p, q { v 0 dB  w 0 dB }\ngear y is y-lead\noutput desk.1 carries m via y.1, wired-pack\noutput desk.1 carries m via y.2, wired-pack';
    // The oud alone would be content with 128.
    expect((await told('buffer 512 samples', OUD + both + mixed))[0]?.fixes).toEqual([
      { kind: 'rewrite', place: 'rig/buffer', with: 'buffer 64 samples' },
    ]);
  });

  it('once for all, by the worst, with how many others', async () => {
    const body = `${VOICE}source w "Other voice" is mic-r by q\ninput desk.2 takes w.xlr\nmix m mono for p, q { v 0 dB  w 0 dB }
gear y is y-lead
output desk.1 carries m via y.1, wired-pack\noutput desk.1 carries m via y.2, wired-pack`;
    const [only, ...more] = await told('buffer 256 samples', body);
    expect(more).toEqual([]);
    expect(only?.says).toContain('Quy hears Other voice 15.2 ms late');
    expect(only?.says).toContain('One other is late as well.');
  });

  it('at the mix, where no buffer is to blame', async () => {
    const body = `${VOICE}model slow is tx-1 { latency 12 ms }\ngear tx "Sender" is slow\ngear pack "Pack" is pack-1 for p hears tx.left\nmix m mono for p { v 0 dB }\noutput desk.1 carries m via tx.left`;
    expect(await told('', body)).toEqual([
      {
        place: 'mix:m',
        fixes: [],
        says: expect.stringContaining('14.5 ms late, as from a wedge 5 m away: 1.5 ms in Desk, 12 ms in Sender and 1 ms in Pack.'),
      },
    ]);
    expect((await told('', body))[0]?.says).toContain('The slowest of these is Sender');
    // With a small buffer besides, it is still the sender.
    expect(await told('buffer 32 samples', body)).toMatchObject([{ place: 'mix:m' }]);
  });

  it('in no example', async () => {
    for (const name of ['choir', 'first', 'street', 'ten']) {
      const { checked } = await analyse(new URL(`../../examples/${name}.rig`, import.meta.url).pathname);
      expect(checked?.latencies.length, name).toBeGreaterThan(0);
      for (const { totalS } of checked?.latencies ?? []) expect(totalS).toBeLessThan(VOICE_LATE_S);
    }
  });
});
