/** How long an editor waits, warm, in a rig of some 300 lines. */

import type { LangiumDocument } from 'langium';
import { expect, it } from 'vitest';
import { diagnosticOf } from '#language';
import { open } from './bench';

const ZERO = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } };

/** Many small bands on one stage: every statement of the language, over and over. */
function long(lines: number): string {
  const text = ['rig "Night Heron and friends"', 'gear tx "Transmitter" is in-ear-transmitter on 863.3 MHz'];
  for (let band = 1; text.length < lines; band++) {
    text.push(
      `# band ${band}`,
      `performer p${band} "Player ${band}" at ${band % 7} m, 2 m`,
      `source voice${band} "Voice ${band}" is dynamic-mic by p${band}`,
      `source pipe${band} "Pipe ${band}" is clip-on-mic by p${band} peak 118 dB SPL`,
      `gear iface${band} "Interface ${band}" is interface-8 at 1 m, 4 m`,
      `input iface${band}.1  takes voice${band}  via y-lead`,
      `input iface${band}.3  takes pipe${band}`,
      `house ${band}  "Voice ${band}"  takes voice${band}`,
      `mix m${band}  mono  for p${band}  { voice${band} 0 dB  pipe${band} -3 dB }`,
      `output iface${band}.1  carries m${band}  via headphone-amp`,
    );
  }
  return text.join('\n');
}

async function median(times: number, work: (round: number) => unknown): Promise<number> {
  const taken: number[] = [];
  for (let round = 0; round < times; round++) {
    const start = performance.now();
    await work(round);
    taken.push(performance.now() - start);
  }
  return taken.sort((a, b) => a - b)[Math.floor(times / 2)] as number;
}

it('is well under the 20 ms in which nobody notices', async () => {
  const text = long(300);
  const bench = await open(text);
  const { lsp } = bench.services;
  const document = bench.document as LangiumDocument;
  const at = (needle: string, into: number) => document.textDocument.positionAt(text.indexOf(needle) + into);
  const places = [
    at('takes pipe20', 7),
    at('via y-lead\ninput iface20', 5),
    at('iface25.3', 8),
    at('{ voice9', 3),
    at('gear iface11', 6),
    at('is interface-8', 5),
  ];
  const params = (round: number) => ({
    textDocument: { uri: document.uri.toString() },
    position: places[round % places.length] as (typeof places)[number],
  });
  const diagnostics = bench.analysis().located.map(diagnosticOf);
  const took = {
    hover: await median(60, (round) => lsp.HoverProvider?.getHoverContent(document, params(round))),
    completion: await median(60, (round) => lsp.CompletionProvider?.getCompletion(document, params(round))),
    definition: await median(30, (round) => lsp.DefinitionProvider?.getDefinition(document, params(round))),
    references: await median(30, (round) =>
      lsp.ReferencesProvider?.findReferences(document, { ...params(round), context: { includeDeclaration: true } }),
    ),
    symbols: await median(20, () => lsp.DocumentSymbolProvider?.getSymbols(document, { textDocument: { uri: '' } })),
    folding: await median(20, () => lsp.FoldingRangeProvider?.getFoldingRanges(document, { textDocument: { uri: '' } })),
    fixes: await median(20, (round) =>
      lsp.CodeActionProvider?.getCodeActions(document, {
        ...params(0),
        range: diagnostics[0]?.range ?? ZERO,
        context: { diagnostics: diagnostics.slice(round, round + 1) },
      }),
    ),
  };
  for (const [feature, ms] of Object.entries(took)) expect(ms, feature).toBeLessThan(20);
  if (process.env.EARLOOM_TIMES)
    console.log(
      Object.entries(took)
        .map(([feature, ms]) => `${feature} ${ms.toFixed(2)} ms`)
        .join(', '),
    );
});
