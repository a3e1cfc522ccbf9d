/** The manifest names nothing that is not there, and all of it ships. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, inject, it } from 'vitest';
import { root } from '../build';

interface Step {
  readonly id: string;
  readonly description: string;
  readonly media: { readonly svg: string; readonly altText: string };
  readonly completionEvents: readonly string[];
}

const manifest = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
const commands: string[] = manifest.contributes.commands.map(({ command }: { command: string }) => command);
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');

describe('the walkthrough', () => {
  const [walkthrough, ...more] = manifest.contributes.walkthroughs as { id: string; steps: Step[] }[];
  const steps = walkthrough?.steps ?? [];

  it('has four to six steps', () => {
    expect(more).toEqual([]);
    expect(walkthrough?.id).toBe('firstHour');
    expect(steps.length).toBeGreaterThanOrEqual(4);
    expect(steps.length).toBeLessThanOrEqual(6);
    expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
  });

  it.each(steps.map((step) => [step.id, step] as const))(
    '%s: its picture is there and ships, its command exists and, done to its end, completes it',
    (id, step) => {
      expect(existsSync(path.join(root, step.media.svg))).toBe(true);
      expect(step.media.altText).not.toBe('');
      const svg = read(step.media.svg);
      expect(svg).toContain('<title>');
      expect(svg).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)|<script/);
      const linked = [...step.description.matchAll(/\]\(command:([\w.]+)\)/g)].map(([, command]) => command);
      // The first is what the step is about; what else is linked is to read on.
      expect(linked.length).toBeGreaterThan(0);
      expect(commands).toEqual(expect.arrayContaining(linked));
      expect(step.completionEvents).toEqual([`onContext:earloom.done.${id}`]);
      expect(read('packages/extension/start.ts')).toMatch(new RegExp(`command\\(\\s*'${linked[0]?.split('.')[1]}',\\s*stepOf\\('${id}'`));
    },
  );
});

it('has a command registered for each that it contributes, and none besides', () => {
  const start = read('packages/extension/start.ts');
  const registered = [...start.matchAll(/command\(\s*'(\w+)'/g)].map(([, name]) => `earloom.${name}`);
  expect(registered.sort()).toEqual([...commands].sort());
});

it('offers each export where a rig is open, and nowhere else', () => {
  const { commandPalette, 'editor/title': title } = manifest.contributes.menus as Record<string, { command: string; when: string }[]>;
  const exports = commands.filter((command) => command.startsWith('earloom.export'));
  expect(exports).toContain('earloom.exportLabels');
  for (const name of exports) {
    const when = (menu: typeof title) => menu?.filter(({ command }) => command === name).map((item) => item.when);
    expect(when(commandPalette)).toEqual(['editorLangId == rig || activeWebviewPanelId == earloom.preview']);
    expect(when(title)).toEqual(['activeWebviewPanelId == earloom.preview']);
  }
});

it('runs programs in folders that are trusted, and all else everywhere', () => {
  const { commandPalette } = manifest.contributes.menus as Record<string, { command: string; when: string }[]>;
  const asking = commandPalette?.filter(({ when }) => when.includes('isWorkspaceTrusted')).map(({ command }) => command);
  expect(asking?.sort()).toEqual(['earloom.commandLine', 'earloom.compareWithLastCommit']);
  expect(manifest.capabilities.untrustedWorkspaces).toEqual({ supported: 'limited', description: expect.stringContaining('command line') });
});

describe('what is typed', () => {
  const { indentationRules, onEnterRules } = JSON.parse(read('syntaxes/language-configuration.json'));
  const decrease = new RegExp(indentationRules.decreaseIndentPattern);

  it.each([
    ['a title', 'rig "Gull Lane"'],
    ['a title with clauses', 'rig "Gull Lane"  region EU'],
    ['a statement', 'source voice "Voice" is dynamic-mic by ana'],
  ])('stays at the margin after %s', (_, line) => {
    const sets = onEnterRules.filter(({ action }: { action: { indent: string } }) => action.indent !== 'none');
    expect(sets.filter(({ beforeText }: { beforeText: string }) => new RegExp(beforeText).test(line))).toEqual([]);
    expect(new RegExp(indentationRules.increaseIndentPattern).test(line)).toBe(false);
  });

  it('comes back to the margin behind a blank line, and leaves a line that is pushed down as it is', () => {
    const rules = (before: string, after: string) =>
      onEnterRules.filter(
        ({ beforeText, afterText = '' }: { beforeText: string; afterText?: string }) =>
          new RegExp(beforeText).test(before) && new RegExp(afterText).test(after),
      );
    expect(rules('  ', '')).toEqual([expect.objectContaining({ action: { indent: 'none', removeText: 99 } })]);
    // In a block that was just opened, the first line is still to be written.
    const behind = new RegExp(onEnterRules[0].previousLineText);
    expect(['mix ana { voice 0 dB }', '', 'rate 48 kHz'].filter((line) => !behind.test(line))).toEqual([]);
    expect(['model our-mic {', '  output out xlr {  # so'].filter((line) => behind.test(line))).toEqual([]);
    expect(rules('', '  region EU')).toEqual([]);
    expect(rules('  region EU', '')).toEqual([]);
  });

  it('comes back to the margin with a statement’s word, and not with what only begins like one', () => {
    for (const line of ['  source ', '  mix ', '  }', '    house ']) expect(decrease.test(line), line).toBe(true);
    for (const line of ['  mixer', '  rig', '  source-2 0 dB', '  input 1..2 xlr', '  region EU', '  # mix '])
      expect(decrease.test(line), line).toBe(false);
  });

  it('brings up no words out of comments', () => {
    expect(manifest.contributes.configurationDefaults['[rig]']['editor.wordBasedSuggestions']).toBe('off');
  });
});

it('gives a click the colour of any source', () => {
  const [{ scopes }] = manifest.contributes.semanticTokenScopes as { scopes: Record<string, string[]> }[] as [
    { scopes: Record<string, string[]> },
  ];
  expect(Object.keys(scopes).filter((selector) => selector.startsWith('function'))).toEqual(['function']);
});

it('ships what it names', () => {
  expect(inject('buildFailure')).toBe('');
  const files = execFileSync('npx', ['vsce', 'ls', '--no-dependencies'], { cwd: root, encoding: 'utf8' }).trim().split('\n');
  const named = [
    ...[manifest.main, manifest.browser, manifest.icon],
    ...[
      'dist/server.cjs',
      'dist/server.web.js',
      'dist/preview.js',
      'dist/preview.css',
      'dist/mistakes.json',
      'dist/NOTICES.txt',
      'dist/cli.cjs',
    ],
    ...manifest.contributes.walkthroughs[0].steps.map(({ media }: Step) => media.svg),
  ].map((file: string) => file.replace(/^\.\//, ''));
  expect(files).toEqual(expect.arrayContaining(named));
  expect(files.filter((file) => /\.(ts|tsx|map)$/.test(file))).toEqual([]);
});
