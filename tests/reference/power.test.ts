/** Batteries and circuits, by arithmetic. */
import { describe, expect, it } from 'vitest';
import { drawOf, message } from '#engine';
import { libraryFiles } from '#language';
import { analyseText } from '../checks/open';

const found = async (head: string, power: string, more = '') => {
  const { checked } = await analyseText(`rig "Power" ${head}\nmodel box is wired-pack { power ${power} }\ngear one "One" is box\n${more}`);
  return (checked?.findings ?? []).filter(({ code }) => code.startsWith('power/')).map(({ code }) => code);
};

describe('batteries', () => {
  it.each([
    ['set 75 min', 'battery 74 min', ['power/battery-short']],
    // A fifth is to be left: 75 min are four fifths of 93.75.
    ['set 75 min', 'battery 93 min', ['power/battery-close']],
    ['set 75 min', 'battery 94 min', []],
    ['set 75 min check 45 min', 'battery 119 min', ['power/battery-short']],
    ['set 75 min check 45 min', 'battery 151 min', []],
    // Nothing is said where one of the two is not known.
    ['check 45 min', 'battery 10 min', []],
    ['set 75 min', 'battery', []],
    ['set 75 min', 'mains', []],
  ])('%s, %s', async (head, power, codes) => expect(await found(head, power)).toEqual(codes));

  it('what is in its case or the house’s does not count', async () => {
    expect(
      await found(
        'set 75 min',
        'mains',
        'model flat is wired-pack { power battery 5 min }\ngear two is flat spare\ngear three is flat theirs',
      ),
    ).toEqual([]);
  });
});

describe('circuits', () => {
  it.each([
    // 80 % of 10 A at 230 V are 1840 W.
    ['circuit 10 A 230 V', 'mains 1840 W', []],
    ['circuit 10 A 230 V', 'mains 1.85 kW', ['power/over-circuit']],
    ['circuit 15 A 120 V', 'mains 1450 W', ['power/over-circuit']],
    ['circuit 15 A 120 V', 'mains', []],
  ])('%s, %s', async (head, power, codes) => expect(await found(head, power)).toEqual(codes));

  it('tells what is near the fuse from what is over it', async () => {
    const told = async (watts: number) => {
      const { checked } = await analyseText(
        `rig "Power"  circuit 10 A 230 V\nmodel a is wired-pack { power mains ${watts} W }\ngear one is a`,
      );
      return checked?.findings.flatMap((each) => (each.code === 'power/over-circuit' ? message(each) : []))[0];
    };
    expect(await told(1900)).toMatch(/gives 2300 W: more than 80 % of it\./);
    expect(await told(2400)).toMatch(/gives 2300 W: more than there is\./);
  });

  it('adds what is stated, and names what is not', async () => {
    const { checked } = await analyseText(
      'rig "Power"\nmodel a is wired-pack { power mains 20 W }\nmodel b is wired-pack { power mains }\ngear one "One" is a\ngear two "Two" is a\ngear three "Three" is b\nsource voice "Voice" is wireless-mic',
    );
    if (!checked) throw new Error('no rig');
    const { watts, unstated } = drawOf(checked.rig);
    expect(watts).toBe(40);
    // The receiver of a radio set is on the mains.
    expect(unstated.map(({ label }) => label)).toEqual(['Three', 'Voice']);
  });
});

describe('the computer', () => {
  const codes = async (gear: string) => {
    const { checked } = await analyseText(`rig "Power" set 90 min check 60 min\n${gear}`);
    return (checked?.findings ?? []).filter(({ code }) => code.startsWith('power/'));
  };

  // 150 min are more than four fifths of three hours, and less than four fifths of four.
  it('on its battery is held against sound check and set, and wants its charger', async () => {
    const [found] = await codes('gear lap "Laptop" is laptop-on-battery');
    expect(found?.code).toBe('power/battery-close');
    expect(found && message(found)).toMatch(/^The battery of Laptop lasts 3 h, .* Plug in its charger/);
    expect(await codes('model ours is laptop-on-battery { power battery 4 h }\ngear lap "Laptop" is ours')).toEqual([]);
    expect(await codes('gear lap "Laptop" is laptop')).toEqual([]);
  });

  // USB 3: 900 mA at 5 V (USB specification, from memory).
  it.each([
    ['usb 4.5 W', []],
    ['usb 4.6 W', ['power/over-usb']],
    ['mains 40 W', []],
    ['usb', []],
  ])('%s', async (power, expected) => {
    const found = await codes(`model box is interface-4 { power ${power} }\ngear one "One" is box`);
    expect(found.map(({ code }) => code)).toEqual(expected);
  });

  it('every usual thing that takes the mains says how much', async () => {
    const models = libraryFiles().flatMap(({ text }) => [...text.matchAll(/^ {2}power +(mains|usb)\b(.*)$/gm)]);
    expect(models.length).toBeGreaterThan(20);
    for (const [line, , rest] of models) expect(rest, line).toMatch(/^ \d+(\.\d)? W$/);
  });
});
