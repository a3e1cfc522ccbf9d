/** The tokens of the grammar, as Langium makes them. */

import type { TokenType } from 'chevrotain';
import { DefaultTokenBuilder, type GrammarAST, RegExpUtils } from 'langium';

export class RigTokenBuilder extends DefaultTokenBuilder {
  private readonly beginnings = new Map<RegExp, RegExp>();

  /** The terminals that can begin like a keyword. What recognises a beginning is made once for each, and not for each keyword again. */
  protected override findLongerAlt(keyword: GrammarAST.Keyword, terminals: TokenType[]): TokenType[] {
    return terminals.filter(
      ({ PATTERN }) => PATTERN instanceof RegExp && (this.beginningOf(PATTERN).exec(keyword.value)?.[0] ?? '') !== '',
    );
  }

  private beginningOf(pattern: RegExp): RegExp {
    let beginning = this.beginnings.get(pattern);
    if (!beginning) {
      beginning = RegExpUtils.partialRegExp(`^${pattern.source}$`);
      this.beginnings.set(pattern, beginning);
    }
    return beginning;
  }
}
