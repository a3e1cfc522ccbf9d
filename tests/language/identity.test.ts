/** What a line is known by: what stands above it in the text renames nothing. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { AstUtils, URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { expect, it } from 'vitest';
import { RigLoader } from '#language';
import { root } from '../build';
import { generateRig, randomFrom } from '../generate';
import { cases } from '../thorough';

const EXAMPLES = path.join(root, 'examples');
const loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(EXAMPLES));
let count = 0;

/** Every place in a text but those of findings about the text itself, with what stands there. */
async function places(text: string): Promise<ReadonlyMap<string, string>> {
  const document = await loader.loadText(text, URI.file(path.join(EXAMPLES, `typed-${++count}.rig`)));
  const found = new Map<string, string>();
  for (const [place, { node, property, index }] of loader.services.rig.Analyser.of(document).lowered.marks.entries())
    if (!place.startsWith('text:') && AstUtils.getDocument(node) === document)
      found.set(place, `${node.$cstNode?.text} ${property ?? ''} ${index ?? ''}`);
  return found;
}

/** Lines of every kind that are about nothing which is in the rigs below. */
const PUT_IN = [
  '# a comment',
  '',
  'performer somebody-new at 1 m, 1 m',
  'source thing-new is dynamic-mic',
  'gear box-new is interface-8-mic',
  'model kind-new is dynamic-mic',
  'input box-new.1 takes thing-new via y-lead',
  'house 998 "New" takes thing-new via passive-di',
  'mix mix-new mono { thing-new 0 dB }',
  'output box-new.1 carries mix-new via passive-di',
];

/** Where a statement starts, as these rigs write them: at the start of a line. */
function starts(text: string): number[] {
  return [...text.matchAll(/^(?=(use|performer|source|gear|model|input|house|mix|output)\b)/gm)].map(({ index }) => index);
}

it('a line put in above renames no line, no step on its way, no send and nothing else', { timeout: 120_000 }, async () => {
  const random = randomFrom(5);
  const texts = [
    ...['first.rig', 'choir.rig', 'street.rig', 'ten.rig'].map((name) => readFileSync(path.join(EXAMPLES, name), 'utf8')),
    generateRig(120, 3),
    // Several for one socket, and one for a socket that is not there.
    'rig "Twice"\ngear i is interface-8-mic\nsource a is dynamic-mic\nsource b is dynamic-mic\ninput i.1 takes a\ninput i.1 takes b via y-lead\ninput no.1 takes a\nmix m mono { a 0 dB  a -3 dB  b 0 dB }\n',
  ];
  for (const text of texts) {
    const before = await places(text);
    const at = starts(text);
    for (let time = 0; time < cases(25, 5); time++) {
      const where = at[Math.floor(random() * at.length)] ?? 0;
      const line = PUT_IN[Math.floor(random() * PUT_IN.length)] ?? '';
      const after = await places(`${text.slice(0, where)}${line}\n${text.slice(where)}`);
      const renamed = [...before].filter(([place, what]) => place !== 'rig' && after.get(place) !== what);
      expect(renamed, line).toEqual([]);
    }
  }
});

it('a line is known by its socket or its number, the second of the same by which it is', async () => {
  const known = await places(
    'rig "Known"\ngear i is interface-8-mic\nsource a is dynamic-mic\ninput i.1..2 takes a via y-lead\ninput i.3 takes a\ninput i.3 takes a\nhouse at 1 m, 1 m\nhouse 8 takes a\nmix m mono { a 0 dB  a -3 dB }\noutput i.1 carries m',
  );
  const names = [...known.keys()];
  expect(names).toEqual(
    expect.arrayContaining(['input:i.1..2/via.0', 'input:i.3', 'input:i.3~2', 'house:8', 'mix:m/send.a', 'mix:m/send.a~2', 'output:i.1']),
  );
});
