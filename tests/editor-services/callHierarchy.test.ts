/** The signal path, drawn as an editor draws it when every branch is opened. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CallHierarchyItem } from 'vscode-languageserver';
import { SignalPath, type Stop, stopKey } from '#engine';
import { root } from '../build';
import { type Bench, open } from './bench';

type Way = 'on' | 'back';

async function prepared({ services, document, position }: Bench): Promise<CallHierarchyItem[]> {
  return (await services.lsp.CallHierarchyProvider?.prepareCallHierarchy(document, { textDocument: { uri: '' }, position })) ?? [];
}

async function stepsFrom({ services }: Bench, item: CallHierarchyItem, way: Way): Promise<CallHierarchyItem[]> {
  const provider = services.lsp.CallHierarchyProvider;
  if (way === 'on') return ((await provider?.outgoingCalls({ item })) ?? []).map(({ to }) => to);
  return ((await provider?.incomingCalls({ item })) ?? []).map(({ from }) => from);
}

async function drawn(bench: Bench, way: Way): Promise<string> {
  const lines: string[] = [];
  const draw = async (item: CallHierarchyItem, indent: string): Promise<void> => {
    lines.push(`${indent}${item.name}${item.detail ? ` | ${item.detail}` : ''}`);
    // Open a hundred branches, and it is a circle.
    if (lines.length > 100) throw new Error(lines.join('\n'));
    for (const next of await stepsFrom(bench, item, way)) await draw(next, `${indent}  `);
  };
  for (const item of await prepared(bench)) await draw(item, '');
  return lines.join('\n');
}

const RIG = `rig "Marsh Lamp"
performer io "Io"
performer una "Una"
source voice "Voice" is mic by io
source reed "Reed" is mic by una
gear desk "Desk" is desk
gear tx "Transmitter" is link
gear io-pack "Io's pack" is radio-pack for io hears tx.left
gear una-pack "Una's pack" is radio-pack for una hears tx.right
input desk.1 takes voice via y-lead
input desk.2 takes reed
house 7 takes voice
house 8 takes out
mix io "Io's ears" mono for io { voice 0 dB  reed -3 dB }
mix una stereo for una { reed 0 dB }
mix out mono for house { reed 0 dB }
output desk.1 carries io via tx.left
output desk.phones carries una
output desk.2 carries out via passive-di
model mic { output out xlr mic }
model desk is interface {
  input 1..4 xlr mic
  output 1..4 trs line
  output phones trs phones channels 2
}
model link is transmitter { input left, right trs line  output air from left, right active radio }
model radio-pack is pack { input air radio  output phones mini-trs from air active phones }
`;

/** The cursor before the first of these words in the rig. */
function at(words: string): string {
  return RIG.replace(words, `<|>${words}`);
}

describe('signal path', () => {
  const onward: Record<string, [string, string]> = {
    'of a source, all the way to who hears it': [
      at('voice "Voice"'),
      `Voice | Io, for where it goes: Show Outgoing Calls
  Y-lead | Voice
    Desk in 1 | Voice
      Mix Io's ears | mono
        Desk out 1 | Io's ears
          Transmitter left | Io's ears
            Io's pack | Io's ears
              Io
    house 7 | Voice`,
    ],
    'of a source that leaves by several mixes': [
      at('reed "Reed"'),
      `Reed | Una, for where it goes: Show Outgoing Calls
  Desk in 2 | Reed
    Mix Io's ears | mono
      Desk out 1 | Io's ears
        Transmitter left | Io's ears
          Io's pack | Io's ears
            Io
    Mix una | stereo
      Desk phones | una
        Una
    Mix out | mono
      Desk out 2 | out
        Passive DI | out
          house 8 | out`,
    ],
    'from the port of a line': [at('desk.2 takes'), `Desk in 2 | Reed\n  Mix Io's ears | mono`],
    'from a step': [at('y-lead'), 'Y-lead | Voice\n  Desk in 1 | Voice'],
    'from the word that starts a line': [at('output desk.phones'), 'Desk phones | una\n  Una'],
  };
  it.each(Object.entries(onward))('%s', async (_, [source, expected]) => {
    const tree = await drawn(await open(source), 'on');
    expect(tree.split('\n').slice(0, expected.split('\n').length).join('\n')).toBe(expected);
  });

  const backward: Record<string, [string, string]> = {
    'to a performer': [
      at('io "Io"'),
      `Io
  Io's pack | Io's ears
    Transmitter left | Io's ears
      Desk out 1 | Io's ears
        Mix Io's ears | mono
          Desk in 1 | Voice
            Y-lead | Voice
              Voice | Io
          Desk in 2 | Reed
            Reed | Una`,
    ],
    'to a line of the house': [
      at('house 7'),
      `house 7 | Voice
  Y-lead | Voice
    Voice | Io`,
    ],
    'to a line of the house that takes a mix': [
      at('house 8'),
      `house 8 | out
  Passive DI | out
    Desk out 2 | out
      Mix out | mono
        Desk in 2 | Reed
          Reed | Una`,
    ],
    'to a pack': [
      at('una-pack'),
      // Nothing comes in on the right side.
      "Una's pack | radio-pack",
    ],
    'to a piece of gear': [
      at('tx "Transmitter"'),
      `Transmitter | link
  Desk out 1 | Io's ears
    Mix Io's ears | mono`,
    ],
  };
  it.each(Object.entries(backward))('%s', async (_, [source, expected]) => {
    const tree = await drawn(await open(source), 'back');
    expect(tree.split('\n').slice(0, expected.split('\n').length).join('\n')).toBe(expected);
  });

  // 1.2 mV/Pa at 110 dB SPL are -40.2 dBu; the expander's 2 kohm on the microphone's 150 ohm take 0.6 dB.
  it('comes by a link to the mixes of the desk behind it', async () => {
    const text = readFileSync(path.join(root, 'examples/ten.rig'), 'utf8');
    const tree = await drawn(await open(text.replace('source trumpet', 'source <|>trumpet')), 'on');
    expect(tree).toBe(`Trumpet | Jure, for where it goes: Show Outgoing Calls
  Expander 5 | Trumpet, -40.8 dBu
    Interface in optical | Trumpet
      Mix brass | mono
        Interface out 2 | brass
          Transmitter right | brass
            Jure's pack | brass
              Jure
            Rok's pack | brass
              Rok`);
  });

  it('is written where the editor is led to', async () => {
    const bench = await open(at('voice "Voice"'));
    const [voice] = await prepared(bench);
    if (!voice) throw new Error('There is no source.');
    const text = (range: CallHierarchyItem['range']) => bench.document.textDocument.getText(range);
    expect([text(voice.selectionRange), text(voice.range)]).toEqual(['voice', 'source voice "Voice" is mic by io']);
    const [call] = (await bench.services.lsp.CallHierarchyProvider?.outgoingCalls({ item: voice })) ?? [];
    expect(call && [text(call.to.selectionRange), text(call.to.range)]).toEqual(['y-lead', 'input desk.1 takes voice via y-lead']);
    expect(call?.fromRanges.map(text)).toEqual(['y-lead']);
  });

  it('starts in a file that is used, and points into it', async () => {
    const [first, ...rest] = RIG.split('\n');
    const shelf = rest
      .filter((line) => line.startsWith('performer') || line.startsWith('source'))
      .join('\n')
      .replaceAll('is mic', 'is dynamic-mic');
    const used = rest.filter((line) => !line.startsWith('performer') && !line.startsWith('source')).join('\n');
    const bench = await open({ 'rig.rig': `${first}\nuse "band.rig"\n${used.replace('takes reed', 'takes <|>reed')}`, 'band.rig': shelf });
    const [reed] = await prepared(bench);
    expect(reed?.uri).toBe(bench.documentOf('band.rig').uri.toString());
    const [call] = (reed && (await bench.services.lsp.CallHierarchyProvider?.outgoingCalls({ item: reed }))) ?? [];
    expect(call?.to.uri).toBe(bench.documentOf('rig.rig').uri.toString());
    // The line is in another file than the source, so it is told at the source.
    expect(call?.fromRanges).toEqual([reed?.selectionRange]);
  });

  it('goes step by step round a circle', async () => {
    const bench = await open(`rig "Loop"
source voice is dynamic-mic
gear iface is interface-8-mic
gear loop is round
input iface.1 takes voi<|>ce via loop, loop
model round { input a, b xlr  output c xlr from a parallel  output d xlr from b parallel }`);
    let [item] = await prepared(bench);
    for (let step = 0; step < 200 && item; step++) [item] = await stepsFrom(bench, item, 'on');
    const ring = await open(`rig "Ring"
gear a is amp-of-ours
gear b is amp-of-ours
input a.in takes b
input b.in takes <|>a
model amp-of-ours { input in xlr line  output out xlr from in active line }`);
    for (const start of await prepared(ring)) {
      let at: CallHierarchyItem | undefined = start;
      for (let step = 0; step < 200 && at; step++) [at] = await stepsFrom(ring, at, step % 2 === 0 ? 'on' : 'back');
    }
  });

  it('is not asked of comments, nor in a file that is no rig', async () => {
    expect(await prepared(await open(`# <|>voice\n${RIG}`))).toEqual([]);
    expect(await prepared(await open('model box\nsource vo<|>ice is box'))).toEqual([]);
  });

  const examples = readdirSync(path.join(root, 'examples')).filter((name) => name.endsWith('.rig'));
  it.each(examples)('of %s: what goes on to something comes from it, and the other way round', async (name) => {
    const gear = readdirSync(path.join(root, 'examples/gear')).map((file) => [
      `gear/${file}`,
      readFileSync(path.join(root, 'examples/gear', file), 'utf8'),
    ]);
    const bench = await open({ [name]: readFileSync(path.join(root, 'examples', name), 'utf8'), ...Object.fromEntries(gear) });
    const { checked } = bench.analysis();
    if (!checked) throw new Error('It is no rig.');
    const way = new SignalPath(checked.network, checked.levels);
    const { sources, performers } = checked.rig;
    const walk = (starts: readonly Stop[], next: (stop: Stop) => { stop: Stop }[]) => {
      const edges = new Set<string>();
      const seen = new Map(starts.map((stop) => [stopKey(stop), stop]));
      for (const stop of seen.values()) {
        for (const { stop: to } of next(stop)) {
          edges.add(`${stopKey(stop)} > ${stopKey(to)}`);
          if (!seen.has(stopKey(to))) seen.set(stopKey(to), to);
        }
      }
      return { edges, stops: [...seen.values()] };
    };
    const on = walk(
      [...sources.keys()].map((id) => ({ kind: 'source', id })),
      (stop) => way.next(stop),
    );
    const back = walk(on.stops, (stop) => way.before(stop));
    const turned = new Set([...back.edges].map((edge) => edge.split(' > ').reverse().join(' > ')));
    expect(turned).toEqual(on.edges);
    // Everybody who has a mix is come to.
    const reached = on.stops.flatMap((stop) => (stop.kind === 'performer' ? [stop.id] : []));
    const served = new Set([...checked.rig.mixes.values()].flatMap((mix) => mix.for));
    expect(new Set(reached)).toEqual(served);
    expect([...performers.keys()]).toEqual(expect.arrayContaining(reached));
  });
});
