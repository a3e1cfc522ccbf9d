/** What the README shows is right. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { EmptyFileSystem, URI } from 'langium';
import { expect, test } from 'vitest';
import { RigLoader } from '#language';
import { differences } from './marks';
import { foundIn } from './open';

test('the README’s rig is clean', async () => {
  const readme = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8');
  const rigs = [...readme.matchAll(/```\n(.*?)```/gs)].map((match) => match[1] as string).filter((text) => /^rig "/m.test(text));
  expect(rigs).toHaveLength(1);
  const loader = new RigLoader(EmptyFileSystem.fileSystemProvider(), URI.parse('memory:/'));
  for (const text of rigs) {
    const document = await loader.loadText(text, URI.parse('memory:/readme.rig'));
    expect(differences(text, foundIn(loader.services.rig.Analyser.of(document)))).toBe('');
  }
});
