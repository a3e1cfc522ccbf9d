/** Inlay hints, written where they are shown: `⟦gain 35 dB⟧`. */
import { describe, expect, it } from 'vitest';
import type { InlayHint, InlayHintLabelPart, Range } from 'vscode-languageserver';
import { applyTo, type Bench, open } from './bench';

const WHOLE: Range = { start: { line: 0, character: 0 }, end: { line: 10_000, character: 0 } };

async function hintsOf(bench: Bench, range = WHOLE): Promise<InlayHint[]> {
  return (await bench.services.lsp.InlayHintProvider?.getInlayHints(bench.document, { textDocument: { uri: '' }, range })) ?? [];
}

function withHints(bench: Bench, hints: readonly InlayHint[]): string {
  const edits = hints.map((hint) => ({ range: { start: hint.position, end: hint.position }, newText: ` ⟦${labelOf(hint)}⟧` }));
  return applyTo(bench.document.textDocument, edits);
}

const partsOf = (hint: InlayHint | undefined) => (hint?.label ?? []) as InlayHintLabelPart[];
const labelOf = (hint: InlayHint | undefined) =>
  partsOf(hint)
    .map(({ value }) => value)
    .join('');
const tooltips = (hint: InlayHint | undefined) =>
  partsOf(hint).flatMap(({ tooltip }) => (typeof tooltip === 'object' ? tooltip.value : []));

/**
 * By hand: 1 Pa is 93.98 dB SPL (20 µPa is 0 dB by definition), and gives 2 mV: 20 log10(2 mV / 774.6 mV) = -51.76 dBu (definition of
 * dBu), so 94 dB SPL give -51.74. The peak at 114 dB SPL is 20 dB above, -31.74 dBu. The input clips at 10 dBu. 20 dB above the
 * usual level asks for 41.7 dB, 6 dB above the peak for 35.7 dB: 35 dB, which leaves 10 - 35 + 31.7 = 6.7 dB.
 * Floor: (1 + 1) m times 1.2, and 2 m, is 4.4 m: the next lead is 5 m long. From the bass's DI to the desk likewise.
 */
const MODELS = `
model mic { output out xlr mic sensitivity 2 mV/Pa  typical 94 dB SPL  peak 114 dB SPL }
model pickup { output out ts instrument level -20 dBu max -5 dBu }
model quiet { output out trs line max 10 dBu }
model desk is interface {
  input 1..2 xlr mic max 10 dBu gain 0..60 dB
  input 3 trs { line max 10 dBu gain 0..20 dB  instrument max 10 dBu gain 0..20 dB }
  input 4 trs line max 20 dBu
  input 5 xlr mic max 10 dBu gain 0..20 dB
  output 1..2 trs line
  mixes 2 mono
}
`;

function rig(lines: string): string {
  return `rig "Marsh Lamp"\nperformer io at 0 m, 0 m\nsource voice is mic by io\nsource bass is pickup by io\ngear desk is desk at 1 m, 1 m\nmix io mono for io { voice 0 dB }\n${lines}\n${MODELS}`;
}

describe('hints', () => {
  const cases: Record<string, string> = {
    'the gain to set, the headroom, the lead': 'input desk.1 takes voice ⟦gain 35 dB · headroom 6 dB · XLR, 5 m⟧',
    'a gain that is written is not shown again': 'input desk.1 takes voice gain 30 dB ⟦headroom 11 dB · XLR, 5 m⟧',
    'a gain that is too high': 'input desk.1 takes voice gain 45 dB ⟦peaks 4 dB over · XLR, 5 m⟧',
    'behind a comment': 'input desk.1 takes voice   # hers ⟦gain 35 dB · headroom 6 dB · XLR, 5 m⟧',
    'on the last line of a broken one': 'input desk.1\n  takes voice ⟦gain 35 dB · headroom 6 dB · XLR, 5 m⟧',
    'each lead of the way': 'input desk.1 takes voice via y-lead ⟦gain 35 dB · headroom 6 dB · XLR, 2 m + XLR, 5 m⟧',
    'a mono lead into a socket with three poles': 'input desk.3 takes bass ⟦gain 9 dB · headroom 6 dB · TS jack, 5 m⟧',
    'ends that differ, and no gain where a microphone is on a line input': 'input desk.4 takes voice ⟦XLR female to TRS jack, 5 m⟧',
    'as much gain as there is': 'input desk.5 takes voice ⟦gain 20 dB · headroom 21 dB · XLR, 5 m⟧',
    'nothing for what is played elsewhere': 'input desk.1 takes nobody',
    // -20 dBu and 20 dB of headroom below 10 dBu ask for 10 dB, the peak of -5 dBu and 6 dB for 9.
    'gear that is plugged in by its name, as a source': 'gear box is pickup\ninput desk.3 takes box ⟦gain 9 dB · headroom 6 dB⟧',
    'what nothing says the level of': 'gear box is quiet\ninput desk.3 takes box ⟦level not stated⟧',
    // The amplifier is with its listener.
    'an output': 'output desk.1 carries io via headphone-amp ⟦TRS jack, 5 m⟧',
    'a line of the house, and what it shares with ours once':
      'house at 2 m, 1 m\ninput desk.1 takes voice via y-lead.1 ⟦gain 35 dB · headroom 6 dB · XLR, 2 m + XLR, 5 m⟧\nhouse 1 takes voice ⟦XLR, 6 m⟧',
  };
  it.each(Object.entries(cases))('%s', async (_, lines) => {
    const bench = await open(rig(lines.replace(/ ⟦[^⟧]*⟧/g, '')));
    expect(withHints(bench, await hintsOf(bench))).toBe(rig(lines));
  });

  it('says nothing of plain leads whose length is not known', async () => {
    const bench = await open(rig('input desk.1 takes voice').replace(' at 1 m, 1 m', ''));
    expect((await hintsOf(bench)).map(labelOf)).toEqual(['gain 35 dB · headroom 6 dB']);
  });

  it('gives only those of the lines that are asked for', async () => {
    const bench = await open(rig('input desk.1 takes voice\ninput desk.3 takes bass'));
    const line = bench.document.textDocument.getText().split('\n').indexOf('input desk.3 takes bass');
    const hints = await hintsOf(bench, { start: { line, character: 0 }, end: { line, character: 5 } });
    expect(new Set(hints.map(({ position }) => position.line))).toEqual(new Set([line]));
    expect(hints.length).toBeGreaterThan(0);
  });

  it('writes the gain into the line, before its comment; then there is nothing more to write', async () => {
    const bench = await open(rig('input desk.1 takes voice   # hers'));
    const edits = (await hintsOf(bench)).flatMap((hint) => hint.textEdits ?? []);
    const text = applyTo(bench.document.textDocument, edits);
    expect(text).toBe(rig('input desk.1 takes voice gain 35 dB   # hers'));
    const after = await open(text);
    const codes = (each: Bench) => each.analysis().located.map(({ finding }) => finding.code);
    expect(codes(after)).toEqual(codes(bench));
    expect((await hintsOf(after)).map(labelOf)).toEqual(['headroom 6 dB · XLR, 5 m']);
  });

  it('says how it was reckoned', async () => {
    const bench = await open(rig('input desk.1 takes voice'));
    const [hint] = await hintsOf(bench);
    const [gain, headroom, lead] = tooltips(hint);
    for (const figure of ['-51.7 dBu', '-31.7 dBu', '10 dBu', '0 to 60 dB', '20 dB', '6 dB', '35.7 dB']) expect(gain).toContain(figure);
    expect(headroom).toContain('6 dB below where this input clips at 35 dB of gain');
    expect(lead).toContain('4.4 m are needed');
    expect(lead).toContain('XLR female there, XLR male here, balanced');
  });

  it('leaves out what is switched off', async () => {
    const bench = await open(rig('input desk.1 takes voice'));
    const labels = async (hints: Readonly<Record<string, boolean>>) => {
      bench.services.editor.Settings.take({ hints });
      return (await hintsOf(bench)).map(labelOf);
    };
    expect(await labels({ gain: false })).toEqual(['headroom 6 dB · XLR, 5 m']);
    expect(await labels({ headroom: false, lead: false })).toEqual(['gain 35 dB']);
    expect(await labels({ gain: false, headroom: false, lead: false })).toEqual([]);
    expect(await labels({})).toEqual(['gain 35 dB · headroom 6 dB · XLR, 5 m']);
  });

  it('never tells of a lead from an amplifier into a desk', async () => {
    const text = rig('input desk.4 takes amp.loud').replace('source bass', 'source amp is head by io\nsource bass');
    const bench = await open(`${text}\nmodel head { output loud speaker-jack speaker max 30 dBu }`);
    expect(bench.analysis().located.map(({ finding }) => finding.code)).toContain('levels/speaker-output');
    expect(await hintsOf(bench)).toEqual([]);
  });
});
