/** What the editor that asks can do, as far as it matters to what is offered. */
import type { ClientCapabilities } from 'vscode-languageserver';

export class Abilities {
  /** Whether an edit may make a file. */
  createsFiles = false;
  /** Whether an edit may say which version of a text it is for. */
  knowsVersions = false;

  take({ workspace }: ClientCapabilities): void {
    const { documentChanges, resourceOperations } = workspace?.workspaceEdit ?? {};
    this.knowsVersions = documentChanges === true;
    this.createsFiles = this.knowsVersions && (resourceOperations?.includes('create') ?? false);
  }
}
