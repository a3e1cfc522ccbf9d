/** Code lenses, written above the line where they are shown: `── 2 of 3 inputs`. */
import { describe, expect, it } from 'vitest';
import type { CodeLens } from 'vscode-languageserver';
import { type Bench, open } from './bench';

async function lensesOf(bench: Bench): Promise<CodeLens[]> {
  return (await bench.services.lsp.CodeLensProvider?.provideCodeLens(bench.document, { textDocument: { uri: '' } })) ?? [];
}

async function seen(source: string, wishes: unknown = { lenses: { mixes: true } }): Promise<string> {
  const bench = await open(source.replace(/^── .*\n/gm, ''));
  bench.services.editor.Settings.take(wishes);
  bench.services.editor.Settings.takeCommands({ commands: { openSheets: 'open.it', showProblems: 'show.them' } });
  const lenses = await lensesOf(bench);
  return bench.document.textDocument
    .getText()
    .split('\n')
    .flatMap((text, line) => [
      ...lenses.filter(({ range }) => range.start.line === line).map(({ command }) => `── ${command?.title}`),
      text,
    ])
    .join('\n');
}

const MODELS = `
model mic { output out xlr mic phantom needed draws 3 mA }
model plain-mic { output out xlr mic }
model desk is interface {
  input 1..4 xlr mic phantom each
  input usb1..usb2 digital
  output 1..4 trs line
  output phones trs phones channels 2
  mixes 2 stereo
  phantom 20 mA
}
model link is transmitter { input left, right trs line  output air from left, right active radio }
model radio-pack is pack { input air radio  output phones mini-trs from air active phones }
`;

const CLEAN = `── Open the sheets
rig "Marsh Lamp"
performer io "Io"
performer una "Una"
performer bo "Bo"
source voice is mic by io
source reed is mic by una
source drum is plain-mic by bo
source drone is computer-channel
── 3 of 4 inputs, 1 of 2 digital, 2 of 2 stereo mixes, phantom 6 of 20 mA
gear desk "Desk" is desk
gear tx "Transmitter" is link
gear io-pack "Io's pack" is radio-pack for io hears tx.left
gear una-pack "Una's pack" is radio-pack for una hears tx.left
input desk.1 takes voice
input desk.2 takes reed
input desk.3 takes drum
input desk.usb1 takes drone
── Io hears it by Io's pack, Una by Una's pack
mix front mono for io, una { voice 0 dB  reed 0 dB }
── Bo hears it by Desk phones
mix bo stereo for bo { drum 0 dB }
── it goes to house 3
mix out mono for house { drone 0 dB }
output desk.1 carries front via tx.left
output desk.phones carries bo
output desk.2 carries out via passive-di
house 3 takes out
${MODELS}`;

describe('lenses', () => {
  it('say what is used, and who hears what', async () => {
    expect(await seen(CLEAN)).toBe(CLEAN);
  });

  it('leave out who hears what, unless somebody wishes it', async () => {
    const text = await seen(CLEAN, null);
    expect(text).not.toMatch(/hears it|it goes to/);
    expect(text).toContain('── 3 of 4 inputs');
  });

  it('are switched off one by one', async () => {
    const bare = CLEAN.replace(/^── .*\n/gm, '');
    expect(await seen(CLEAN, { lenses: { rig: false, gear: false, mixes: false } })).toBe(bare);
    expect(await seen(CLEAN, { lenses: { rig: true, gear: false, mixes: false } })).toBe(`── Open the sheets\n${bare}`);
  });

  const cases: Record<string, string> = {
    'what is to be put right': `── Open the sheets
── 2 to put right
rig "Half"
performer io
── nobody hears it yet
mix io mono for io { nobody 0 dB }`,
    'what nobody hears': `── Open the sheets
── 2 to put right
rig "Half"
performer io
source voice is dynamic-mic by io
── 1 of 2 inputs, 0 of 1 stereo mixes
gear iface is interface-2
input iface.1 takes voice
── nobody hears it yet
mix io mono for io { voice 0 dB }`,
  };
  it.each(Object.entries(cases))('%s', async (_, source) => {
    const bench = await seen(source);
    // How many mistakes there are belongs to other tests; that they are told is what counts here.
    expect(bench.replace(/\d+ to put right/, 'n')).toBe(source.replace(/\d+ to put right/, 'n'));
  });

  it('count what wears no note, no more and no less', async () => {
    const source = 'rig "Half"\nperformer io\nmix io mono for io { nobody 0 dB }';
    const bench = await open(source);
    const wrong = bench.analysis().located.filter(({ finding }) => finding.severity !== 'note').length;
    expect(wrong).toBeGreaterThan(0);
    expect(await seen(source)).toContain(`── ${wrong} to put right`);
  });

  it('count microphones where their currents are not known', async () => {
    expect(await seen(CLEAN.replace(' draws 3 mA', ''))).toContain(', phantom for 2\n');
  });

  it('are words only in an editor that has no command for them, and offer nothing that it cannot open', async () => {
    const bench = await open('rig "Half"\nperformer io\nmix io mono for io { nobody 0 dB }');
    const titles = (await lensesOf(bench)).map(({ command }) => ({ title: command?.title.replace(/\d+/, 'n'), command: command?.command }));
    expect(titles).toEqual([{ title: 'n to put right', command: '' }]);
  });

  it('open the sheets of this rig', async () => {
    const bench = await open('rig "Half"');
    bench.services.editor.Settings.takeCommands({ commands: { openSheets: 'open.it' } });
    const [lens] = await lensesOf(bench);
    expect(lens?.command).toMatchObject({ command: 'open.it', arguments: [bench.document.uri.toString()] });
  });

  it('stand in no file that only lends its gear', async () => {
    const bench = await open({ 'shelf.rig': 'gear desk is desk\nmodel desk is interface { input 1..8 xlr mic }' });
    expect(await lensesOf(bench)).toEqual([]);
  });
});
