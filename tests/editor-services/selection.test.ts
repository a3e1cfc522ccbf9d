/** Expanding the selection: each line below the text is what the next step takes in. */
import { describe, expect, it } from 'vitest';
import type { SelectionRange } from 'vscode-languageserver';
import { open } from './bench';

async function steps(source: string): Promise<string[]> {
  const { document, services, position } = await open(source);
  const [first] = services.editor.SelectionProvider.getSelectionRanges(document, { positions: [position] });
  const found: string[] = [];
  for (let at: SelectionRange | undefined = first; at; at = at.parent) found.push(document.textDocument.getText(at.range));
  return found;
}

const RIG = 'rig "Marsh Lamp"\n\ninput desk.3 takes voice via y-lead, bass-di.thru\ninput desk.4 takes reed\n\nhouse 1 own mic\n';

describe('selection', () => {
  const cases: Record<string, [string, string[]]> = {
    'a step of a line': [
      RIG.replace('thru', 'th<|>ru'),
      [
        'thru',
        'bass-di.thru',
        'via y-lead, bass-di.thru',
        'input desk.3 takes voice via y-lead, bass-di.thru',
        'input desk.3 takes voice via y-lead, bass-di.thru\ninput desk.4 takes reed',
        RIG,
      ],
    ],
    'behind the last letter': [
      RIG.replace('desk.4', 'desk<|>.4'),
      ['desk', 'desk.4', 'input desk.4 takes reed', 'input desk.3 takes voice via y-lead, bass-di.thru\ninput desk.4 takes reed', RIG],
    ],
    'a label, first without its quotes': [RIG.replace('Lamp', 'La<|>mp'), ['Marsh Lamp', '"Marsh Lamp"', 'rig "Marsh Lamp"', RIG]],
    'a level in a mix': [
      'mix io mono for io { voice -<|>3 dB  reed 0 dB }',
      ['-3', '-3 dB', 'voice -3 dB', 'voice -3 dB  reed 0 dB', 'mix io mono for io { voice -3 dB  reed 0 dB }'],
    ],
    'a figure of a model': [
      'model box {\n  input 1 xlr mic max 2<|> dBu gain 0..50 dB\n  output 1 xlr\n}',
      [
        '2',
        '2 dBu',
        'max 2 dBu',
        'mic max 2 dBu gain 0..50 dB',
        'input 1 xlr mic max 2 dBu gain 0..50 dB',
        'input 1 xlr mic max 2 dBu gain 0..50 dB\n  output 1 xlr',
        'model box {\n  input 1 xlr mic max 2 dBu gain 0..50 dB\n  output 1 xlr\n}',
      ],
    ],
    'a comment behind a line': [
      'gear a is box   # her <|>own # too\nrate',
      ['own', 'her own # too', '# her own # too', 'gear a is box   # her own # too\nrate'],
    ],
    'a comment of several lines': [
      'use "a.rig"\n# one\n# t<|>wo\n\nuse "b.rig"',
      ['two', '# two', '# one\n# two', 'use "a.rig"\n# one\n# two\n\nuse "b.rig"'],
    ],
    'a # in a label is no comment': ['gear a "No<|> # 1" is box', ['No # 1', '"No # 1"', 'gear a "No # 1" is box']],
    'between the words of a statement': [
      'source a is mic   <|>   by io\nrig',
      ['source a is mic      by io', 'source a is mic      by io\nrig'],
    ],
    'in an empty file': ['<|>', ['']],
    'on an empty line': ['rig\n<|>\nuse "a"', ['rig\n\nuse "a"']],
    'where nothing can be read': ['mix {{{ <|>}', ['}', 'mix {{{ }']],
  };
  it.each(Object.entries(cases))('%s', async (_, [source, expected]) => {
    expect(await steps(source)).toEqual(expected);
  });

  it('always grows, takes in the position, and ends with the file, wherever it starts', async () => {
    const { document, services } = await open(`# head\n${RIG}model box {\r\n  input 1 xlr mic\r\n}\r\nmix io { voice 0 dB`);
    const { textDocument } = document;
    const text = textDocument.getText();
    const positions = Array.from({ length: text.length + 1 }, (_, offset) => textDocument.positionAt(offset));
    const chains = services.editor.SelectionProvider.getSelectionRanges(document, { positions });
    expect(chains).toHaveLength(positions.length);
    for (const [index, chain] of chains.entries()) {
      const offset = textDocument.offsetAt(positions[index] as (typeof positions)[0]);
      let before = { start: offset, end: offset };
      let last = before;
      for (let at: SelectionRange | undefined = chain; at; at = at.parent) {
        last = { start: textDocument.offsetAt(at.range.start), end: textDocument.offsetAt(at.range.end) };
        expect(last.start).toBeLessThanOrEqual(before.start);
        expect(last.end).toBeGreaterThanOrEqual(before.end);
        if (before.end > before.start) expect(last.end - last.start).toBeGreaterThan(before.end - before.start);
        before = last;
      }
      expect(last).toEqual({ start: 0, end: text.length });
    }
  });
});
