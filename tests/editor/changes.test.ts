/** What changes since the last commit, in a real workbench with the packaged extension and the real git: a page with jumps, and marks on the sheets. */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { ended, temporaryFolder, withoutEditor } from './around';
import { packaged } from './packaged';
import { Workbench } from './workbench.mjs';

/** An invented duo. */
const RIG = `rig "Tin Orchard, barn"  mains shared
performer ilo   "Ilo"   at -1 m, 2 m
performer ruta  "Ruta"  at  1 m, 2 m
source zither   "Zither"   is clip-on-mic    by ilo
source serpent  "Serpent"  is preamp-pickup  by ruta
gear iface  "Interface"  is interface-8-mic  at 0 m, 3 m  owned
input iface.1  takes zither
input iface.2  takes serpent  via passive-di
mix ilo   mono  for ilo   { zither 0 dB  serpent -4 dB }
mix ruta  mono  for ruta  { serpent 0 dB  zither -6 dB }
output iface.phones1  carries ilo
output iface.phones2  carries ruta
`;

describe.skipIf(withoutEditor('changes in a real editor'))('what changes', { timeout: 120_000 }, () => {
  const folder = temporaryFolder('changes');
  const file = path.join(folder, 'barn.rig');
  let workbench: Workbench;

  beforeAll(async () => {
    writeFileSync(file, RIG);
    for (const words of [
      ['init', '-q'],
      ['add', '-A'],
      ['commit', '-qm', 'first'],
    ])
      spawnSync('git', ['-C', folder, '-c', 'user.name=A', '-c', 'user.email=a@example.invalid', ...words]);
    writeFileSync(file, RIG.replace('iface.2  takes', 'iface.5  takes'));
    workbench = await Workbench.start({ vsix: packaged(), folder });
    await workbench.open('barn.rig');
  }, 240_000);
  ended(() => workbench);

  it('is a page of its own, whose rows lead to their lines', async () => {
    await workbench.run('Earloom: Compare with the Last Commit');
    const row = workbench.webview().locator('.entry > tr[tabindex]').filter({ hasText: 'Serpent' }).first();
    await row.waitFor({ timeout: 60_000 });
    expect((await row.textContent())?.replace(/\s+/g, ' ')).toMatch(/plugged into ?Interface input 2 ?Interface input 5/);
    await row.click();
    await expect.poll(async () => (await workbench.cursor()).line, { timeout: 20_000 }).toBe(8);
  });

  it('is marked at the rows of the sheets', async () => {
    await workbench.run('View: Close All Editors');
    await workbench.open('barn.rig');
    await workbench.run('Earloom: Mark Changed Rows in the Sheets');
    await workbench.page.locator('.quick-input-list .monaco-list-row.focused').filter({ hasText: 'Since the last commit' }).waitFor();
    await workbench.page.keyboard.press('Enter');
    const marked = workbench.webview().locator('.table-inputs .entry.changes');
    await marked.first().waitFor({ timeout: 60_000 });
    expect(await marked.count()).toBe(1);
    expect(await marked.textContent()).toMatch(/new.*Interface 5.*Serpent/s);
  });
});
