/** What the editor that asks can do, as far as it matters to what is offered. */
import type { ClientCapabilities } from 'vscode-languageserver';

export class Abilities {
  /** Whether an edit may make a file. */
  createsFiles = false;

  take({ workspace }: ClientCapabilities): void {
    const { documentChanges, resourceOperations } = workspace?.workspaceEdit ?? {};
    this.createsFiles = documentChanges === true && (resourceOperations?.includes('create') ?? false);
  }
}
