/** What is taken of a plan at each tick, and that what is left out leaves no gap and no crowd behind. */
import { describe, expect, it } from 'vitest';
import { applied, editsOf, writePlan } from '#language';
import { taken } from '#language/taken';
import { changesOf, plan } from '#plan';
import { analyseText } from '../checks/open';
import { now, open, solver } from './open';

const split = { says: 'split', needs: [], brings: 'split' };
const voice = { says: 'voice', needs: ['split'] };
const harp = { says: 'harp', needs: ['split'] };
const drum = { says: 'drum', needs: [] };
const ALL = [split, voice, harp, drum];
type Each = (typeof ALL)[number];

describe('what is taken of a plan', () => {
  it.each<[string, Each[], Each[], Each[]]>([
    ['a line goes alone', ALL, [split, voice, harp], [split, voice, harp]],
    ['gear stays while one line needs it', ALL, [split, harp, drum], [split, harp, drum]],
    ['gear goes with the last line that needs it', [split, harp, drum], [split, drum], [drum]],
    ['what needs gear goes with it', ALL, [voice, harp, drum], [drum]],
    ['a line brings its gear', [drum], [voice, drum], [split, voice, drum]],
    ['gear may be taken alone', [drum], [split, drum], [split, drum]],
    ['and stays', [split, drum], [split], [split]],
    ['nothing', ALL, [], []],
    ['everything again', [], ALL, ALL],
  ])('%s', (_, before, ticked, whole) => {
    expect(taken(ALL, before, ticked)).toEqual(whole);
  });

  it('stands apart from what is above it, whichever is the first', async () => {
    const text = `# Invented.
rig "Blank lines"
performer ada "Ada"
source voice "Voice" is dynamic-mic by ada
source bell "Bell" is clip-on-mic by ada
gear iface "Interface" is interface-8-mic owned

mix ada mono for ada { voice 0 dB  bell 0 dB }
`;
    const { checked, offers } = await open(text);
    const made = await plan(checked, { offers, solver: await solver(), now });
    if (!made) throw new Error('Time ran out.');
    const analysis = await analyseText(text);
    const written = writePlan(analysis, changesOf(made)).flatMap((each) => each ?? []);
    const lines = written.filter(({ change: { fix } }) => fix.kind === 'add-input');
    expect(lines).toHaveLength(2);
    for (const all of [lines, lines.slice(1), lines.slice(0, 1)]) {
      const after = applied(text, editsOf(all), (position) => analysis.document.textDocument.offsetAt(position));
      expect(after.match(/owned\n\n(input .*\n)+\nmix/)?.[0].match(/input/g), after).toHaveLength(all.length);
    }
  });
});
