/** Every problem has a cure behind the light bulb, shown on its own page; or there is a reason why it has none. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CodeAction } from 'vscode-languageserver';
import type { Code } from '#engine';
import { diagnosticOf } from '#language';
import { open, uriOf } from './bench';

const pages = join(import.meta.dirname, '../../examples/mistakes');

/** What only the one who writes, or stands there, can put right. */
const WITHOUT: readonly Code[] = [
  // What brings one clock to another is to be seen on the gear itself.
  'clock/two-masters',
  // Where things can stand in that room is to be seen there.
  'connectors/tail-too-short',
  // Which other gear there is, and how far a limiter or a knob may go, only who has it knows.
  'ears/low-impedance',
  'ears/too-long',
  'ears/too-loud',
  'ears/too-quiet',
  // What feeds whom is to be asked there, and whose plug can be isolated is to be seen.
  'ground/unbalanced-path',
  // What can be turned down, or replaced by another box, is to be seen on the gear itself.
  'levels/little-room',
  'levels/loading',
  'levels/phones-on-line',
  // Which of the models is the wrong one, and what it is instead, only its writer knows.
  'models/loop',
  // Of a model of one's own, what sockets it has; of the library's kinds there are cures.
  'models/no-ports',
  // What lasts longer, and where there is another circuit, is to be asked.
  'power/battery-close',
  'power/battery-short',
  'power/over-circuit',
  'power/over-usb',
  // Where it is played, and whether there is a licence, is nothing to be guessed.
  'radio/needs-licence',
  'radio/outside-ranges',
  'radio/rules-not-known',
  'radio/where-not-said',
  // What to do without, to borrow or to pay for, only the band knows.
  'rig/over-budget',
  // Whether the stage is larger than that, or the place a slip, only its writer knows.
  'stage/far-off',
  'stage/off-stage',
  // Which of the two versions is meant, only those know who wrote them.
  'text/merge-marks',
  // What has been lost is no longer in the text.
  'text/not-readable',
  // Which of them are not needed, and what the figure should have been, only its writer knows.
  'text/too-many',
  'units/impossible',
  // A sound is no voltage: how strong a pickup is, only its writer knows.
  'units/wrong',
  // Who plays it on this night, which file is meant, and what the line should have replaced.
  'use/left-out',
  'use/no-rig',
  'use/nothing-instead',
  // It is mended in the other file, where its own findings have their cures.
  'use/trouble',
];

describe('the light bulb', async () => {
  const bench = await open('# Nothing.');
  const read = (name: string) => readFileSync(join(pages, name), 'utf8');
  const all = readdirSync(pages, { recursive: true, encoding: 'utf8' }).map((entry) => entry.replaceAll('\\', '/'));
  const rigs = all.filter((entry) => entry.endsWith('.rig')).sort();
  const isGear = (name: string) => name.includes('/gear/');
  for (const name of rigs.filter(isGear)) await bench.add(name, read(name));
  for (const name of all.filter((entry) => entry.endsWith('.csv'))) bench.services.rig.Scans.take(uriOf(name), read(name));

  it('has a cure on the page of every code, but for a few', async () => {
    const without = new Set<string>();
    for (const name of rigs) {
      if (isGear(name)) continue;
      const document = await bench.add(name, read(name));
      const own = bench.services.rig.Analyser.of(document).located.filter(({ finding }) => `${finding.code}.rig` === name);
      expect(own, name).not.toEqual([]);
      for (const located of own) {
        const diagnostic = diagnosticOf(located);
        const actions = (await bench.services.lsp.CodeActionProvider?.getCodeActions(document, {
          textDocument: { uri: document.uri.toString() },
          range: diagnostic.range,
          context: { diagnostics: [diagnostic], only: ['quickfix'] },
        })) as CodeAction[];
        // That a finding may stand is no cure of it.
        if (actions.every(({ title }) => title.startsWith('Allow this here'))) without.add(located.finding.code);
      }
    }
    expect([...without]).toEqual(WITHOUT);
  });
});
