/** What each listener tears off: where the mix comes from, the side and the frequency, what is in it, whom to call. */
import { expect, it } from 'vitest';
import { sheetsOf } from '#sheets';
import { mixesSheet } from '../../packages/sheets/mixes/sheet';
import { setUpSheet } from '../../packages/sheets/set-up/sheet';
import { analyse, analyseText, here } from './load';
import { cellsOf } from './tables';

it('there is one for each listener of ten', async () => {
  const { checked } = await analyse(here('../../examples/ten.rig'));
  const strips = cellsOf(mixesSheet(checked), 'strips');
  expect(strips.map(([who]) => who)).toEqual([...checked.rig.performers.values()].map(({ label }) => label));
  const of = new Map(strips.map((cells) => [cells[0], cells.slice(1, 7)]));
  expect(of.get('Rok')).toEqual([
    'brass',
    'from Interface 2',
    "earphones in Rok's pack",
    'side right: the same in both ears',
    '863.3 MHz',
    'you hear Trumpet, Trombone, Clarinet, Kick, Voice, Talkback and Click',
  ]);
  expect(of.get('Maja')?.slice(0, 5)).toEqual([
    'maja',
    'from Interface 3 and Interface 4',
    "earphones in Maja's pack",
    'stereo',
    'by wire',
  ]);
  expect(of.get('Luka')?.slice(0, 5)).toEqual([
    'strings',
    'from Interface 5',
    "earphones in Luka's pack",
    'mono: the same in both ears',
    'by wire',
  ]);
  for (const cells of strips) expect(cells[7]).toMatch(/^Nothing, or too loud: ears out, knob down\. .*whoever sits at the rig/);
});

it('a sign is for whoever sits at the rig and not for a telephone, which may be the listener’s own; nobody has none in an empty rig', async () => {
  const rig = 'contact "Ada, 555 0134"\nperformer a "Ada"\nsource v is dynamic-mic\nmix a for a { v 0 dB }';
  expect(cellsOf(mixesSheet((await analyseText(`rig "R" ${rig}`)).checked), 'strips')[0]).toEqual([
    'Ada',
    'a',
    'not settled yet',
    'not settled yet',
    'mono: the same in both ears',
    'by wire',
    'you hear v',
    'Nothing, or too loud: ears out, knob down. One arm up, then point to your ear, until whoever sits at the rig looks.',
  ]);
});

it('whoever hears one side of a stereo mix alone is told what is on it, and sets the pack for it', async () => {
  const rig = `rig "R" region EU
performer a "Ada"
performer b "Bo"
source v "Voice" is dynamic-mic by a
source d "Drum" is dynamic-mic by b
source o "Organ" is stereo-keyboard by b
gear iface "Interface" is interface-8-mic
gear tx "Transmitter" is in-ear-transmitter on 863.5 MHz
gear p "Ada's pack" is belt-pack for a hears tx.left
gear q "Bo's pack" is belt-pack for b hears tx
input iface.1 takes v
input iface.2 takes d
input iface.3..4 takes o
mix m "Both" stereo for a, b { v 0 dB left 100 % d -3 dB right 100 % o -6 dB }
output iface.1..2 carries m via tx
`;
  const { checked } = await analyseText(rig);
  expect(checked.findings.find(({ code }) => code === 'mixes/one-side')?.figures).toMatchObject({ gone: ['Drum', 'the right of Organ'] });
  expect(cellsOf(mixesSheet(checked), 'strips', 0, 4, 6)).toEqual([
    ['Ada', 'side left: the same in both ears', 'you hear Voice and Organ left'],
    ['Bo', 'stereo', 'you hear Voice, Drum and Organ'],
  ]);
  const set = new Map(cellsOf(setUpSheet(checked), 'switches').map(([on, what]) => [on, what]));
  expect(set.get("Ada's pack")).toBe('side select left, mono: the same in both ears, 863.5 MHz');
  expect(set.get("Bo's pack")).toBe('stereo, 863.5 MHz');
});

it('who shares a mix by wire has a socket of their own: the nearest, and on every sheet the same', async () => {
  const { checked } = await analyseText(`rig "Two on a Y" # Invented.
    performer ada at 0 m, 1 m
    performer bo at 4 m, 1 m
    source kora is dynamic-mic by ada
    gear iface is interface-8-mic at 2 m, 2 m
    gear y is y-lead at 2 m, 2 m
    gear far is headphone-amp at 4 m, 2 m
    gear near is headphone-amp at 0 m, 2 m
    input iface.1 takes kora
    mix both for ada, bo { kora 0 dB }
    output iface.1 carries both via y.1, far.left
    output iface.1 carries both via y.2, near.left`);
  const settled = [
    ['ada', 'near'],
    ['bo', 'far'],
  ];
  expect(cellsOf(mixesSheet(checked), 'strips', 0, 3)).toEqual(settled.map(([who, at]) => [who, `earphones in ${at}`]));
  expect(checked.hearings.map(({ performer, driver }) => [performer.label, driver.piece.label]).sort()).toEqual(settled);
  const [limiters, lost] = await sheetsOf(checked, checked.findings, ['set-up', 'if-it-fails']);
  expect(limiters && cellsOf(limiters, 'limiters').map((cells) => cells.slice(-3, -1))).toEqual(settled);
  // One amplifier gone: only who sits at it hears nothing.
  const text = JSON.stringify(lost);
  expect(text).toContain('ada hears nothing');
  expect(text).toContain('bo hears nothing');
});

it('whoever is sent to a socket that another is sent to as well reads so on their own strip', async () => {
  const rig = (outputs: string) => `rig "R"
performer a "Ada"
performer b "Bo"
performer c "Cy"
source v "Voice" is dynamic-mic by a
gear iface "Interface" is interface-8-mic
input iface.1 takes v
mix duo mono for a, b { v 0 dB }
mix c mono for c { v 0 dB }
${outputs}
output iface.phones2 carries c`;
  const sockets = async (outputs: string) => cellsOf(mixesSheet((await analyseText(rig(outputs))).checked), 'strips', 0, 3);
  expect(await sockets('output iface.phones1 carries duo')).toEqual([
    ['Ada', 'earphones in Interface phones1, shared with Bo'],
    ['Bo', 'earphones in Interface phones1, shared with Ada'],
    ['Cy', 'earphones in Interface phones2'],
  ]);
  expect(await sockets('output iface.1 carries duo via headphone-amp\noutput iface.2 carries duo via headphone-amp')).toEqual([
    ['Ada', expect.not.stringContaining('shared')],
    ['Bo', expect.not.stringContaining('shared')],
    ['Cy', 'earphones in Interface phones2'],
  ]);
});
