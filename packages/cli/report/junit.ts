/** Findings as JUnit's XML, which most runners show as tests: a suite for each file, a failed test for each finding. Notes fail only where they are to. */
import { message, say } from '#engine';
import { type CheckedFile, inOrder } from './checked';
import { visible } from './visible';

export async function junitReport(files: readonly CheckedFile[], strict: boolean): Promise<string> {
  const { default: junit } = await import('junit-report-builder');
  const report = junit.newBuilder();
  for (const { path, located, problem } of files) {
    const suite = report.testSuite().name(visible(path));
    if (problem)
      suite
        .testCase()
        .className(visible(path))
        .name('can be read')
        .error(visible(`${problem.what} ${problem.cure}`));
    for (const { finding, range } of inOrder(located)) {
      const line = range.start.line + 1;
      const test = suite
        .testCase()
        .className(visible(path))
        .name(visible(`${finding.code}, line ${line}: ${say(finding).what}`));
      const says = visible(`${path}:${line}: ${message(finding)}`);
      if (finding.severity === 'note' && !strict) test.standardOutput(says);
      else test.failure(says, finding.severity);
    }
    if (!problem && located.length === 0) suite.testCase().className(visible(path)).name('nothing found');
  }
  return `${report.build().trimEnd()}\n`;
}
