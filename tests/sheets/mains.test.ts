/** Strips and extension leads for the mains, by hand. */
import { expect, it } from 'vitest';
import { sheetOf } from '#sheets';
import type { TableBlock } from '../../packages/sheets/sheet';
import { analyseText } from '../checks/open';

const RIG = `rig "Power" lengths 5 m, 10 m, 20 m
source voice "Voice" is dynamic-mic at 0 m, 1 m
gear iface "Interface" is our-desk at 0 m, 5 m
gear amp "Amp" is headphone-amp at 1 m, 5 m
gear far "Far amp" is headphone-amp at 4 m, 2 m
gear lost "Lost amp" is headphone-amp
gear left "Left amp" is headphone-amp at -5 m, 5 m
gear next "Next amp" is headphone-amp at -5 m, 4.5 m
model our-desk is interface-4 { power mains }
input iface.1 takes voice
`;

async function rows(sheet: 'leads' | 'pack-down', rig = RIG) {
  const { checked } = await analyseText(rig);
  if (!checked) throw new Error('no rig');
  const made = await sheetOf(sheet, checked, checked.findings);
  return made.blocks.find((block): block is TableBlock => block.kind === 'table' && block.id === 'mains')?.rows.map(({ cells }) => cells);
}

it.each(['leads', 'pack-down'] as const)(
  '%s: a strip at each place on the venue’s socket; to one thing an extension lead, whose plug is counted',
  async (sheet) => {
    // From 0, 5 to 4, 2: 7 m along the edges, times 1.2, and 2 m of slack are 10.4 m: the next that can be had is 20 m.
    expect(await rows(sheet)).toEqual([
      [1, 'strip with four sockets or more', 'the venue’s socket', 'Interface, Amp, two extension leads'],
      [1, 'strip with two sockets or more', 'the venue’s socket', 'Left amp, Next amp'],
      [1, 'extension lead of 20 m, one socket', 'the strip at Interface', 'Far amp'],
      [1, 'extension lead, one socket', 'the strip at Interface; place not known', 'Lost amp'],
    ]);
  },
);

it('is not there where nothing takes the mains', async () => {
  expect(
    await rows(
      'leads',
      'rig "Quiet"\nsource v is dynamic-mic\nmodel quiet is interface-4 { power battery 6 h }\ngear i is quiet\ninput i.1 takes v',
    ),
  ).toBeUndefined();
});
