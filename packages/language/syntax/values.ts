/** What the text of a token is worth. */
import { type CstNode, DefaultValueConverter, type GrammarAST, type ValueType } from 'langium';

export class RigValueConverter extends DefaultValueConverter {
  protected override runConverter(rule: GrammarAST.AbstractRule, input: string, node: CstNode): ValueType {
    if (rule.name === 'STRING') return labelOf(input);
    if (rule.name === 'ID') return nameOf(input);
    return super.runConverter(rule, input, node);
  }
}

/**
 * What stands between quotes. A quote that is never closed ends with its line; there are no escapes. Signs that turn the direction of
 * writing would turn what stands after the label as well.
 */
export function labelOf(written: string): string {
  return written.replace(/^["\u201C]|["\u201D]$|[\u202A-\u202E\u2066-\u2069]/g, '');
}

/** The same letters can be written in two ways in Unicode; names are compared in one. */
export function nameOf(written: string): string {
  return written.normalize('NFC');
}

/** A number as written, with a decimal comma or a typographic minus if need be. */
export function numberOf(written: string): number {
  return Number(written.replace(',', '.').replace(/[\u2212\u2013]/, '-'));
}
