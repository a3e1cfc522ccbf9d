/** The parser, kept from deleting the word that starts the next statement while it recovers from a mistake in this one. */
import type { IToken, TokenType } from 'chevrotain';
import { createLangiumParser, type LangiumCoreServices, type LangiumParser } from 'langium';
import { isStatementWord } from './words';

/** The parts of chevrotain's recovery that are meant to be overridden; Langium does not pass them on. */
interface Recovery {
  LA(howMuch: number): IToken;
  canRecoverWithSingleTokenDeletion(expected: TokenType): boolean;
}

export function createRigParser(services: LangiumCoreServices): LangiumParser {
  const parser = createLangiumParser(services);
  // biome-ignore lint/complexity/useLiteralKeys: the property is protected, and there is no other way in.
  const recovery = parser['wrapper'] as unknown as Recovery;
  const byDefault = recovery.canRecoverWithSingleTokenDeletion.bind(recovery);
  recovery.canRecoverWithSingleTokenDeletion = (expected) => !isStatementWord(recovery.LA(1).image) && byDefault(expected);
  return parser;
}
