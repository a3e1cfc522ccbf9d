/** What the webview is given and what it shows; read back by parse5. The page itself is opened in a browser by the tests of the editor. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse, parseFragment, type DefaultTreeAdapterTypes as T, defaultTreeAdapter as tree } from 'parse5';
import { render } from 'preact-render-to-string';
import { describe, expect, it } from 'vitest';
import { previewHtml } from '#preview';
import { patchSheetOf, type Sheet } from '#sheets';
import { TAB_IDS, TAB_NAMES, type TabId } from '#sheets/sheet';
import { App, isUnder, type Shown } from '../../packages/preview/App';
import { firstRig } from '../../packages/preview/Start';
import { analyse, analyseText, here, sheetOf, TOUR } from './load';

function all(node: T.ParentNode, name?: string): T.Element[] {
  return node.childNodes.flatMap((child) =>
    tree.isElementNode(child) ? [...(name === undefined || child.tagName === name ? [child] : []), ...all(child, name)] : [],
  );
}

function text(node: T.ParentNode): string {
  return node.childNodes.map((child) => (tree.isTextNode(child) ? child.value : tree.isElementNode(child) ? text(child) : '')).join('');
}

const attribute = (element: T.Element, name: string) => element.attrs.find((each) => each.name === name)?.value;
const hasClass = (element: T.Element, name: string) => attribute(element, 'class')?.split(' ').includes(name) ?? false;

describe('the page', () => {
  const options = {
    scriptUri: 'https://w/preview.js?a=1&b="2"',
    styleUri: 'https://w/preview.css',
    cspSource: 'https://w',
    nonce: 'n0nce',
    title: '</title><script>1</script>',
  };

  it('lets in our script and our style, and nothing else', () => {
    const problems: string[] = [];
    const page = parse(previewHtml(options), { onParseError: (error) => problems.push(error.code) });
    expect(problems).toEqual([]);
    const policy = all(page, 'meta').find((meta) => attribute(meta, 'http-equiv') === 'Content-Security-Policy');
    const directives = new Map(
      (attribute(policy as T.Element, 'content') ?? '').split('; ').map((each) => [each.split(' ')[0], each.split(' ').slice(1).join(' ')]),
    );
    expect(directives.get('default-src')).toBe("'none'");
    expect(directives.get('script-src')).toBe("'nonce-n0nce'");
    expect(directives.get('style-src')).toBe('https://w');
    expect(all(page, 'script').map((script) => [attribute(script, 'src'), attribute(script, 'nonce'), text(script)])).toEqual([
      [options.scriptUri, 'n0nce', ''],
    ]);
    expect(
      all(page)
        .flatMap((element) => element.attrs)
        .filter((each) => each.name === 'style' || each.name.startsWith('on')),
    ).toEqual([]);
    expect(text(all(page, 'title')[0] as T.Element)).toBe(options.title);
  });
});

const row = { key: 'a', about: [], findings: [], cells: ['input iface.1 takes voice'] };

describe('the preview', async () => {
  const sheet = sheetOf(await analyse(TOUR));
  const nothing = () => undefined;
  const page = (
    shown: (Pick<Shown, 'uri' | 'title'> & Partial<Shown>) | undefined,
    cursor: readonly string[] = [],
    chosen: TabId = 'patch-list',
  ) => {
    const whole = shown && { lends: false, titled: false, ...shown };
    const zooms = { of: () => 1, set: nothing };
    const act = { ticked: [], zooms, jump: nothing, choose: nothing, write: nothing, mark: nothing };
    return parseFragment(render(<App shown={whole} chosen={chosen} cursor={cursor} {...act} />));
  };
  const show = (cursor: readonly string[], list = sheet) =>
    page({ uri: 'file:///a.rig', title: 'a.rig', sheet: patchSheetOf(list) }, cursor);
  const rows = (page: T.ParentNode) => all(page, 'tr').filter((row) => attribute(row, 'tabindex') === '0');

  it('has a row to go to for each row of the sheet, and says how many findings there are as they change', () => {
    const page = show([]);
    expect(rows(page)).toHaveLength(sheet.inputs.length + sheet.outputs.length + sheet.house.length);
    const live = all(page).filter((element) => attribute(element, 'aria-live') === 'polite');
    expect(live.map(text)).toEqual([expect.stringMatching(/\d+ error/)]);
    expect(
      all(page, 'button')
        .filter((button) => attribute(button, 'role') !== 'tab')
        .map(text),
    ).toEqual(
      all(page)
        .filter((element) => hasClass(element, 'note'))
        .map((note) => text(all(note, 'button')[0] as T.Element)),
    );
  });

  it('says of a plan that it is being made, that it is of an earlier text, why there is none; and lets it be written', async () => {
    const plan: Sheet<'plan'> = {
      id: 'plan',
      name: 'Plan',
      title: 'A',
      facts: [],
      blocks: [{ kind: 'table', id: 'changes', title: 'Written', columns: [{ title: 'Line', names: true }], rows: [row], empty: '' }],
    };
    const told = (state: NonNullable<Shown['plan']>, sheet?: Sheet<'plan'>) => {
      const shown = page({ uri: 'file:///a.rig', title: 'a.rig', lends: true, sheet, plan: state }, [], 'plan');
      const buttons = all(shown, 'button').filter((button) => hasClass(button, 'write'));
      // Who went there by the arrow keys is still there.
      expect(all(shown).filter((element) => attribute(element, 'role') === 'tab').length).toBe(TAB_IDS.length);
      return { says: all(shown, 'p').map(text).join(' '), buttons: buttons.length, tables: all(shown, 'table').length };
    };
    expect(told({ making: true })).toMatchObject({ says: 'Planning …', buttons: 0, tables: 0 });
    const earlier = told({ making: true }, plan);
    expect(earlier).toMatchObject({ buttons: 0, tables: 1 });
    expect(earlier.says).toContain('the plan of the text before it was changed');
    expect(told({ making: false }, plan)).toMatchObject({ buttons: 1, tables: 1 });
    expect(told({ making: false }, { ...plan, blocks: [] })).toMatchObject({ buttons: 0 });
    expect(told({ making: false, problem: 'Time ran out.' }).says).toContain('could not be planned: Time ran out.');
  });

  it('lights up the rows of the statement under the cursor', () => {
    const lit = (cursor: readonly string[]) =>
      rows(show(cursor))
        .filter((row) => attribute(row, 'aria-current') === 'true')
        .map((row) => text(all(row, 'th')[0] as T.Element));
    const clarinet = sheet.inputs[2]?.place ?? '';
    expect(lit([])).toEqual([]);
    expect(lit([clarinet])).toEqual(['Interface 3']);
    expect(lit([`${clarinet}/via.0`])).toEqual(['Interface 3']);
    expect(lit(['source:voice'])).toEqual(['Interface 1', '8']);
    expect(lit(['gear:pack-t'])).toEqual(['Interface 2']);
  });

  it('does not take a statement for another that begins like it', () => {
    expect(isUnder(['input:12'], ['input:1'])).toBe(false);
    expect(isUnder(['input:1'], ['input:12'])).toBe(false);
    expect(isUnder(['input:1/port'], ['input:1'])).toBe(true);
  });

  it('leaves labels text', async () => {
    const page = show([], sheetOf(await analyse(here('awkward.rig'))));
    expect(text(page)).toContain('<img src=x onerror=alert(1)>');
    expect(all(page, 'img')).toEqual([]);
    expect(all(page, 'script')).toEqual([]);
  });

  it('needs no style of its own in any element, as the policy forbids it', () => {
    expect(
      all(show(['source:voice']))
        .flatMap((element) => element.attrs)
        .filter((each) => each.name === 'style'),
    ).toEqual([]);
  });

  it('says how to start where there is nothing, with a rig that is right', async () => {
    const page = show([], sheetOf(await analyseText('rig "Nothing"')));
    expect(text(all(page, 'pre')[0] as T.Element)).toBe(firstRig(false));
    const first = await analyseText(firstRig(false));
    expect(first.located).toEqual([]);
    const list = sheetOf(first);
    expect(list.inputs).toHaveLength(1);
    expect(list.outputs.map((row) => row.listeners)).toEqual(['Mira']);
  });

  it('leaves the title out where there is one', async () => {
    const title = 'rig "Nothing"\n';
    const nothing = patchSheetOf(sheetOf(await analyseText(title)));
    const shown = page({ uri: 'file:///a.rig', title: 'Nothing', sheet: nothing, titled: true });
    expect(text(all(shown, 'pre')[0] as T.Element)).toBe(firstRig(true));
    expect((await analyseText(`${title}${firstRig(true)}`)).located).toEqual([]);
  });

  it('says how to start in a file with nothing in it, with the tabs in place', () => {
    const shown = page({ uri: 'file:///a.rig', title: 'a.rig' });
    expect(text(all(shown, 'pre')[0] as T.Element)).toBe(firstRig(false));
    expect(all(shown).filter((element) => attribute(element, 'role') === 'tab')).toHaveLength(TAB_IDS.length);
  });

  it('has a tab for each sheet, the chosen one in the way of the keyboard', () => {
    const page = show([]);
    const tabs = all(page).filter((element) => attribute(element, 'role') === 'tab');
    expect(tabs.map(text)).toEqual(TAB_IDS.map((id) => TAB_NAMES[id]));
    expect(tabs.map((tab) => [attribute(tab, 'aria-selected'), attribute(tab, 'tabindex')])).toEqual(
      TAB_IDS.map((id) => (id === 'patch-list' ? ['true', '0'] : ['false', '-1'])),
    );
    const [panel] = all(page).filter((element) => attribute(element, 'role') === 'tabpanel');
    const chosen = tabs.find((tab) => attribute(tab, 'aria-selected') === 'true');
    expect(attribute(panel as T.Element, 'aria-labelledby')).toBe(attribute(chosen as T.Element, 'id'));
    expect(tabs.map((tab) => attribute(tab, 'aria-controls'))).toEqual(TAB_IDS.map(() => attribute(panel as T.Element, 'id')));
  });

  it('does not show one sheet under the tab of another', () => {
    const waiting = page({ uri: 'file:///a.rig', title: 'a.rig', sheet: patchSheetOf(sheet) }, [], 'mixes');
    expect(all(waiting, 'table')).toEqual([]);
    expect(all(waiting).filter((element) => attribute(element, 'aria-busy') === 'true')).toHaveLength(1);
  });

  it('says so where a file has no rig', () => {
    expect(text(page({ uri: 'file:///shelf.rig', title: 'shelf.rig', lends: true }))).toMatch(/^shelf\.rig.*lends its gear/);
  });
});

it('no HTML is put together from text in what the webview runs', () => {
  const folder = join(import.meta.dirname, '../../packages');
  const sources = [
    'preview/main.tsx',
    'preview/App.tsx',
    'preview/Start.tsx',
    'preview/Tabs.tsx',
    'preview/Drawn.tsx',
    'preview/Ticked.tsx',
    'preview/focus.ts',
    ...['Sheet', 'Table', 'Notes', 'Frame', 'TickBar'].map((name) => `sheets/render/components/${name}.tsx`),
    'sheets/draw/svg.tsx',
  ];
  for (const source of sources)
    expect(readFileSync(join(folder, source), 'utf8'), source).not.toMatch(
      /innerHTML|outerHTML|insertAdjacentHTML|dangerouslySetInnerHTML|document\.write|\beval\(/,
    );
});
