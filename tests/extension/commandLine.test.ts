/** "Check at the Command Line": a process that is given its words one by one, in a folder that is trusted. */
import { createRequire } from 'node:module';
import path from 'node:path';
import esbuild from 'esbuild';
import { expect, it } from 'vitest';
import { root } from '../build';

/** A name that would run something, were it typed: an interrupt, a line's end, and every sign that a shell reads. */
const NAME = 'a\u0003\r; touch run\n$(touch run)`touch run`\'"&|%PATH%.rig';

interface Task {
  readonly words: readonly unknown[];
}

/** The command, with an editor that only remembers what it was asked. */
async function run({ trusted = true, scheme = 'file', opened = true, answer = undefined as string | undefined }) {
  const asked: string[] = [];
  const tasks: Task[] = [];
  const uri = (path: string) => ({ scheme, path, fsPath: path, toString: () => path });
  const document = { languageId: 'rig', uri: uri(`/band/${NAME}`) };
  const say = async (says: string) => {
    asked.push(says);
    return answer;
  };
  const vscode = {
    workspace: { isTrusted: trusted, workspaceFolders: [], getWorkspaceFolder: () => ({ uri: uri('/band') }) },
    window: {
      activeTextEditor: opened ? { document } : undefined,
      visibleTextEditors: [],
      showWarningMessage: say,
      showInformationMessage: say,
    },
    commands: { executeCommand: async (command: string) => void asked.push(command) },
    tasks: { executeTask: async (task: Task) => void tasks.push(task) },
    Uri: { joinPath: ({ path: at }: { path: string }, ...more: string[]) => uri(path.posix.join(at, ...more)) },
    ProcessExecution: class {
      constructor(...words: unknown[]) {
        Object.assign(this, { words });
      }
    },
    Task: class {
      constructor(_definition: unknown, _scope: unknown, _name: string, _source: string, execution: Task) {
        expect(execution).toBeInstanceOf(vscode.ProcessExecution);
        Object.assign(this, execution);
      }
    },
    TaskScope: { Workspace: 2 },
    TaskRevealKind: { Always: 1 },
  };
  const { outputFiles } = await esbuild.build({
    entryPoints: [path.join(root, 'packages/extension/commandLine.ts')],
    ...({ bundle: true, write: false, format: 'cjs', platform: 'node', external: ['vscode'] } as const),
  });
  const module = { exports: {} as { checkInTerminal: (uri: unknown) => Promise<void> } };
  const load = createRequire(import.meta.url);
  new Function('module', 'exports', 'require', outputFiles[0]?.text ?? '')(module, module.exports, (name: string) =>
    name === 'vscode' ? vscode : load(name),
  );
  await module.exports.checkInTerminal(uri('/extension'));
  return { asked, tasks };
}

it('hands over the name as one word, whatever is in it, after the last option', async () => {
  const { asked, tasks } = await run({});
  expect(asked).toEqual([]);
  expect(tasks.map(({ words }) => words)).toEqual([
    ['node', ['/extension/dist/cli.cjs', 'check', '--', `/band/${NAME}`], { cwd: '/band' }],
  ]);
});

it('asks for trust, and runs nothing without', async () => {
  const { asked, tasks } = await run({ trusted: false });
  expect(tasks).toEqual([]);
  expect(asked).toEqual([expect.stringContaining('only in a folder that you trust')]);
  expect((await run({ trusted: false, answer: 'Manage Trust' })).asked).toContain('workbench.trust.manage');
});

it('says what is needed where there is no file to check', async () => {
  expect(await run({ opened: false })).toEqual({ asked: [expect.stringContaining('Open a .rig file')], tasks: [] });
  expect(await run({ scheme: 'untitled' })).toEqual({ asked: [expect.stringContaining('Save this rig')], tasks: [] });
});
