/** After a loss: what can stay stays as it is written, named boxes or not. */
import { describe, expect, it } from 'vitest';
import { changesOf, plan } from '#plan';
import { now, open, solver } from './open';

const HEAD = `# Invented.
rig "Two Kettles"
performer ada "Ada" at 0 m, 2 m
source voice "Voice" is dynamic-mic by ada
source harp "Harp" is magnetic-pickup by ada
source fid "Fiddle" is magnetic-pickup by ada
gear case-di "In the case" is passive-di owned
gear two "Two in one" is stereo-di owned
gear old "Old one" is interface-4 at 1 m, 3 m owned
gear iface "Interface" is interface-8-mic at 1 m, 3 m owned
house 1 "Voice" takes voice
mix ada mono for ada { voice 0 dB  harp -3 dB  fid -3 dB }
output iface.phones1 carries ada
`;

async function changes(lines: string, lost: string): Promise<string[]> {
  const { checked, offers } = await open(HEAD + lines);
  const made = await plan(checked, { offers, solver: await solver(), now, without: [lost] });
  if (!made) throw new Error('Time ran out.');
  return changesOf(made).map(({ fix }) =>
    'statement' in fix ? `${fix.kind} ${fix.statement}` : 'port' in fix ? `${fix.kind} ${fix.port}` : fix.kind,
  );
}

describe('after a loss', () => {
  it.each([
    ['boxes without a name, with one of their kind in the case', 'iso', 'passive-di', 'passive-di'],
    ['the other leg of a split', 'direct', 'passive-di', 'case-di'],
    ['the second half of a box', 'iso', 'two.right', 'passive-di'],
  ])('nothing is written anew that goes through %s', async (_, leg, harp, fid) => {
    const lines = `input iface.1 takes voice via transformer-split.${leg}
input iface.3 takes harp via ${harp}
input iface.4 takes fid via ${fid}
`;
    expect(await changes(lines, 'old')).toEqual([]);
  });

  it('only what went through the lost piece is thought over', async () => {
    const lines =
      'input iface.1 takes voice via transformer-split.iso\ninput iface.3 takes harp via passive-di\ninput iface.4 takes fid via case-di\n';
    // On the old one, which takes it without a box, nobody would hear it: the mix is made on the other.
    expect(await changes(lines, 'case-di')).toEqual(['remove input:iface.4', 'add-input iface.4']);
  });
});
