/** The walkthrough: a step of it is ticked when what it is about is there, and not when somebody has only begun it. */
import * as vscode from 'vscode';

/** By the ids in the manifest. */
export type Step = 'rig' | 'patch-list' | 'mistake' | 'library' | 'command-line';

/** Runs what a step is about; it says whether it came to its end. */
export function stepOf<A extends unknown[]>(step: Step, run: (...given: A) => Promise<boolean> | boolean): (...given: A) => Promise<void> {
  return async (...given) => {
    if (await run(...given)) await vscode.commands.executeCommand('setContext', `earloom.done.${step}`, true);
  };
}

export async function showAround(extensionId: string): Promise<void> {
  await vscode.commands.executeCommand('workbench.action.openWalkthrough', `${extensionId}#firstHour`);
}
