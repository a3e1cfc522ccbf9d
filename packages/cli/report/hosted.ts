/**
 * Findings as what hosted runners show beside the lines of a change, each as its forge documents it:
 *
 * - `github`: "Workflow commands" of GitHub Actions: `::error file=…,line=…,col=…,endColumn=…,title=…::message`
 * - `azure`: "Logging commands" of Azure Pipelines: `##vso[task.logissue type=error;sourcepath=…;linenumber=…;columnnumber=…;code=…]message`
 * - `gitlab`: the "Code Quality report format" of GitLab CI/CD, a file of JSON.
 */
import { message, type Severity } from '#engine';
import { type CheckedFile, inOrder } from './checked';
import { visible } from './visible';

export function githubReport(files: readonly CheckedFile[]): string {
  const kinds: Readonly<Record<Severity, string>> = { danger: 'error', error: 'error', warning: 'warning', note: 'notice' };
  // % has to be the first, for the others bring it in.
  const data = (text: string) => visible(text).replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
  const property = (text: string) => data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
  return lines(files, ({ path, severity, code, line, column, endLine, endColumn, says }) => {
    // A runner takes columns only where they are of one line.
    const columns = line === endLine ? `,col=${column},endColumn=${endColumn}` : '';
    return `::${kinds[severity]} file=${property(path)},line=${line},endLine=${endLine}${columns},title=${property(`${severity}: ${code}`)}::${data(says)}`;
  });
}

export function azureReport(files: readonly CheckedFile[]): string {
  const data = (text: string) => visible(text).replaceAll('%', '%AZP25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
  const property = (text: string) => data(text).replaceAll(';', '%3B').replaceAll(']', '%5D');
  return lines(files, ({ path, severity, code, line, column, says }) => {
    // It knows no notes: those are for who reads the log, and nothing in them is to be taken for a command.
    if (severity === 'note') return data(`${path}:${line}:${column} note ${code} ${says}`).replaceAll('##', '# #');
    const kind = severity === 'warning' ? 'warning' : 'error';
    return `##vso[task.logissue type=${kind};sourcepath=${property(path)};linenumber=${line};columnnumber=${column};code=${property(code)}]${data(says)}`;
  });
}

export async function gitlabReport(files: readonly CheckedFile[]): Promise<object[]> {
  const { createHash } = await import('node:crypto');
  const severities: Readonly<Record<Severity, string>> = { danger: 'blocker', error: 'major', warning: 'minor', note: 'info' };
  const seen = new Map<string, number>();
  return told(files).map(({ path, severity, code, line, endLine, says }) => {
    // The same finding keeps its mark when lines are put in above it.
    const what = JSON.stringify([path, code, says]);
    const count = (seen.get(what) ?? 0) + 1;
    seen.set(what, count);
    return {
      description: says,
      check_name: code,
      fingerprint: createHash('sha256').update(`${what} ${count}`).digest('hex'),
      severity: severities[severity],
      location: { path, lines: { begin: line, end: endLine } },
    };
  });
}

interface Told {
  readonly path: string;
  readonly severity: Severity;
  readonly code: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  readonly says: string;
}

/** A file that cannot be read is an error in its first line. */
function told(files: readonly CheckedFile[]): Told[] {
  return files.flatMap((file): Told[] => {
    const { path, located, problem } = file;
    if (problem)
      return [
        {
          path,
          severity: 'error',
          code: 'file/unreadable',
          line: 1,
          column: 1,
          endLine: 1,
          endColumn: 1,
          says: `${problem.what} ${problem.cure}`,
        },
      ];
    return inOrder(located).map(({ finding, range: { start, end } }) => ({
      path,
      severity: finding.severity,
      code: finding.code,
      line: start.line + 1,
      column: start.character + 1,
      endLine: end.line + 1,
      endColumn: end.character + 1,
      says: message(finding),
    }));
  });
}

function lines(files: readonly CheckedFile[], line: (each: Told) => string): string {
  return told(files)
    .map((each) => `${line(each)}\n`)
    .join('');
}
