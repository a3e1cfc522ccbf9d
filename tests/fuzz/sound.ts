/** What must hold of anything that is said about a text, whatever the text says. */
import type { LangiumDocument } from 'langium';
import type { Range } from 'vscode-languageserver';
import { type Code, message, PROBLEMS, SEVERITIES } from '#engine';
import { type Analysis, diagnosticOf } from '#language';

/** A number that is none, or a value that was put into words without there being one. */
const NO_WORDS = /\b(undefined|NaN|Infinity|null)\b|\[object|∞/;

/** Why words cannot be shown to anybody; nothing where they can. Words that the text itself has are its writer's business. */
export function unspeakable(words: string, text: string): string | undefined {
  const found = NO_WORDS.exec(words)?.[0];
  return found !== undefined && !text.includes(found) ? `says "${words.slice(0, 300)}"` : undefined;
}

/** Whether a range starts and ends at places that the text has, in that order. */
export function isInside({ textDocument }: LangiumDocument, { start, end }: Range): boolean {
  const offsets = [start, end].map((each) => textDocument.offsetAt(each)) as [number, number];
  const same = [start, end].every((each, index) => {
    const at = textDocument.positionAt(offsets[index] as number);
    return at.line === each.line && at.character === each.character;
  });
  return same && offsets[0] <= offsets[1];
}

/** What is wrong with findings: their places, words and figures. */
export function complaints({ document, located }: Analysis): string[] {
  const text = document.textDocument.getText();
  return located.flatMap((each) => {
    const { finding } = each;
    const { range, relatedInformation = [] } = diagnosticOf(each);
    const told: string[] = [];
    const complain = (what: string | undefined) => what !== undefined && told.push(`${finding.code} ${what}`);
    if (!isInside(document, range)) complain(`is at ${JSON.stringify(range)}, which is not in the text`);
    const words = message(finding);
    if (words.length < 10) complain(`only says "${words}"`);
    complain(unspeakable(words, text));
    for (const related of relatedInformation) {
      complain(unspeakable(related.message, text));
      if (related.location.uri === document.uri.toString() && !isInside(document, related.location.range))
        complain(`has a related place outside of the text: ${JSON.stringify(related.location.range)}`);
    }
    complain(notFinite(finding.figures));
    return told;
  });
}

/** What a cure has brought that is graver than all that it has taken away. */
export function brought(before: Analysis, after: Analysis): Code[] {
  const codes = ({ located }: Analysis) => located.map(({ finding }) => finding.code);
  const rank = (code: Code) => SEVERITIES.indexOf(PROBLEMS[code].severity);
  const surplus = (these: readonly Code[], those: readonly Code[]) =>
    [...new Set(these)].filter((code) => these.filter((each) => each === code).length > those.filter((each) => each === code).length);
  const gone = surplus(codes(before), codes(after)).map(rank);
  // A slip in a line that could not be read gives way to the next one of its kind.
  const least = Math.min(...(gone.length > 0 ? gone : [SEVERITIES.indexOf('error')]));
  return surplus(codes(after), codes(before)).filter((code) => rank(code) < least);
}

/** Where among the figures one is no number; nothing where all are. */
function notFinite(figures: unknown, at = 'figures'): string | undefined {
  if (typeof figures === 'number') return Number.isFinite(figures) ? undefined : `has ${figures} as ${at}`;
  if (typeof figures !== 'object' || figures === null) return undefined;
  for (const [name, value] of Object.entries(figures)) {
    const found = notFinite(value, `${at}.${name}`);
    if (found) return found;
  }
  return undefined;
}
