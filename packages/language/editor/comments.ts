/** What stands in comments above a declaration: in the library, what a piece is for and its cautions. */
import { type AstNode, AstUtils } from 'langium';

/** The comment lines right above a statement, without their marks, as one text. Empty where there are none. */
export function commentAbove(node: AstNode): string {
  const cst = node.$cstNode;
  if (!cst) return '';
  const text = AstUtils.getDocument(node).textDocument.getText();
  const lines: string[] = [];
  let end = text.lastIndexOf('\n', cst.offset - 1);
  while (end > 0) {
    const start = text.lastIndexOf('\n', end - 1) + 1;
    const comment = /^[ \t]*#+[ \t]?(.*)$/.exec(text.slice(start, end).trimEnd());
    if (!comment) break;
    // Why a finding may stand says nothing of what is declared.
    if (!/^allow[ \t]+[a-z-]+\//.test(comment[1] as string)) lines.unshift(comment[1] as string);
    end = start - 1;
  }
  return lines.join(' ').trim();
}
