/** A scan beside an open rig: what is found follows its file, also for a night whose band names it. */
import { expect, it } from 'vitest';
import { FileChangeType } from 'vscode-languageserver/node';
import { Client } from './client';
import { Folder } from './folder';

const QUIET = '863.3,-101\n863.4,-99\n863.5,-100\n';
const LOUD = '863.3,-101\n863.4,-61\n863.5,-100\n';
const BAND = 'rig "Band"  region EU  scan "room.csv"\nsource voice "Voice" is wireless-mic on 863.4 MHz\n';

it('is read again when it changes, comes or goes', async () => {
  const folder = new Folder({ 'band.rig': BAND, 'night.rig': 'rig "Night"\nuse "band.rig" whole\n' });
  const client = await Client.start({ folders: [folder.uri] });
  const [band, night] = [folder.uriOf('band.rig'), folder.uriOf('night.rig')];
  await client.open(night, 'rig "Night"\nuse "band.rig" whole\n');
  const codes = () => [band, night].map((uri) => client.codes(uri).filter((code) => /^(scan|radio)\/(missing|occ)/.test(String(code))));
  const seen = (expected: string) =>
    expect
      .poll(() => JSON.stringify(codes()), { timeout: 20_000 })
      .toBe(JSON.stringify([[expected].filter(Boolean), [expected].filter(Boolean)]));
  await seen('scan/missing');
  folder.write('room.csv', LOUD);
  await client.onDisk(folder.uriOf('room.csv'), FileChangeType.Created);
  await seen('scan/occupied');
  folder.write('room.csv', QUIET);
  await client.onDisk(folder.uriOf('room.csv'), FileChangeType.Changed);
  await seen('');
  folder.remove('room.csv');
  await client.onDisk(folder.uriOf('room.csv'), FileChangeType.Deleted);
  await seen('scan/missing');
  expect(await client.stop()).toBe(0);
});
