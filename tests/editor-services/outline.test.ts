/** The outline and what can be folded, written as they would be seen. */
import { describe, expect, it } from 'vitest';
import type { DocumentSymbol } from 'vscode-languageserver';
import { open } from './bench';

const RIG = `# Two lines
# of comment.
rig "Night Heron"
  rate 48 kHz
  set 60 min

performer ana "Ana"
performer brik

source voice "Voice" is dynamic-mic by ana
source gurdy is modeller by brik
gear iface "Interface" is box

#region ports
model box is interface {
  input 1..2 combo {
    mic
  }
  output 1..4 trs line
}
#endregion

input iface.1 takes voice via y-lead
input iface.2 takes gurdy.jack
house at 1 m, 1 m
house 3 "Voice" takes voice
house 4 "Kick" own mic
mix ana mono for ana { voice 0 dB  gurdy -3 dB }
output iface.1..2 carries ana via headphone-amp
`;

function drawn(symbols: readonly DocumentSymbol[], indent = ''): string[] {
  return symbols.flatMap(({ name, detail, children }) => [
    `${indent}${name}${detail ? ` | ${detail}` : ''}`,
    ...drawn(children ?? [], `${indent}  `),
  ]);
}

describe('outline', () => {
  it('groups what stands together', async () => {
    const { services, document } = await open(RIG);
    const symbols = (await services.lsp.DocumentSymbolProvider?.getSymbols(document, { textDocument: { uri: '' } })) ?? [];
    expect(drawn(symbols)).toEqual([
      'Night Heron',
      'Performers | 2',
      '  Ana | ana',
      '  brik',
      'Sources | 2',
      '  Voice | voice is dynamic-mic',
      '  gurdy | is modeller',
      'Interface | iface is box',
      'box | is interface',
      '  input 1..2 | combo',
      '  output 1..4 | trs',
      'Inputs | 2',
      '  iface.1 | takes Voice via Y-lead',
      '  iface.2 | takes gurdy',
      'House | 3',
      '  Stage box',
      '  3 Voice | takes Voice',
      '  4 Kick | own mic',
      'ana | mono, for Ana, 2 in it',
      'iface.1..2 | carries ana via Headphone amplifier',
    ]);
  });

  it('keeps every name inside its statement, and every statement inside its group', async () => {
    const { services, document } = await open(RIG);
    const inside = (inner: DocumentSymbol['range'], outer: DocumentSymbol['range']) =>
      document.textDocument.offsetAt(inner.start) >= document.textDocument.offsetAt(outer.start) &&
      document.textDocument.offsetAt(inner.end) <= document.textDocument.offsetAt(outer.end);
    const check = (symbol: DocumentSymbol): void => {
      expect(inside(symbol.selectionRange, symbol.range), symbol.name).toBe(true);
      for (const child of symbol.children ?? []) {
        expect(inside(child.range, symbol.range), child.name).toBe(true);
        check(child);
      }
    };
    for (const symbol of (await services.lsp.DocumentSymbolProvider?.getSymbols(document, { textDocument: { uri: '' } })) ?? [])
      check(symbol);
  });

  it.each([
    'source',
    'source voice',
    'mix',
    'mix {',
    'input iface.',
    'input iface. takes',
    'house',
    'gear x is',
    'model',
    'model {',
    'use',
    'rig "',
    'output',
  ])('does not stumble over %s', async (text) => {
    const { services, document } = await open(text);
    const symbols = (await services.lsp.DocumentSymbolProvider?.getSymbols(document, { textDocument: { uri: '' } })) ?? [];
    for (const { name } of symbols) expect(name).not.toBe('');
  });
});

describe('folding', () => {
  it('folds braces, comments, runs of one kind, long statements and regions', async () => {
    const { services, document } = await open(RIG);
    const folds = (await services.lsp.FoldingRangeProvider?.getFoldingRanges(document, { textDocument: { uri: '' } })) ?? [];
    const lines = RIG.split('\n');
    expect(folds.map(({ startLine, endLine }) => `${lines[startLine]} … ${lines[endLine]}`)).toEqual([
      '# Two lines … # of comment.',
      'rig "Night Heron" …   set 60 min',
      'performer ana "Ana" … performer brik',
      'source voice "Voice" is dynamic-mic by ana … source gurdy is modeller by brik',
      '#region ports … #endregion',
      'model box is interface { …   output 1..4 trs line',
      '  input 1..2 combo { …     mic',
      'input iface.1 takes voice via y-lead … input iface.2 takes gurdy.jack',
      'house at 1 m, 1 m … house 4 "Kick" own mic',
    ]);
  });
});
