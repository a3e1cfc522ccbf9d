/** What changes between two rigs, as the preview shows it by itself, in a browser and without an editor. */
import { afterAll, describe, expect, inject, it } from 'vitest';
import { compare } from '#compare';
import { foundBy } from '#language';
import { changesSheet, sheetsOf } from '#sheets';
import { analyseText } from '../sheets/load';
import { Webview, why } from './webview';

if (why) console.warn(`\nNOT RUN: the tests of the preview in a browser (tests/preview), because ${why}.\n`);

const RIG = `rig "Copper Wren"
source voice "Voice" is dynamic-mic
source reed "Reed" is dynamic-mic
gear iface "Interface" is interface-8-mic
input iface.1 takes voice
input iface.2 takes reed
`;

describe.skipIf(why !== undefined)('a comparison in a browser', { timeout: 60_000 }, () => {
  let webview: Webview | undefined;
  afterAll(() => webview?.close());

  it('stands without the tabs of other sheets, and a row leads to its line', async () => {
    const failure = inject('buildFailure');
    if (failure) throw new Error(`dist/ could not be built:\n${failure}`);
    const [before, after] = [await analyseText(RIG), await analyseText(RIG.replace('input iface.2', 'input iface.5'))];
    const input = (analysis: typeof before) => ({ rig: analysis.lowered.rig, findings: foundBy(analysis) });
    const sheet = changesSheet(compare(input(before), input(after)), { before: 'the last commit', after: 'club.rig' });
    webview = await Webview.open(await sheetsOf(after.checked, [], ['patch-list']));
    await webview.send({ type: 'alone', uri: 'file:///club.rig', sheet });
    const { page } = webview;
    await page.locator('.sheet-kind').filter({ hasText: 'What changes' }).waitFor();
    expect(await page.locator('[role="tab"]').count()).toBe(0);
    const row = page.locator('tr').filter({ hasText: 'plugged into' });
    await row.click();
    await expect.poll(() => webview?.said.at(-1)).toEqual({ type: 'jump', place: 'input:iface.5' });
    expect(await webview.violations()).toEqual([]);
    expect(webview.troubles).toEqual([]);
  });
});
