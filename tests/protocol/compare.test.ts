/** What changes, asked of the built server: since the last commit by the real git, and against another file. */
import { spawnSync } from 'node:child_process';
import { expect, it } from 'vitest';
import { type ChangesShown, COMPARE, type CompareWanted, SHEETS, type Sheets, WATCH, type Watched } from '#server/protocol';
import { Client } from './client';
import { Folder } from './folder';

const RIG = `rig "Copper Wren"
performer ana "Ana"
source voice "Voice" is dynamic-mic by ana
source reed "Reed" is dynamic-mic by ana
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
input iface.2 takes reed
`;

function rowsOf({ sheet }: ChangesShown, id: string) {
  const block = sheet.blocks.find((each) => each.id === id);
  return block?.kind === 'table' ? block.rows : [];
}

it('compares with the last commit, and with another rig, with where it all stands', { timeout: 60_000 }, async () => {
  const folder = new Folder({ 'club.rig': RIG, 'other.rig': RIG.replace('input iface.2 takes reed\n', '') });
  const git = (...words: string[]) =>
    spawnSync('git', ['-C', folder.path, '-c', 'user.name=A', '-c', 'user.email=a@example.invalid', ...words], { encoding: 'utf8' });
  const client = await Client.start();
  const uri = folder.uriOf('club.rig');
  await client.open(uri, RIG.replace('input iface.2', 'input iface.5'));
  const asked = (wanted: Partial<CompareWanted> = {}) => client.connection.sendRequest<ChangesShown>(COMPARE, { uri, ...wanted });
  await expect(asked()).rejects.toThrow(/This folder is in no git repository/);
  git('init', '-q');
  await expect(asked()).rejects.toThrow(/Nothing has been committed in this repository yet/);
  git('add', '-A');
  git('commit', '-qm', 'first');
  const since = await asked();
  const [plug] = rowsOf(since, 'plugs');
  expect(plug?.cells).toEqual(expect.arrayContaining(['Reed', 'plugged into', 'Interface input 2', 'Interface input 5']));
  expect(since.spots[plug?.place ?? '']).toMatchObject({ uri, range: { start: { line: 6 } } });
  const other = await asked({ old: folder.uriOf('other.rig') });
  expect(rowsOf(other, 'plugs').map(({ cells }) => cells)).toEqual([['', 'Interface input 5', 'new', '', 'Reed']]);
  await expect(asked({ old: folder.uriOf('nothing.rig') })).rejects.toThrow(/nothing\.rig cannot be read/);
  await client.stop();
});

it('marks the rows of watched sheets that have changed, and says why where it cannot', { timeout: 60_000 }, async () => {
  const folder = new Folder({ 'club.rig': RIG, 'other.rig': RIG.replace('iface.2 takes', 'iface.5 takes') });
  const client = await Client.start();
  const uri = folder.uriOf('club.rig');
  const asked = (against: Watched['against']) =>
    new Promise<Sheets>((resolve) => {
      client.connection.onNotification(SHEETS, resolve);
      void client.connection.sendNotification(WATCH, { uri, sheets: ['patch-list'], against } satisfies Watched);
    });
  await client.open(uri, RIG);
  const alone = await asked({});
  expect(alone.unmarked).toMatch(/This folder is in no git repository/);
  expect(alone.sheets).toHaveLength(1);
  const marked = await asked({ old: folder.uriOf('other.rig') });
  expect(marked.unmarked).toBeUndefined();
  const [block] = marked.sheets?.[0]?.blocks.filter(({ id }) => id === 'inputs') ?? [];
  expect(block?.kind === 'table' && block.rows.map(({ key, change }) => [key, change])).toEqual([
    ['iface.1', undefined],
    ['iface.2', 'new'],
  ]);
  await client.stop();
});
