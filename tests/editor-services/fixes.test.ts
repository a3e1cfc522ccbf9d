/** Quick fixes: what is offered for a finding, what the text becomes, and that the finding is then gone and nothing worse has come. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeAction, Diagnostic } from 'vscode-languageserver';
import { type Code, type Finding, PROBLEMS } from '#engine';
import { diagnosticOf, type Located } from '#language';
import { applied, type Bench, open } from './bench';

async function actionsFor(bench: Bench, located: Located): Promise<CodeAction[]> {
  const diagnostic: Diagnostic = diagnosticOf(located);
  const actions = await bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
    textDocument: { uri: bench.document.uri.toString() },
    range: diagnostic.range,
    context: { diagnostics: [diagnostic] },
  });
  return (actions ?? []) as CodeAction[];
}

const worst = (finding: Finding) => finding.severity === 'error' || finding.severity === 'danger';

/** What is wrong with an action, if anything: the finding is still there, or something of weight is new. */
async function judge(bench: Bench, { finding }: Located, action: CodeAction): Promise<string[]> {
  const before = bench.analysis().located.map((each) => each.finding);
  const name = [...bench.marks.keys()].find((each) => bench.documentOf(each) === bench.document) as string;
  const files = applied(bench, action.edit);
  // The one that is looked at comes first.
  const after = (await open({ [name]: files[name] as string, ...files })).analysis().located.map((each) => each.finding);
  const count = (findings: readonly Finding[], code: Code) => findings.filter((each) => each.code === code).length;
  const left = count(after, finding.code) < count(before, finding.code) ? [] : ['is still there'];
  // A statement that could not be read said nothing; once it can be read it is judged like any other.
  if (finding.code.startsWith('text/')) return left;
  const fresh = after.filter((each) => worst(each) && count(after, each.code) > count(before, each.code));
  return [...left, ...new Set(fresh.map((each) => `brings ${each.code}`))];
}

const HEAD = 'rig "Copper Wren"\nperformer ana "Ana"\nperformer brik "Brik"\n';

interface Case {
  readonly code: Code;
  readonly rig: string | Readonly<Record<string, string>>;
  /** The titles that are offered, in order. */
  readonly offers: readonly string[];
  /** Lines that the first makes new. */
  readonly makes: readonly string[];
  readonly preferred?: boolean;
}

const CASES: Readonly<Record<string, Case>> = {
  'a microphone on a line input changes places with a line on a microphone input': {
    code: 'levels/mic-on-line',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource keys "Keys" is modeller\nsource two is dynamic-mic\nmodel box is interface {\n  input 1..2 combo {\n    mic impedance 2 kohm max 2 dBu gain 0..55 dB\n    line impedance 10 kohm max 20 dBu gain -10..20 dB\n  }\n  input 3 trs line impedance 10 kohm max 20 dBu gain -10..20 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes keys.jack\ninput iface.2 takes two\ninput iface.3 takes voice`,
    offers: ['Swap Voice and Keys'],
    makes: ['input iface.3 takes keys.jack', 'input iface.1 takes voice'],
    preferred: true,
  },
  'a microphone that needs phantom power changes places with one that does not': {
    code: 'phantom/missing',
    rig: `${HEAD}source clip "Fiddle" is clip-on-mic\nsource voice "Voice" is dynamic-mic\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n  input 2 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB\n}\ngear iface is box\ninput iface.1  takes voice\ninput iface.2  takes clip`,
    offers: ['Swap Fiddle and Voice'],
    makes: ['input iface.2  takes voice', 'input iface.1  takes clip'],
  },
  'the pad that the input has': {
    code: 'levels/too-hot',
    rig: `${HEAD}source gong is dynamic-mic peak 150 dB SPL typical 130 dB SPL\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max -10 dBu gain 0..55 dB pad 20 dB\n}\ngear iface "Interface" is box\ninput iface.1 takes gong gain 0 dB`,
    offers: ['Switch in the pad of Interface input 1'],
    makes: ['input iface.1 takes gong gain 0 dB pad'],
  },
  'an instrument into a microphone input on the way of a DI, where no other input would do': {
    code: 'levels/instrument-on-line',
    rig: `${HEAD}source bass "Bass" is magnetic-pickup\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB phantom each\n  input 2 trs line impedance 10 kohm max 20 dBu gain -10..20 dB\n}\ngear iface "Interface" is box\ninput iface.2   takes bass`,
    offers: ['Move Bass to Interface input 1, through an Active DI'],
    makes: ['input iface.1   takes bass  via active-di'],
    preferred: true,
  },
  'a source in two mixes that is plugged in nowhere': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource drum "Drum" is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix ana mono for ana {\n  voice 0 dB\n  drum -3 dB\n}\nmix brik mono for brik { drum 0 dB  voice -3 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries brik via headphone-amp`,
    offers: ['Plug Drum into iface.2', 'Take Drum out of ana and brik'],
    makes: ['input iface.2 takes drum'],
    preferred: true,
  },
  'a source that the house has already goes through a split': {
    code: 'mixes/not-patched',
    rig: `${HEAD}source voice "Voice" is dynamic-mic\nsource drum "Drum" is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nhouse 1 takes drum\nmix ana mono for ana, brik { drum -3 dB }\noutput iface.1 carries ana via headphone-amp`,
    offers: ['Plug Drum into iface.2 through a Y-lead', 'Take Drum out of ana'],
    makes: ['input iface.2 takes drum via y-lead'],
  },
  'a mix that is for nobody': {
    code: 'mixes/for-nobody',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix brik mono { voice 0 dB }\nmix ana for ana { voice 0 dB }\noutput iface.1 carries ana via headphone-amp\noutput iface.2 carries brik via headphone-amp`,
    offers: ['Let Brik hear brik'],
    makes: ['mix brik mono for brik { voice 0 dB }'],
  },
  'a mix goes out to the transmitter that its listener hears': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ngear tx "Transmitter" is in-ear-transmitter\ngear pack is belt-pack for ana hears tx.right\ninput iface.1 takes voice\nmix ana mono for ana { voice 0 dB }\nmix h mono for house { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries h`,
    offers: ['Carry ana on iface.2 through Transmitter right'],
    makes: ['output iface.2 carries ana via tx.right'],
  },
  'a stereo mix gets a pair': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix ana stereo for ana, brik { voice 0 dB }\nmix h mono for house { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries h`,
    offers: ['Carry ana on iface.3..4 through a Headphone amplifier'],
    makes: ['output iface.3..4 carries ana via headphone-amp'],
  },
  'a mix for the house needs no headphones': {
    code: 'mixes/unheard',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix h mono for house { voice 0 dB }\nmix all mono for ana, brik { voice 0 dB }\nhouse 3 takes h\noutput iface.1 carries all via headphone-amp`,
    offers: ['Carry h on iface.2'],
    makes: ['output iface.2 carries h'],
  },
  'a performer without a mix shares one where the gear can make no more': {
    code: 'mixes/no-mix',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-2\ninput iface.1 takes voice\nmix ana stereo for ana { voice 0 dB }\noutput iface.1..2 carries ana via headphone-amp`,
    offers: ['Let Brik hear ana'],
    makes: ['mix ana stereo for ana, brik { voice 0 dB }'],
  },
  'a mix of a name that is taken gets another': {
    code: 'mixes/no-mix',
    rig: `${HEAD}source brik "Brik's voice" is dynamic-mic by brik\ngear iface is interface-4\ninput iface.1 takes brik\nmix ana stereo for ana { brik 0 dB }\noutput iface.1..2 carries ana via headphone-amp`,
    offers: ['Add a mix for Brik and carry brik-mix on iface.3 through a Headphone amplifier', 'Let Brik hear ana'],
    makes: ['mix brik-mix mono for brik { brik 0 dB }', 'output iface.3    carries brik-mix via headphone-amp'],
  },
  'a mix too many in stereo becomes mono': {
    code: 'capacity/too-many-mixes',
    rig: `${HEAD}source voice is dynamic-mic\nmodel box is interface {\n  input 1 xlr mic impedance 2 kohm max 2 dBu gain 0..55 dB\n  output 1..4 trs line\n  mixes 3 mono\n}\ngear iface is box\ninput iface.1 takes voice\nmix ana   stereo  for ana { voice 0 dB }\nmix brik  stereo  for brik { voice 0 dB }\noutput iface.1..2 carries ana via headphone-amp\noutput iface.3..4 carries brik via headphone-amp`,
    offers: ['Make brik mono', 'Make ana mono'],
    makes: ['mix brik  mono    for brik { voice 0 dB }'],
  },
  'a line that is written twice': {
    code: 'capacity/input-taken-twice',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface "Interface" is interface-4\ninput iface.1 takes voice\ninput iface.1 takes voice # again`,
    offers: ['Delete Interface input 1'],
    makes: ['# again'],
  },
  'a house line that is written twice': {
    code: 'capacity/house-line-twice',
    rig: `${HEAD}source voice is dynamic-mic\nhouse 3 takes voice\nhouse 3 takes voice\n`,
    offers: ['Delete house 3'],
    makes: [],
  },
  'an output that is not there': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface "Interface" is interface-2\ninput iface.1 takes voice\nmix ana mono for ana, brik { voice 0 dB }\noutput iface.9   carries ana via headphone-amp`,
    offers: ['Move ana to Interface output 1', 'Move ana to Interface output 2'],
    makes: ['output iface.1   carries ana via headphone-amp'],
  },
  'an output of a source that is not there': {
    code: 'capacity/no-such-port',
    rig: `${HEAD}source voice is modeller\ngear iface is interface-4\ninput iface.3 takes voice.out`,
    offers: ['Take voice.main', 'Take voice.jack'],
    makes: ['input iface.3 takes voice.main'],
  },
  'somebody who is not meant to hear this side, and has no side': {
    code: 'mixes/wrong-side',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ngear tx is in-ear-transmitter\ngear pack is belt-pack for brik hears tx.left\ninput iface.1 takes voice\nmix ana "Ana's mix" mono for ana { voice 0 dB }\nmix two mono for brik { voice 0 dB }\noutput iface.1 carries ana via tx.left\noutput iface.2 carries two via headphone-amp`,
    offers: ["Let Brik hear Ana's mix"],
    makes: ['mix ana "Ana\'s mix" mono for ana, brik { voice 0 dB }'],
  },
  'a long unbalanced lead gets a DI only where a microphone level is wanted': {
    code: 'connectors/long-unbalanced',
    rig: `${HEAD}source keys "Keys" is stereo-keyboard at 5 m, 5 m\ngear iface is interface-4 at 0 m, 0 m\ninput iface.3..4 takes keys`,
    offers: [],
    makes: [],
  },
  'a DI for a piezo where phantom power is to be had': {
    code: 'levels/low-end',
    rig: {
      'rig.rig': `use "shelf.rig"\n${HEAD}source bass is piezo-pickup\ngear iface is interface-4\ninput iface.1 takes bass via di-1`,
      'shelf.rig': 'gear di-1  "Bass DI"  is passive-di  owned # ours',
    },
    offers: ['Make Bass DI an Active DI'],
    makes: ['gear di-1  "Bass DI"  is active-di   owned # ours'],
    preferred: true,
  },
  'a name that is in another file': {
    code: 'names/unknown',
    rig: { 'rig.rig': `# Copper Wren\n${HEAD}gear iface is our-box`, 'shelf.rig': 'model our-box is interface-2' },
    offers: ['Use shelf.rig, which has it'],
    makes: ['use "shelf.rig"'],
    preferred: true,
  },
  'a name that is nearly another': {
    code: 'names/unknown',
    rig: `${HEAD}source voice is dynamic-mick`,
    offers: ['Write "dynamic-mic"'],
    makes: ['source voice is dynamic-mic'],
  },
  'a level that is glued to its name': {
    code: 'names/unknown',
    rig: `${HEAD}source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice\nmix a mono for ana, brik { voice-3 dB }`,
    offers: ['Write "voice -3"'],
    makes: ['mix a mono for ana, brik { voice -3 dB }'],
  },
  'a number without its unit': {
    code: 'text/missing-unit',
    rig: 'source voice is dynamic-mic\n  peak 120\n  must',
    offers: ['Write "120 dB SPL"', 'Write "120 dBu"', 'Write "120 dBV"'],
    makes: ['  peak 120 dB SPL'],
    preferred: false,
  },
  'two braces that are open': {
    code: 'text/unclosed-brace',
    rig: 'model box is interface {\n  input 1 combo {\n    mic impedance 2 kohm\nsource voice is dynamic-mic',
    offers: ['Close the brace'],
    makes: ['  }', '}'],
  },
  'the wrong thing at the right place': {
    code: 'models/bad-range',
    rig: 'model box is interface {\n  input 8..1 xlr\n}',
    offers: ['Write "1..8"'],
    makes: ['  input 1..8 xlr'],
  },
};

describe('cures', () => {
  it.each(Object.entries(CASES))('%s', async (_, { code, rig, offers, makes, preferred }) => {
    const bench = await open(rig);
    const located = bench.analysis().located.find(({ finding }) => finding.code === code);
    expect(located, `finds ${code}; there are ${bench.analysis().located.map(({ finding }) => finding.code)}`).toBeDefined();
    const actions = await actionsFor(bench, located as Located);
    expect(actions.map(({ title }) => title)).toEqual(offers);
    const [first] = actions;
    if (!first) return;
    const after = Object.entries(applied(bench, first.edit)).flatMap(([name, text]) => {
      const before = bench.documentOf(name).textDocument.getText().split('\n');
      return text
        .split('\n')
        .filter(
          (line) =>
            !before.includes(line) ||
            before.filter((each) => each === line).length < text.split('\n').filter((each) => each === line).length,
        );
    });
    expect(after.filter((line) => line !== '')).toEqual(makes);
    if (preferred !== undefined) expect(first.isPreferred ?? false).toBe(preferred);
    expect(await judge(bench, located as Located, first)).toEqual([]);
  });
});

describe('every page of a mistake', () => {
  const root = join(import.meta.dirname, '../../examples/mistakes');
  const rigsIn = (folder: string): string[] =>
    readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
      entry.isDirectory() ? rigsIn(join(folder, entry.name)) : entry.name.endsWith('.rig') ? [join(folder, entry.name)] : [],
    );
  const pages = rigsIn(root).map((path) => relative(root, path).replaceAll('\\', '/'));

  it.each(pages)('%s: whatever is offered cures it and brings nothing of weight', async (page) => {
    const beside = pages.filter((each) => each !== page && each.split('/')[0] === page.split('/')[0]);
    const bench = await open(Object.fromEntries([page, ...beside].map((each) => [each, readFileSync(join(root, each), 'utf8')])));
    for (const located of bench.analysis().located) {
      for (const action of await actionsFor(bench, located)) {
        expect(action.edit?.changes, action.title).toBeDefined();
        expect(await judge(bench, located, action), `${located.finding.code}: ${action.title}`).toEqual([]);
      }
    }
  });

  it('tries every kind of finding', () => {
    const names = new Set(pages.map((page) => page.replace(/\.rig$/, '')));
    expect(Object.keys(PROBLEMS).filter((code) => !names.has(code))).toEqual([]);
  });
});

describe('edits', () => {
  it('keep comments, columns and line breaks as they are', async () => {
    const text = [
      'rig "Copper Wren" # Invented.',
      'performer ana "Ana"',
      'source voice  "Voice"  is dynamic-mic   by ana',
      'source gurdy  "Gurdy"  is modeller      by ana',
      'gear iface  "Interface"  is interface-4',
      'input iface.1   takes voice  via y-lead  # to the house as well',
      'input iface.3   takes gurdy.jack         # a line',
      'house 1  takes voice',
      'mix ana  mono  for ana  { voice 0 dB  gurdy -3 dB  drum 0 dB } # all of it',
      'source drum   "Drum"   is dynamic-mic',
      'output iface.1  carries ana  via headphone-amp',
    ].join('\r\n');
    const bench = await open(text);
    const located = bench.analysis().located.find(({ finding }) => finding.code === 'mixes/not-patched') as Located;
    const [plug, out] = await actionsFor(bench, located);
    expect(applied(bench, plug?.edit)['rig.rig']).toBe(text.replace('# a line', '# a line\r\ninput iface.2   takes drum'));
    expect(applied(bench, out?.edit)['rig.rig']).toBe(text.replace('  drum 0 dB }', ' }'));
  });

  it('never take a comment away', async () => {
    const bench = await open(
      'source voice is dynamic-mic\ngear iface is interface-4\ninput iface.1 takes voice via y-lead, # here\n  pad-20, y-lead',
    );
    for (const located of bench.analysis().located) {
      for (const action of await actionsFor(bench, located))
        expect(applied(bench, action.edit)['rig.rig'], action.title).toContain('# here');
    }
  });

  it('are made in a used file of ours, and never in the library', async () => {
    const bench = await open({
      'rig.rig': 'use "shelf.rig"\nsource bass is our-piezo\ngear iface is interface-2\ninput iface.1 takes bass via di-1',
      'shelf.rig': 'gear di-1 is passive-di\nmodel our-piezo is piezo-pickup { }',
    });
    const located = bench.analysis().located.find(({ finding }) => finding.code === 'levels/low-end') as Located;
    const [action] = await actionsFor(bench, located);
    expect(Object.keys(action?.edit?.changes ?? {})).toEqual([bench.documentOf('shelf.rig').uri.toString()]);
    const library = bench.services.shared.workspace.LangiumDocuments.all.find((document) => document.uri.scheme === 'earloom');
    expect(
      library &&
        bench.services.lsp.CodeActionProvider?.getCodeActions(library, {
          textDocument: { uri: library.uri.toString() },
          range: { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } },
          context: { diagnostics: [] },
        }),
    ).toEqual([]);
  });

  it('are offered for what is asked about, and for nothing else', async () => {
    const bench = await open('rig "X"\nsource voice is dynamic-mick');
    const [located] = bench.analysis().located as [Located];
    const diagnostic = diagnosticOf(located);
    const ask = (diagnostics: Diagnostic[], only?: string[]) =>
      bench.services.lsp.CodeActionProvider?.getCodeActions(bench.document, {
        textDocument: { uri: '' },
        range: diagnostic.range,
        context: { diagnostics, only },
      }) as CodeAction[];
    expect(ask([diagnostic]).map(({ title }) => title)).toEqual(['Write "dynamic-mic"']);
    expect(ask([diagnostic], ['quickfix']).length).toBe(1);
    expect(ask([diagnostic], ['refactor'])).toEqual([]);
    expect(ask([])).toEqual([]);
    // A diagnostic of an older text is no longer where it was.
    expect(ask([{ ...diagnostic, range: { start: { line: 0, character: 0 }, end: { line: 0, character: 1 } } }])).toEqual([]);
    expect(ask([{ ...diagnostic, code: 'levels/clips' }])).toEqual([]);
  });
});
