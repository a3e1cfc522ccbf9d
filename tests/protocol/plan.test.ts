/** A plan over the protocol, by the built server: made on a thread, told how far it is, let go of when nobody waits. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CancellationTokenSource, CodeActionRequest, DocumentSymbolRequest } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { editsOf } from '#language/taken';
import { PLAN, PLAN_PROGRESS, type Planned, type PlanProgress, UNWATCH, WATCH, type Watched } from '#server/protocol';
import { rigToPlan } from '../plan/made';
import { Client } from './client';

const RIG = `# Invented.
rig "Two on a stage"
  budget 60 EUR
performer ada "Ada" at 0 m, 1 m
performer bo "Bo" at 1 m, 1 m
source voice "Voice" is dynamic-mic by ada
source keys "Keys" is stereo-keyboard by bo
gear iface "Interface" is interface-8-mic at 1 m, 2 m owned
house 1 takes voice
mix ada mono for ada { voice 0 dB keys -6 dB }
mix bo mono for bo { keys 0 dB }
output iface.phones1 carries ada
output iface.phones2 carries bo
`;

describe('a plan by the server', () => {
  let client: Client;
  const uri = 'untitled:plan.rig';
  beforeAll(async () => {
    client = await Client.start({ initializationOptions: { commands: { planRig: 'editor.plan' } } });
    await client.open(uri, RIG);
  });
  afterAll(() => client.stop());

  it('comes as edits, which make a rig that leaves nothing to plan, with a page and how far it is', async () => {
    const told: number[] = [];
    client.connection.onNotification(PLAN_PROGRESS, ({ done }: PlanProgress) => {
      told.push(done);
    });
    const planned = await client.connection.sendRequest<Planned>(PLAN, { uri });
    expect(planned.version).toBe(1);
    expect(planned.unwritten).toBe(0);
    expect(planned.page).toContain('## Lines');
    expect(told.length).toBeGreaterThan(0);
    expect(planned.changes.filter(({ about }) => about === 'source:voice').map(({ says }) => says.split(' ')[0])).toContain('input');
    // What a line goes through is brought by another change, so that a line can be taken with it.
    for (const { needs } of planned.changes) for (const name of needs) expect(planned.changes.map(({ brings }) => brings)).toContain(name);
    const text = TextDocument.applyEdits(TextDocument.create(uri, 'rig', 1, RIG), editsOf(planned.changes));
    const other = 'untitled:planned.rig';
    await client.open(other, text);
    const again = await client.connection.sendRequest<Planned>(PLAN, { uri: other });
    expect(again.changes, text).toEqual([]);
    expect(again.summary).toContain('Nothing is left to plan');
  }, 60_000);

  it('is let go of when nobody waits, and others are answered meanwhile', async () => {
    // So large that it is far from done.
    const large = 'untitled:large.rig';
    await client.open(large, rigToPlan({ sources: 60, seed: 3 }));
    const source = new CancellationTokenSource();
    const planned = client.connection.sendRequest<Planned>(PLAN, { uri: large }, source.token);
    const outline = await client.connection.sendRequest(DocumentSymbolRequest.type, { textDocument: { uri } });
    expect(outline?.length).toBeGreaterThan(0);
    source.cancel();
    await expect(planned).rejects.toThrow();
  }, 60_000);

  it('is sent to whoever looks at it: first that it is being made, after each change the last one meanwhile, and then anew', async () => {
    const looked = 'untitled:looked.rig';
    await client.open(looked, RIG);
    await client.diagnostics(looked);
    const plans = () => client.sheets.filter((each) => each.uri === looked);
    await client.connection.sendNotification(WATCH, { uri: looked, sheets: [], plan: true } satisfies Watched);
    await client.until(() => plans().some(({ plan }) => plan?.making === false), 'the plan', 30_000);
    expect(plans().map(({ plan, sheets }) => [plan, sheets?.length])).toEqual([
      [{ making: true }, 0],
      [{ making: false }, 1],
    ]);
    const inputs = () =>
      JSON.stringify(
        plans()
          .at(-1)
          ?.sheets?.[0]?.blocks.find(({ id }) => id === 'lines'),
      );
    expect(plans().at(-1)?.spots['source:voice']?.uri).toBe(looked);
    expect(inputs()).toContain('Keys');
    const version = client.change(looked, { text: RIG.replace('"Keys"', '"Harmonium"') });
    await client.until(() => plans().at(-1)?.version === version, 'word of the change', 30_000);
    expect(plans().at(-1)?.plan).toEqual({ making: true });
    expect(inputs()).toContain('Keys');
    await client.until(() => plans().at(-1)?.plan?.making === false, 'the new plan', 30_000);
    expect(inputs()).toContain('Harmonium');
    // It need not be made again to be written.
    const told: number[] = [];
    client.connection.onNotification(PLAN_PROGRESS, ({ done }: PlanProgress) => {
      told.push(done);
    });
    const planned = await client.connection.sendRequest<Planned>(PLAN, { uri: looked });
    expect(planned.changes.length).toBeGreaterThan(0);
    expect(told).toEqual([]);
    await client.connection.sendNotification(UNWATCH, { uri: looked });
  }, 60_000);

  it('is not made while somebody types, nor for whoever looks no more', async () => {
    const typed = 'untitled:typing.rig';
    await client.open(typed, RIG);
    await client.diagnostics(typed);
    const plans = () => client.sheets.filter((each) => each.uri === typed);
    await client.connection.sendNotification(WATCH, { uri: typed, sheets: [], plan: true } satisfies Watched);
    let version = 1;
    for (let at = 0; at < 5; at++) {
      version = client.change(typed, { text: `${RIG}# ${at}\n` });
      await client.diagnostics(typed, version);
    }
    await client.until(() => plans().at(-1)?.plan?.making === false, 'the plan', 30_000);
    expect(
      plans()
        .filter(({ plan }) => plan?.making === false)
        .map((each) => each.version),
    ).toEqual([version]);
    client.change(typed, { text: `${RIG}# more\n` });
    await client.connection.sendNotification(UNWATCH, { uri: typed });
    const sent = plans().length;
    await client.diagnostics(typed, version + 1);
    await new Promise((resolve) => setTimeout(resolve, 1500));
    expect(plans().filter(({ plan }) => plan?.making === false).length).toBe(1);
    expect(plans().length).toBeLessThanOrEqual(sent + 1);
  }, 60_000);

  it('is offered where a source is not patched', async () => {
    const range = { start: { line: 9, character: 0 }, end: { line: 9, character: 80 } };
    const diagnostics = (await client.diagnostics(uri)).filter(({ code }) => code === 'mixes/not-patched');
    const actions = await client.connection.sendRequest(CodeActionRequest.type, { textDocument: { uri }, range, context: { diagnostics } });
    const offers = actions?.flatMap((action) => ('command' in action && typeof action.command === 'object' ? [action.command] : []));
    expect(offers?.map((command) => command?.command)).toContain('editor.plan');
    expect(offers?.[0]?.arguments).toEqual([uri, 'source:voice']);
  }, 60_000);

  it('is offered at a source that is not patched, where nothing is found', async () => {
    const range = { start: { line: 6, character: 8 }, end: { line: 6, character: 8 } };
    const actions = await client.connection.sendRequest(CodeActionRequest.type, {
      textDocument: { uri },
      range,
      context: { diagnostics: [] },
    });
    expect(actions?.map(({ title }) => title)).toEqual(expect.arrayContaining(['Plan a place for Keys…']));
    expect(actions?.map(({ title }) => title)).not.toContain('Plan a place for Voice…');
  }, 60_000);

  it.each([
    ['by an output that is free', RIG.replace('output iface.phones2 carries bo\n', ''), ['output']],
    [
      'by a transmitter that is there and a pack',
      RIG.replace('output iface.phones2 carries bo\n', 'gear tx is in-ear-transmitter on 863.4 MHz owned\ngear pack is belt-pack owned\n')
        .replace('is interface-8-mic', 'is lines-only')
        .replace('carries ada', 'carries ada via headphone-amp')
        .replace('phones1', '1')
        .replace(
          'gear iface',
          'model lines-only is interface { input 1..4 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB output 1..2 trs line impedance 150 ohm max 16 dBu mixes 2 mono }\ngear iface',
        ),
      ['gear', 'output'],
    ],
    [
      'not where all outputs are taken',
      RIG.replace('interface-8-mic', 'lines-only')
        .replace('output iface.phones2 carries bo\n', '')
        .replace('phones1', '1')
        .replace(
          'gear iface',
          'model lines-only is interface { input 1..4 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB output 1 trs line impedance 150 ohm max 16 dBu mixes 2 mono }\ngear iface',
        ),
      [],
    ],
  ])(
    'is offered for a mix that nobody hears: %s',
    async (how, text, words) => {
      const unheard = `untitled:${how.replaceAll(' ', '-')}.rig`;
      await client.open(unheard, text);
      const diagnostics = (await client.diagnostics(unheard)).filter(({ code }) => code === 'mixes/unheard');
      expect(diagnostics.length).toBe(1);
      const [{ range }] = diagnostics as [(typeof diagnostics)[number]];
      const actions = await client.connection.sendRequest(CodeActionRequest.type, {
        textDocument: { uri: unheard },
        range,
        context: { diagnostics },
      });
      expect(actions?.map(({ title }) => title).filter((title) => title.startsWith('Plan'))).toEqual(
        words.length > 0 ? ['Plan a way for the mix bo…'] : [],
      );
      const { changes } = await client.connection.sendRequest<Planned>(PLAN, { uri: unheard });
      // Their pack comes with it.
      expect(changes.flatMap(({ about, says }) => (about === 'mix:bo' ? says.split(' ', 1) : []))).toEqual(words);
      await client.close(unheard);
    },
    60_000,
  );

  it('is of the text that has only just been opened, before anything is found in it', async () => {
    const fresh = 'untitled:fresh.rig';
    void client.open(fresh, RIG);
    const planned = await client.connection.sendRequest<Planned>(PLAN, { uri: fresh });
    expect(planned.version).toBe(1);
    expect(planned.changes.map(({ about }) => about)).toEqual(expect.arrayContaining(['source:voice', 'source:keys']));
  }, 60_000);

  it('is of the text as it has just been typed', async () => {
    const typed = 'untitled:typed.rig';
    void client.open(typed, RIG);
    client.change(typed, { text: RIG.replaceAll('keys', 'harmonium') });
    const planned = await client.connection.sendRequest<Planned>(PLAN, { uri: typed });
    expect(planned.version).toBe(2);
    expect(planned.changes.map(({ about }) => about)).toEqual(expect.arrayContaining(['source:voice', 'source:harmonium']));
  }, 60_000);

  it('says what it could not look at: prices in another currency, and what a mistake hides', async () => {
    const thin = 'untitled:thin.rig';
    void client.open(thin, `model our-y is y-lead { buy 8 GBP }\n${RIG.replace('is stereo-keyboard', 'is stereo-keybord')}`);
    const { summary, page } = await client.connection.sendRequest<Planned>(PLAN, { uri: thin });
    for (const said of [summary, page]) {
      expect(said).toContain('A mistake in the text may hide something from the plan');
      expect(said).toContain('Prices in GBP are not looked at');
    }
  }, 60_000);

  it('fails where there is no rig', async () => {
    const shelf = 'untitled:shelf.rig';
    await client.open(shelf, 'model mine is dynamic-mic\n');
    await expect(client.connection.sendRequest(PLAN, { uri: shelf })).rejects.toThrow('There is no rig');
  });
});
