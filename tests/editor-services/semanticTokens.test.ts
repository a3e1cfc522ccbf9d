/** Semantic colours, as `word type modifiers`. */
import { SemanticTokensDecoder } from 'langium/lsp';
import { describe, expect, it } from 'vitest';
import type { SemanticTokens, SemanticTokensDelta } from 'vscode-languageserver';
import { contributes } from '../../package.json';
import type { RigSemanticTokenProvider } from '../../packages/language/editor/semanticTokens';
import { type Bench, marked, open } from './bench';

const provider = ({ services }: Bench) => services.lsp.SemanticTokenProvider as RigSemanticTokenProvider;

function told(bench: Bench, tokens: SemanticTokens): string[] {
  const { tokenTypes, tokenModifiers } = provider(bench);
  return SemanticTokensDecoder.decode(tokens, tokenTypes, bench.document).map(({ text, tokenType, tokenModifiers: bits }) =>
    [text, tokenType, ...Object.keys(tokenModifiers).filter((name) => bits & (tokenModifiers[name] ?? 0))].join(' '),
  );
}

async function tokensOf(source: Readonly<Record<string, string>> | string): Promise<string[]> {
  const bench = await open(source);
  return told(bench, provider(bench).semanticHighlight(bench.document));
}

describe('semantic colours', () => {
  const cases: Record<string, [Readonly<Record<string, string>> | string, string[]]> = {
    'each kind of name where it is declared': [
      'model box\nperformer io\nsource voice is box by io\ngear desk is box for io\nmix out mono for io { voice 0 dB }',
      [
        'box class declaration',
        'io interface declaration',
        'voice function declaration',
        'box class',
        'io interface',
        'desk variable declaration',
        'box class',
        'io interface',
        'out enumMember declaration',
        'io interface',
        'voice function',
      ],
    ],
    'models of the library': ['source voice is dynamic-mic', ['voice function declaration', 'dynamic-mic class defaultLibrary']],
    'a model of another file is ours': [
      { 'rig.rig': 'use "shelf.rig"\nsource voice is our-mic', 'shelf.rig': 'model our-mic is dynamic-mic' },
      ['voice function declaration', 'our-mic class'],
    ],
    'what is never for the audience, by its model, its name, or told so': [
      'source a is click-channel\nsource cue is dynamic-mic\nsource c is dynamic-mic private\nsource d "Click" is dynamic-mic public\nmix m mono { a 0 dB  d 0 dB }',
      [
        'a function declaration private',
        'click-channel class defaultLibrary',
        'cue function declaration private',
        'dynamic-mic class defaultLibrary',
        'c function declaration private',
        'dynamic-mic class defaultLibrary',
        'd function declaration',
        'dynamic-mic class defaultLibrary',
        'm enumMember declaration',
        'a function private',
        'd function',
      ],
    ],
    'ports, on their own and in ranges, in models, runs, ties, steps and packs': [
      'model box {\n  input a, 1..2 trs\n  output air from a active radio\n}\ngear b is box\ngear c is box\ngear p is box hears b.a\ninput b.1..2 takes c.air via c.a',
      [
        'box class declaration',
        'a property declaration',
        '1 property declaration',
        '2 property declaration',
        'air property declaration',
        'a property',
        'b variable declaration',
        'box class',
        'c variable declaration',
        'box class',
        'p variable declaration',
        'box class',
        'b variable',
        'a property',
        'b variable',
        '1 property',
        '2 property',
        'c variable',
        'air property',
        'c variable',
        'a property',
      ],
    ],
    'a side of a mix, where it has sides': [
      'mix wide stereo for house { }\nmix thin mono for house { }\nhouse 1 takes wide.left\nhouse 2 takes thin.left',
      ['wide enumMember declaration', 'thin enumMember declaration', 'wide enumMember', 'left property', 'thin enumMember'],
    ],
    'nothing for names and ports that there are not': [
      'gear desk is no-such\ngear real is interface-2\ninput real.99 takes nobody via nothing\nmix m mono for nobody { none 0 dB }',
      [
        'desk variable declaration',
        'real variable declaration',
        'interface-2 class defaultLibrary',
        'real variable',
        'm enumMember declaration',
      ],
    ],
    'names that are words of the language too': [
      'source left is dynamic-mic\nmix line mono { left 0 dB left 20 % }',
      ['left function declaration', 'dynamic-mic class defaultLibrary', 'line enumMember declaration', 'left function'],
    ],
  };
  it.each(Object.entries(cases))('%s', async (_, [source, expected]) => {
    expect(await tokensOf(source)).toEqual(expected);
  });

  it('of a part of the file are those of the whole that are in it', async () => {
    const { text, ranges } = marked('source a is dynamic-mic\n[|source b is dynamic-mic|]\nsource c is dynamic-mic');
    const bench = await open(text);
    const at = ranges.map(({ start, end }) => ({
      start: bench.document.textDocument.positionAt(start),
      end: bench.document.textDocument.positionAt(end),
    }))[0];
    if (!at) throw new Error('No range is marked.');
    const tokens = provider(bench).semanticHighlightRange(bench.document, { range: at });
    expect(told(bench, tokens)).toEqual(['b function declaration', 'dynamic-mic class defaultLibrary']);
  });

  it('are told as a difference to what was told before, whatever was asked for in between', async () => {
    const bench = await open('source a is dynamic-mic\nsource b is nothing');
    const first = provider(bench).semanticHighlight(bench.document);
    provider(bench).semanticHighlightRange(bench.document, { range: { start: { line: 0, character: 0 }, end: { line: 0, character: 9 } } });
    const same = provider(bench).semanticHighlightDelta(bench.document, { previousResultId: first.resultId ?? '' }) as SemanticTokensDelta;
    expect(same.edits).toEqual([]);
    expect(provider(bench).semanticHighlightDelta(bench.document, { previousResultId: 'long ago' })).toEqual({
      resultId: expect.any(String),
      data: first.data,
    });
  });

  it('have a colour in package.json for every type and modifier there is', async () => {
    const bench = await open('');
    const { legend } = provider(bench).semanticTokensOptions;
    const [scopes] = contributes.semanticTokenScopes;
    const selectors = Object.keys(scopes?.scopes ?? {});
    expect(scopes?.language).toBe('rig');
    expect(new Set(selectors.map((selector) => selector.split('.')[0]))).toEqual(new Set(legend.tokenTypes));
    const ours = contributes.semanticTokenModifiers.map(({ id }) => id);
    const standard = ['declaration', 'defaultLibrary'];
    expect(legend.tokenModifiers).toEqual([...standard, ...ours]);
  });
});
