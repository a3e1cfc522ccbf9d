/**
 * Refactorings: what is offered where, what the text becomes, and that the rig is the same afterwards, or differs by exactly what the title
 * says. Tried on marked texts, at every line of every example, and on generated rigs.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { URI } from 'langium';
import { describe, expect, it } from 'vitest';
import type { CodeAction, Range, WorkspaceEdit } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { Finding } from '#engine';
import type { Analysis } from '#language';
import type { Rig, Run } from '#rig';
import { generateRig, randomFrom } from '../generate';
import { type Bench, FOLDER, open } from './bench';

function offered(bench: Bench, range?: Range, only: string[] = ['refactor']): CodeAction[] {
  const at = range ?? { start: bench.position, end: bench.position };
  return bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    range: at,
    context: { diagnostics: [], only },
  }) as CodeAction[];
}

/** The files after an edit, those that it makes as well. The one that is looked at comes first. */
function afterwards(bench: Bench, edit: WorkspaceEdit | undefined): Record<string, string> {
  const texts = new Map<string, string>([[bench.document.uri.toString(), '']]);
  for (const name of bench.marks.keys()) texts.set(bench.documentOf(name).uri.toString(), bench.documentOf(name).textDocument.getText());
  const changes = Object.entries(edit?.changes ?? {});
  for (const change of edit?.documentChanges ?? []) {
    if ('textDocument' in change)
      changes.push([change.textDocument.uri, change.edits.flatMap((each) => ('newText' in each ? [each] : []))]);
    else if (change.kind === 'create') {
      expect(texts.has(change.uri), change.uri).toBe(false);
      texts.set(change.uri, '');
    }
  }
  for (const [uri, edits] of changes) {
    const before = texts.get(uri);
    expect(before, uri).toBeDefined();
    texts.set(uri, TextDocument.applyEdits(TextDocument.create(uri, 'rig', 1, before ?? ''), edits));
  }
  return Object.fromEntries([...texts].map(([uri, text]) => [uri.slice(URI.parse(FOLDER).toString().length), text]));
}

const codes = ({ located }: Analysis, of?: readonly Finding['severity'][]) =>
  located.flatMap(({ finding }) => ((of?.includes(finding.severity) ?? true) ? [finding.code] : [])).sort();

/** A rig without the places in its text, and without what a piece is called where it is one that is compared without its name. */
function plain(rig: Rig, nameless: ReadonlySet<string> = new Set()) {
  const strip = (value: unknown): unknown =>
    JSON.parse(
      JSON.stringify(value, (key, each) =>
        key === 'place' || (key === 'id' && /^(input|house|output):/.test(String(each))) ? undefined : each,
      ),
    );
  const pieces = [...rig.pieces.values()]
    .map((piece) => {
      const bare = piece.kind === 'fresh' || (piece.name !== undefined && nameless.has(piece.name));
      return strip(bare ? { model: piece.model, holding: piece.holding, for: piece.for } : piece);
    })
    .map((each) => JSON.stringify(each))
    .sort();
  const modelOf = (id: string) => {
    const piece = rig.pieces.get(id);
    const bare = piece?.kind === 'fresh' || nameless.has(piece?.name ?? '');
    return bare ? `a ${piece?.model.id}` : id;
  };
  const runs = (all: readonly Run[]) => all.map((run) => strip({ ...run, via: run.via.map(({ piece, port }) => [modelOf(piece), port]) }));
  const maps = [rig.performers, rig.sources, rig.mixes].map((map) => [...map.values()].map((each) => JSON.stringify(strip(each))).sort());
  return {
    settings: rig.settings,
    label: rig.label,
    pieces,
    maps,
    inputs: runs(rig.inputs),
    house: runs(rig.house),
    outputs: runs(rig.outputs),
  };
}

/** Every lead, without what the ends are called. */
function leads({ checked }: Analysis): string[] {
  return (checked?.leads ?? [])
    .map(({ joint, lengthM, needsM, lead }) =>
      JSON.stringify([
        joint.from.piece.model.id,
        joint.from.port.id,
        joint.to.piece.model.id,
        joint.to.port.id,
        lengthM,
        needsM,
        lead?.balanced,
      ]),
    )
    .sort();
}

const gains = ({ checked }: Analysis) =>
  (checked?.levels.arrivals ?? []).map(({ source, typicalDbu, gain }) => JSON.stringify([source.id, typicalDbu, gain])).sort();

const comments = (texts: Record<string, string>) =>
  Object.values(texts)
    .flatMap((text) => text.match(/(?<![^\s])#[^\r\n]*/g) ?? [])
    .sort();

type Look = (texts: Record<string, string>) => Promise<Analysis>;

const afresh: Look = async (texts) => (await open(texts)).analysis();

/** What is wrong with an action, if anything. */
async function judge(bench: Bench, action: CodeAction, look: Look = afresh): Promise<string[]> {
  const texts = afterwards(bench, action.edit);
  const before = Object.fromEntries([...bench.marks].map(([name, { text }]) => [name, text]));
  const wrong: string[] = [];
  if (JSON.stringify(texts) === JSON.stringify(before)) return ['does nothing'];
  const fresh = Object.keys(texts).filter((name) => before[name] === undefined).length;
  if (comments(texts).length !== comments(before).length + fresh) wrong.push('changes how many comments there are');
  const after = await look(texts);
  const was = bench.analysis();
  const { kind = '', title } = action;
  // A swap may want a gain set anew.
  const told = kind === 'refactor.rewrite.swap' ? (each: Analysis) => codes(each, ['error', 'danger']) : (each: Analysis) => codes(each);
  const more = told(after).filter(
    (code) => told(after).filter((each) => each === code).length > told(was).filter((each) => each === code).length,
  );
  if (more.length > 0) wrong.push(`brings ${[...new Set(more)]}`);
  const same = (what: string, a: unknown, b: unknown) => {
    if (JSON.stringify(a) !== JSON.stringify(b)) wrong.push(`changes ${what}`);
  };
  const [rig, old] = [after.lowered.rig, was.lowered.rig];
  if (kind === 'refactor.extract.gear' || kind === 'refactor.inline.gear') {
    const names = new Set(
      [...rig.pieces.values(), ...old.pieces.values()].flatMap(({ name }) =>
        name && !(rig.pieces.has(`gear:${name}`) && old.pieces.has(`gear:${name}`)) && !rig.sources.has(`source:${name}`) ? [name] : [],
      ),
    );
    // A line for each channel says the same in more lines: then what is plugged into what has to be the same.
    if (rig.inputs.length === old.inputs.length) same('the rig', plain(rig, names), plain(old, names));
    else same('the gear', plain(rig, names).pieces, plain(old, names).pieces);
    same('the leads', leads(after), leads(was));
    same('the levels', gains(after), gains(was));
  } else if (kind === 'refactor.move.shelf') {
    same('the rig', plain(rig), plain(old));
    same('the leads', leads(after), leads(was));
  } else if (kind === 'refactor.rewrite.sort') {
    const sorted = (each: Rig) => {
      const { inputs, house, outputs, ...rest } = plain(each);
      return { ...rest, runs: [...inputs, ...house, ...outputs].map((run) => JSON.stringify(run)).sort() };
    };
    same('the rig', sorted(rig), sorted(old));
    same('the leads', leads(after), leads(was));
    same('the levels', gains(after), gains(was));
  } else if (kind === 'refactor.rewrite.swap') {
    const ports = (run: Run) =>
      JSON.stringify(
        run.kind === 'input' ? [run.to.piece, run.to.ports] : run.kind === 'output' ? [run.from.piece, run.from.ports] : run.number,
      );
    const [now, then] = [rig, old].map((each) => [...each.inputs, ...each.house, ...each.outputs]) as [Run[], Run[]];
    const moved = now.flatMap((run, index) => (ports(run) === ports(then[index] as Run) ? [] : [index]));
    const [one, other] = moved as [number, number];
    if (moved.length !== 2) wrong.push(`moves ${moved.length} lines`);
    else
      same('more than two ports', [ports(now[one] as Run), ports(now[other] as Run)], [ports(then[other] as Run), ports(then[one] as Run)]);
    const without = (each: Rig) => {
      const { inputs, outputs, ...rest } = plain(each);
      return { ...rest, runs: [...inputs, ...outputs].map((run) => ({ ...(run as object), to: undefined, from: undefined })) };
    };
    same('the rest of the rig', without(rig), without(old));
  } else if (kind === 'refactor.rewrite.frequencies') {
    const untuned = (each: Rig): Rig => ({
      ...each,
      pieces: new Map([...each.pieces].map(([id, piece]) => [id, { ...piece, onHz: undefined }])),
    });
    same('more than frequencies', plain(untuned(rig)), plain(untuned(old)));
    if (told(after).filter((code) => /^radio\/(same|too|product)/.test(code)).length > 0) wrong.push('leaves clashes');
  } else if (kind === 'refactor.rewrite.gain') {
    const without = (each: Rig) => ({
      ...plain(each),
      inputs: plain(each).inputs.map((run) => ({ ...(run as object), gainDb: undefined })),
    });
    same('the rest of the rig', without(rig), without(old));
    const written = rig.inputs.filter((run, index) => run.gainDb !== old.inputs[index]?.gainDb);
    if (written.length === 0) wrong.push('writes no gain');
    if (old.inputs.some(({ gainDb }, index) => gainDb !== undefined && gainDb !== rig.inputs[index]?.gainDb))
      wrong.push('changes a gain that is written');
  } else if (kind === 'refactor.rewrite.width') {
    const changed = [...rig.mixes.values()].filter(({ id, stereo }) => old.mixes.get(id)?.stereo !== stereo);
    if (changed.length !== 1) wrong.push('changes the width of more than one mix, or of none');
  } else wrong.push(`is of a kind nobody knows: ${kind} (${title})`);
  return wrong;
}

const HEAD = 'rig "Copper Wren"\nperformer ana "Ana" at 1 m, 2 m\nperformer brik "Brik" at -1 m, 2 m\n';

interface Case {
  /** With the cursor `<|>`, or a selection `[|…|]`. */
  readonly rig: string | Readonly<Record<string, string>>;
  readonly only?: string;
  readonly offers: readonly string[];
  /** Lines that the first makes new, in all files. */
  readonly makes?: readonly string[];
}

const CASES: Readonly<Record<string, Case>> = {
  'an unnamed box gets a name after what goes through it, and lies where it lay': {
    rig: `${HEAD}source voice  "Voice"  is dynamic-mic  by ana  at 2 m, 3.5 m\ngear iface  "Interface"  is interface-4  at 1 m, 3 m\ninput iface.1  takes voice  via y-<|>lead  gain 20 dB  # both`,
    only: 'refactor.extract',
    offers: ['Give the Y-lead a name: voice-y-lead'],
    makes: [
      'gear voice-y-lead  "Voice Y-lead"  is y-lead  at 2 m, 3.5 m',
      'input iface.1  takes voice  via voice-y-lead  gain 20 dB  # both',
    ],
  },
  'the only unnamed box of a line is meant from anywhere on it': {
    rig: `${HEAD}source gurdy "Gurdy" is preamp-pickup by brik\ngear iface is interface-4\ninput <|>iface.1 takes gurdy via passive-di`,
    only: 'refactor.extract',
    offers: ['Give the Passive DI a name: gurdy-di'],
    makes: ['gear gurdy-di "Gurdy DI" is passive-di at -1 m, 2 m', 'input iface.1 takes gurdy via gurdy-di'],
  },
  'a name that is taken, in this file or another, is not given again': {
    rig: {
      'rig.rig': `${HEAD}source gurdy is preamp-pickup\nsource gurdy-di is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes gurdy via passive-<|>di`,
      'two.rig': 'gear gurdy-di-2 is passive-di',
    },
    only: 'refactor.extract',
    offers: ['Give the Passive DI a name: gurdy-di-3'],
  },
  'two boxes in one line: the one that is pointed at': {
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice via y-lead, pad-<|>20`,
    only: 'refactor.extract',
    offers: ['Give the Pad a name: voice-pad'],
    makes: ['gear voice-pad "Voice Pad" is pad-20', 'input iface.1 takes voice via y-lead, voice-pad'],
  },
  'a box for each channel is more than one: each gets a name and a line': {
    rig: `${HEAD}source organ  "Organ"  is stereo-keyboard  by ana\ngear iface  is interface-8\ninput iface.1..2  takes organ  via passive-<|>di  gain 20 dB  # both`,
    only: 'refactor.extract',
    offers: ['Give each Passive DI a name and a line: organ-left-di, organ-right-di'],
    makes: [
      'gear organ-left-di  "Organ left DI"  is passive-di  at 1 m, 2 m',
      'gear organ-right-di  "Organ right DI"  is passive-di  at 1 m, 2 m',
      'input iface.1     takes organ.left  via organ-left-di  gain 20 dB  # both',
      'input iface.2     takes organ.right  via organ-right-di  gain 20 dB',
    ],
  },
  'boxes on both channels of gear that has a name are left alone': {
    rig: `${HEAD}source organ is stereo-keyboard\ngear iface is interface-8\ngear di is stereo-di\ninput iface.1..2 takes organ via di, pad-<|>20`,
    only: 'refactor.extract',
    offers: [],
  },
  'one box for both channels is one': {
    rig: `${HEAD}source organ is stereo-keyboard\ngear iface is interface-8\ninput iface.1..2 takes organ via stereo-<|>di`,
    only: 'refactor.extract',
    offers: ['Give the Stereo DI a name: organ-di'],
    makes: ['gear organ-di "Organ DI" is stereo-di', 'input iface.1..2 takes organ via organ-di'],
  },
  'a named box of one line only becomes a piece of that line': {
    rig: `${HEAD}source gurdy is preamp-pickup\ngear iface is interface-4\ngear box<|> "Box" is passive-di\ninput iface.1  takes gurdy  via box  # so`,
    only: 'refactor.inline',
    offers: ['Write passive-di in the line instead of box, and delete box'],
    makes: ['input iface.1  takes gurdy  via passive-di  # so'],
  },
  'gear that says more than what it is stays': {
    rig: `${HEAD}source gurdy is preamp-pickup\ngear iface is interface-4\ngear box is passive-di owned\ninput iface.1 takes gurdy via b<|>ox`,
    only: 'refactor.inline',
    offers: [],
  },
  'gear of two lines stays': {
    rig: `${HEAD}source gurdy is preamp-pickup\ngear iface is interface-4\ngear box is passive-di\ninput iface.1 takes gurdy via b<|>ox\nhouse 1 takes gurdy via box.thru, their-di`,
    only: 'refactor.inline',
    offers: [],
  },
  'inputs by port, each with its comments': {
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is computer-channel\ngear iface is interface-8-mic\n\n# Ours.\ninput iface.usb1  takes c\n# the loud one\ninput iface.10  takes b  # here\ninput iface.<|>2  takes a\n`,
    only: 'refactor.rewrite.sort',
    offers: [],
  },
  'inputs in order of their ports': {
    rig: `${HEAD}source a is dynamic-mic\nsource b is dynamic-mic\nsource c is computer-channel\ngear iface is interface-8-mic\n\n# Ours.\ninput iface.usb1  takes c\n# the loud one\ninput iface.8  takes b  # here\ninput iface.<|>2  takes a\n`,
    only: 'refactor.rewrite.sort',
    offers: ['Sort these inputs by port'],
  },
  'lines of the house by number': {
    rig: `house 12 own mic\nhouse <|>3 "Snare" own mic`,
    only: 'refactor.rewrite.sort',
    offers: ['Sort these house lines by number'],
    makes: [],
  },
  'what is in order is left alone': {
    rig: `house 3 own mic\nhouse <|>12 own mic`,
    only: 'refactor.rewrite.sort',
    offers: [],
  },
  'lines that come together in a box keep their order': {
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-4\ninput iface.2 takes a via transformer-split\ninput iface.<|>1 takes a`,
    only: 'refactor.rewrite.sort',
    offers: [],
  },
  'two lines that are selected change ports': {
    rig: `${HEAD}source a "Ash" is dynamic-mic\nsource b "Birch" is dynamic-mic\ngear iface is interface-4\n[|input iface.1  takes a  gain 20 dB  # ash\ninput iface.2  takes b\n|]`,
    only: 'refactor.rewrite.swap',
    offers: ['Swap the ports of Ash (iface.1) and Birch (iface.2)'],
    makes: ['input iface.2  takes a  gain 20 dB  # ash', 'input iface.1  takes b'],
  },
  'no swap that could not work': {
    rig: `${HEAD}source a "Bodhran" is dynamic-mic\nsource b "Keys" is computer-channel\nsource c "Fiddle" is dynamic-mic\ngear iface is interface-8-mic\ninput iface.2  takes c\ninput iface.<|>3  takes a  gain 30 dB\ninput iface.usb1  takes b`,
    only: 'refactor.rewrite.swap',
    offers: ['Swap the ports of Bodhran (iface.3) and Fiddle (iface.2)'],
  },
  'a line changes ports with its neighbours': {
    rig: `${HEAD}mix a mono for ana { }\nmix b mono for brik { }\nmix c mono for house { }\ngear iface is interface-4\noutput iface.1 carries a\noutput iface.2 <|>carries b\noutput iface.3..4 carries c`,
    only: 'refactor.rewrite.swap',
    offers: ['Swap the ports of b (iface.2) and a (iface.1)'],
    makes: ['output iface.2 carries a', 'output iface.1 carries b'],
  },
  'the gain to set, on this line and on all': {
    rig: `${HEAD}source a is dynamic-mic\nsource b is condenser-mic\nsource c is dynamic-mic\ngear iface is interface-4\ninput iface.1  takes a  # loud\ninput iface.2  takes<|> b\ninput iface.3  takes c  gain 20 dB`,
    only: 'refactor.rewrite.gain',
    offers: ['Write down the gain to set: gain 8 dB', 'Write down the gain to set on both lines that have none'],
    makes: ['input iface.2  takes b  gain 8 dB'],
  },
  'a mono mix on a pair': {
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes a\nmix ana <|> mono  for ana, brik { a 0 dB }\noutput iface.1 carries ana via headphone-amp`,
    only: 'refactor.rewrite.width',
    offers: ['Make ana stereo, on output 1..2'],
    makes: ['mix ana  stereo  for ana, brik { a 0 dB }', 'output iface.1..2 carries ana via headphone-amp'],
  },
  'a stereo mix on one output': {
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes a\nmix ana <|>stereo for ana, brik { a 0 dB }\noutput iface.3..4  carries ana via headphone-amp`,
    only: 'refactor.rewrite.width',
    offers: ['Make ana mono, on output 3'],
    makes: ['mix ana mono for ana, brik { a 0 dB }', 'output iface.3     carries ana via headphone-amp'],
  },
  'what the house gets stays as wide as it is': {
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes a\nmix <|>h mono for house { a 0 dB }\nhouse 3 takes h\noutput iface.1 carries h via passive-di`,
    only: 'refactor.rewrite.width',
    offers: [],
  },
  'the DI of the house': {
    rig: `${HEAD}source a is preamp-pickup\nhouse 3 takes a via their-<|>di`,
    offers: ['Give the House DI a name: a-di'],
    makes: ['gear a-di "A DI" is their-di', 'house 3 takes a via a-di'],
  },
  'gear moves to the file that is used, with its model': {
    rig: {
      'rig.rig': `use "shelf.rig"\n${HEAD}# Ours, measured.\nmodel our-di is passive-di { owned }\ngear box<|>  "Box"  is our-di  # the red one\nsource gurdy is preamp-pickup\ngear iface is interface-4\ninput iface.1 takes gurdy via box`,
      'shelf.rig': '# Our shelf.\ngear hp is headphone-amp',
    },
    only: 'refactor.move',
    offers: ['Move box and what it is made of to shelf.rig'],
    makes: ['# Ours, measured.', 'model our-di is passive-di { owned }', 'gear box  "Box"  is our-di  # the red one'],
  },
  'gear that somebody of this rig wears stays': {
    rig: { 'rig.rig': `use "shelf.rig"\n${HEAD}gear pa<|>ck is wired-pack for ana`, 'shelf.rig': 'gear hp is headphone-amp' },
    only: 'refactor.move',
    offers: [],
  },
  'a name that the shelf has already stays where it is': {
    rig: { 'rig.rig': `use "shelf.rig"\n${HEAD}gear h<|>p is headphone-amp owned`, 'shelf.rig': 'gear hp is headphone-amp' },
    only: 'refactor.move',
    offers: [],
  },
  'a name that another rig has for something else stays where it is': {
    rig: {
      'rig.rig': `use "shelf.rig"\n${HEAD}gear b<|>ox is headphone-amp owned`,
      'shelf.rig': 'gear hp is headphone-amp',
      'two.rig': 'use "shelf.rig"\nsource box is dynamic-mic\n',
    },
    only: 'refactor.move',
    offers: [],
  },
  'frequencies for all of ours': {
    rig: 'rig "Air"  region EU\nsource a "A"  is wire<|>less-mic  on 863.4 MHz\nsource b "B"  is wireless-mic  on 863.4 MHz\ngear tx  is in-ear-transmitter\ngear their-mic  is wireless-mic  theirs  on 864.8 MHz',
    only: 'refactor.rewrite.frequencies',
    offers: ['Choose clear frequencies for all of ours: move two sets'],
    makes: ['source b "B"  is wireless-mic  on 863.8 MHz', 'gear tx  is in-ear-transmitter           on 863.1 MHz'],
  },
  'no frequencies where nothing has to move': {
    rig: 'rig "Air"  region EU\nsource a "A"  is wire<|>less-mic  on 863.4 MHz',
    only: 'refactor.rewrite.frequencies',
    offers: [],
  },
  'nothing at a line that cannot be read': {
    rig: `${HEAD}source a is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes a via y-<|>lead gain`,
    offers: [],
  },
};

describe('refactorings', () => {
  it.each(Object.entries(CASES))('%s', async (_, { rig, only, offers, makes }) => {
    const bench = await open(rig);
    const [selected] = [...bench.marks.values()][0]?.ranges ?? [];
    const { textDocument } = bench.document;
    const range = selected && { start: textDocument.positionAt(selected.start), end: textDocument.positionAt(selected.end) };
    const actions = offered(bench, range, only === undefined ? undefined : [only]);
    expect(actions.map(({ title }) => title)).toEqual(offers);
    for (const action of actions) expect(await judge(bench, action), action.title).toEqual([]);
    if (!makes) return;
    const before = [...bench.marks.values()].flatMap(({ text }) => text.split('\n'));
    const after = Object.entries(afterwards(bench, actions[0]?.edit)).flatMap(([name, text]) =>
      text.split('\n').filter((line) => !bench.marks.get(name)?.text.split('\n').includes(line)),
    );
    expect(
      after.filter((line) => line !== ''),
      before.join('\n'),
    ).toEqual(makes);
  });
});

const EXAMPLES = join(import.meta.dirname, '../../examples');
const example = (...names: string[]) => Object.fromEntries(names.map((name) => [name, readFileSync(join(EXAMPLES, name), 'utf8')]));

/** Looks at texts of which only the first differs, in files that stay open: quicker than to open all of them for each. */
async function nearby(files: Record<string, string>): Promise<Look> {
  const bench = await open(files);
  const [main] = Object.keys(files) as [string];
  let count = 0;
  return async (texts) => {
    if (Object.entries(texts).some(([name, text]) => name !== main && files[name] !== text)) return afresh(texts);
    const document = await bench.add(`${main.replace(/\.rig$/, '')}-${++count}.rig`, texts[main] as string);
    return bench.services.rig.Analyser.of(document);
  };
}

/** The start of each line, and of each piece in a `via`. */
function cursors(bench: Bench): Range[] {
  const text = bench.document.textDocument.getText();
  return [...text.matchAll(/^[ \t]*(?=\S)|(?<=\bvia |, )(?=\S)/gm)].map(({ index, 0: { length } }) => {
    const at = bench.document.textDocument.positionAt(index + length);
    return { start: at, end: at };
  });
}

async function tryAll(files: Record<string, string>, ranges: (bench: Bench) => Range[]): Promise<Map<string, number>> {
  const bench = await open(files);
  const look = await nearby(files);
  const seen = new Set<string>();
  const tried = new Map<string, number>();
  for (const range of ranges(bench)) {
    for (const action of offered(bench, range)) {
      const key = JSON.stringify(action.edit);
      if (seen.has(key)) continue;
      seen.add(key);
      expect(await judge(bench, action, look), `line ${range.start.line + 1}: ${action.title}`).toEqual([]);
      tried.set(action.kind ?? '', (tried.get(action.kind ?? '') ?? 0) + 1);
    }
  }
  return tried;
}

describe('everywhere', () => {
  const FILES: Readonly<Record<string, Record<string, string>>> = {
    first: example('first.rig'),
    street: example('street.rig'),
    ten: example('ten.rig'),
    choir: example('choir.rig', 'gear/hall-shelf.rig'),
  };
  const all = new Map<string, number>();

  it.each(Object.entries(FILES))(
    '%s: whatever is offered keeps what it says it keeps',
    async (_, files) => {
      for (const [kind, count] of await tryAll(files, cursors)) all.set(kind, (all.get(kind) ?? 0) + count);
    },
    120_000,
  );

  const MISTAKES = 'mistakes';
  const pages = readdirSync(join(EXAMPLES, MISTAKES), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.rig') && !name.startsWith('use'))
    .map((name) => `${MISTAKES}/${name}`);

  it.each(pages)('%s: nothing that is wrong already is made worse', async (page) => {
    await tryAll(example(page), cursors);
  });

  it('tries every kind', () => {
    for (const kind of ['extract.gear', 'rewrite.gain', 'rewrite.swap', 'rewrite.width', 'move.shelf'])
      expect(all.get(`refactor.${kind}`), kind).toBeGreaterThan(0);
  });

  it.each([1, 2, 3])(
    'generated rig %i',
    async (seed) => {
      const random = randomFrom(seed);
      const tried = await tryAll({ 'rig.rig': shuffled(generateRig(110, seed), random) }, (bench) => {
        const { textDocument } = bench.document;
        const place = () => textDocument.positionAt(Math.floor(random() * textDocument.getText().length));
        return Array.from({ length: 90 }, () => {
          const start = place();
          const end = random() < 0.5 ? start : { line: start.line + 1 + Math.floor(random() * 4), character: 0 };
          return { start, end };
        });
      });
      expect([...tried.values()].reduce((a, b) => a + b, 0)).toBeGreaterThan(10);
    },
    120_000,
  );

  it('a name that is given can be taken back', async () => {
    const files = example('first.rig');
    const bench = await open(files);
    const text = files['first.rig'] as string;
    let tried = 0;
    for (const range of cursors(bench)) {
      for (const action of offered(bench, range, ['refactor.extract'])) {
        const named = afterwards(bench, action.edit);
        const name = /[^ ]+$/.exec(action.title)?.[0] as string;
        const there = await open(named);
        const at = there.document.textDocument.positionAt((named['first.rig'] as string).indexOf(`gear ${name}`));
        const [back] = offered(there, { start: at, end: at }, ['refactor.inline']);
        expect(back?.title).toContain(name);
        expect(afterwards(there, back?.edit)['first.rig']?.replace(/ +/g, ' ')).toBe(text.replace(/ +/g, ' '));
        tried++;
      }
    }
    expect(tried).toBeGreaterThan(2);
  });

  it('a text that is cut anywhere breaks nothing', async () => {
    const random = randomFrom(7);
    const whole = example('first.rig')['first.rig'] as string;
    for (let round = 0; round < 12; round++) {
      const [from, length] = [Math.floor(random() * whole.length), Math.floor(random() * 40)];
      const bench = await open({ 'rig.rig': whole.slice(0, from) + whole.slice(from + length) });
      const { textDocument } = bench.document;
      for (let each = 0; each < 20; each++) {
        const start = textDocument.positionAt(Math.floor(random() * whole.length));
        for (const action of offered(bench, { start, end: start })) {
          const texts = afterwards(bench, action.edit);
          expect(texts['rig.rig'], action.title).not.toBe(textDocument.getText());
          expect(comments(texts).length).toBeGreaterThanOrEqual(comments({ a: textDocument.getText() }).length);
        }
      }
    }
  });
});

/** Lines of a kind that stand together, in another order. */
function shuffled(text: string, random: () => number): string {
  return text.replace(/^(?:input .*\n)+/gm, (lines) =>
    lines
      .split(/(?<=\n)/)
      .map((line) => ({ line, key: random() }))
      .sort((a, b) => a.key - b.key)
      .map(({ line }) => line)
      .join(''),
  );
}

describe('what is asked for', () => {
  const RIG = `${HEAD}source gurdy is preamp-pickup\ngear iface is interface-4\ninput iface.1 takes gurdy via passive-<|>di`;

  it('is answered by kind, and by what is below it', async () => {
    const bench = await open(RIG);
    const kinds = (only: string[]) => [...new Set(offered(bench, undefined, only).map(({ kind }) => kind))];
    expect(kinds(['refactor.extract'])).toEqual(['refactor.extract.gear']);
    expect(kinds(['refactor.ex'])).toEqual([]);
    expect(kinds(['source'])).toEqual([]);
    expect(kinds(['refactor'])).toEqual(['refactor.extract.gear', 'refactor.rewrite.gain']);
    expect(kinds([''])).toEqual(kinds(['refactor']));
  });

  it('makes a new file only where the editor can', async () => {
    const bench = await open(`${HEAD}gear bo<|>x is passive-di owned # ours`);
    expect(offered(bench)).toEqual([]);
    bench.services.editor.Abilities.take({ workspace: { workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } } });
    const [action] = offered(bench);
    expect(action?.title).toBe('Move box to a new file, our-shelf.rig');
    expect(await judge(bench, action as CodeAction)).toEqual([]);
    expect(afterwards(bench, action?.edit)).toEqual({
      'rig.rig': `rig "Copper Wren"\n\nuse "our-shelf.rig"\n${HEAD.slice(HEAD.indexOf('\n') + 1)}`,
      'our-shelf.rig': '# Gear of ours, for every rig that uses this file.\ngear box is passive-di owned # ours\n',
    });
  });
});
