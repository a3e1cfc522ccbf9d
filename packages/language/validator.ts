/** Diagnostics from findings. Nothing else is reported: the parser's and the linker's own messages are put into our words. */
import type { DocumentValidator, LangiumDocument } from 'langium';
import { type Diagnostic, DiagnosticSeverity, DiagnosticTag } from 'vscode-languageserver-types';
import { message, type Severity } from '#engine';
import type { Located } from './analysis';
import { isLibrary } from './library';
import type { RigServices } from './module';

const SEVERITY: Readonly<Record<Severity, DiagnosticSeverity>> = {
  danger: DiagnosticSeverity.Error,
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};

export class RigDocumentValidator implements DocumentValidator {
  constructor(private readonly services: RigServices) {}

  async validateDocument(document: LangiumDocument): Promise<Diagnostic[]> {
    if (isLibrary(document.uri)) return [];
    return this.services.rig.Analyser.of(document).located.map(diagnosticOf);
  }
}

export function diagnosticOf({ finding, range, related }: Located): Diagnostic {
  return {
    range,
    severity: SEVERITY[finding.severity],
    code: finding.code,
    source: 'earloom',
    message: message(finding),
    tags: finding.code === 'splits/needless' ? [DiagnosticTag.Unnecessary] : undefined,
    relatedInformation: related.map(({ uri, range: where, says }) => ({ location: { uri, range: where }, message: says })),
  };
}
