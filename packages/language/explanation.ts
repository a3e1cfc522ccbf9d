/** The page about one code, in Markdown, from the example that shows the mistake and its cure. */

/** A mark under a line: `#   ^^^^ splits/missing "figure"`. */
const MARK = /^( *#? *\^+) +[a-z-]+\/[a-z-]+.*$/;
/** A cure under a line: `# cure: the line as it should be`, `# cure+ a line to add`. */
const CURE = /^ *# cure([:+]) ?(.*)$/;

/** `example` is a page of examples/mistakes: comments that explain it, then a rig with marks and cures in comments. */
export function explanation(code: string, example: string): string {
  const lines = example.replace(/\r\n/g, '\n').trimEnd().split('\n');
  const first = lines.findIndex((line) => !line.startsWith('#') || MARK.test(line));
  const prose = lines.slice(0, Math.max(0, first)).map((line) => line.replace(/^# ?/, ''));
  const rest = lines.slice(Math.max(0, first));
  const curable = rest.some((line) => CURE.test(line));
  return [
    `# ${code}`,
    ...prose.map(escaped),
    '## The mistake',
    fenced(rest.filter((line) => !CURE.test(line)).map((line) => line.replace(MARK, '$1'))),
    ...(curable ? ['## Mended', fenced(mended(rest))] : []),
    '',
  ].join('\n\n');
}

/** The example as somebody would have written it: neither marks nor cures. */
export function withMistake(example: string): string {
  return example
    .split(/\r?\n/)
    .filter((line) => !MARK.test(line) && !CURE.test(line))
    .join('\n');
}

/** The rig with every cure carried out, and without the marks. */
function mended(lines: readonly string[]): string[] {
  const result: string[] = [];
  for (const line of lines) {
    const [, how, cure = ''] = CURE.exec(line) ?? [];
    if (how === ':') {
      result.pop();
      if (cure !== '') result.push(cure);
    } else if (how === '+') result.push(cure);
    else if (!MARK.test(line)) result.push(line);
  }
  return result;
}

function fenced(lines: readonly string[]): string {
  return ['```rig', ...lines.join('\n').trim().split('\n'), '```'].join('\n');
}

/** Signs that Markdown would take for its own. */
function escaped(text: string): string {
  return text.replace(/[\\`*_[\]<>#|]/g, '\\$&');
}
