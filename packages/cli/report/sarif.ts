/**
 * Findings in the Static Analysis Results Interchange Format, version 2.1.0 (an OASIS Standard), for whoever shows or gathers such results.
 * Rules are the codes, and their help is the page of each; fixes are the cures as edits. Files are named from the folder one is in.
 */
import type { Log, PhysicalLocation, Region, ReportingDescriptor, Result } from 'sarif';
import { message, type Severity, say } from '#engine';
import type { Located } from '#language';
import type { Cure } from '#language/cures';
import { explanation } from '#language/explanation';
import { version } from '../../../package.json';
import { type CheckedFile, inOrder } from './checked';

export interface SarifMeans {
  /** Where a file is by its address: as other programs know it. */
  readonly pathOf: (uri: string) => string;
  /** What a finding of a file can be cured by. */
  readonly curesOf: (file: CheckedFile, located: Located) => readonly Cure[];
  /** The page of each code, by its code. */
  readonly pages: Readonly<Record<string, string>>;
}

const LEVELS: Readonly<Record<Severity, 'error' | 'warning' | 'note'>> = {
  danger: 'error',
  error: 'error',
  warning: 'warning',
  note: 'note',
};

export function sarifReport(files: readonly CheckedFile[], means: SarifMeans): Log {
  const rules = new Map<string, ReportingDescriptor>();
  const results = files.flatMap((file) =>
    [...inOrder(file.located), ...inOrder(file.allowed)].map((located): Result => {
      const { finding } = located;
      if (!rules.has(finding.code)) rules.set(finding.code, ruleOf(located, means.pages[finding.code]));
      return resultOf(file, located, [...rules.keys()].indexOf(finding.code), means);
    }),
  );
  const unread = files.flatMap(({ path, problem }) => (problem ? [{ path, says: `${problem.what} ${problem.cure}` }] : []));
  return {
    $schema: 'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: { driver: { name: 'Earloom', semanticVersion: version, rules: [...rules.values()] } },
        columnKind: 'utf16CodeUnits',
        results,
        invocations: [
          {
            executionSuccessful: unread.length === 0,
            toolExecutionNotifications: unread.map(({ path, says }) => ({
              level: 'error',
              message: { text: says },
              locations: [{ physicalLocation: { artifactLocation: { uri: addressOf(path) } } }],
            })),
          },
        ],
      },
    ],
  };
}

function ruleOf({ finding }: Located, page: string | undefined): ReportingDescriptor {
  const first = page === undefined ? say(finding).what : (/^# (.+)$/m.exec(page)?.[1] ?? finding.code);
  return {
    id: finding.code,
    shortDescription: { text: first },
    defaultConfiguration: { level: LEVELS[finding.severity] },
    ...(page === undefined ? {} : { help: { text: plain(page), markdown: explanation(finding.code, page) } }),
    properties: { tags: [finding.code.split('/')[0] ?? '', ...(finding.severity === 'danger' ? ['danger'] : [])] },
  };
}

/** The page's own words, without its rig. */
function plain(page: string): string {
  const lines = page.split(/\r?\n/);
  const end = lines.findIndex((line) => !line.startsWith('#'));
  return (end < 0 ? lines : lines.slice(0, end)).map((line) => line.replace(/^# ?/, '')).join('\n');
}

function resultOf(file: CheckedFile, located: Located, ruleIndex: number, { pathOf, curesOf }: SarifMeans): Result {
  const { finding, range, related } = located;
  // What is in the library is at an address of its own, which no other program can open.
  const there = related.filter(({ uri }) => uri.startsWith('file:'));
  const cures = finding.allowed === undefined ? curesOf(file, located) : [];
  return {
    ruleId: finding.code,
    ruleIndex,
    level: LEVELS[finding.severity],
    message: { text: message(finding) },
    locations: [{ physicalLocation: place(file.path, range) }],
    ...(there.length === 0
      ? {}
      : {
          relatedLocations: there.map(({ uri, range: where, says }, id) => ({
            id,
            physicalLocation: place(pathOf(uri), where),
            message: { text: says },
          })),
        }),
    ...(cures.length === 0 ? {} : { fixes: cures.map((cure) => fixOf(cure, pathOf)) }),
    // A comment of the rig says why it may stand.
    ...(finding.allowed === undefined ? {} : { suppressions: [{ kind: 'inSource', justification: finding.allowed }] }),
    ...(finding.severity === 'danger' ? { properties: { danger: true } } : {}),
  };
}

function fixOf({ title, changes }: Cure, pathOf: (uri: string) => string) {
  return {
    description: { text: title },
    artifactChanges: Object.entries(changes).map(([uri, edits]) => ({
      artifactLocation: { uri: addressOf(pathOf(uri)) },
      replacements: edits.map(({ range, newText }) => ({ deletedRegion: region(range), insertedContent: { text: newText } })),
    })),
  };
}

function place(path: string, range: Located['range']): PhysicalLocation {
  return { artifactLocation: { uri: addressOf(path) }, region: region(range) };
}

/** Lines and columns count from 1; `endColumn` is just after the last letter. */
function region({ start, end }: Located['range']): Region {
  return { startLine: start.line + 1, startColumn: start.character + 1, endLine: end.line + 1, endColumn: end.character + 1 };
}

/** A path as an address that is relative to where one is; in full where it is not below that. */
export function addressOf(path: string): string {
  if (path === '-') return 'standard-input.rig';
  const parts = path.split('/').map((part, index) => (index === 0 && /^[A-Za-z]:$/.test(part) ? part : encodeURIComponent(part)));
  return path.startsWith('/') ? `file://${parts.join('/')}` : /^[A-Za-z]:/.test(path) ? `file:///${parts.join('/')}` : parts.join('/');
}
