/** What the type has letters for, and how wide they are. */
import type { Font } from 'pdfmake';
import { graphemes, unbroken } from '#sheets/print';
import { inVisualOrder } from './direction';

/** Stands for a character that the type does not have. */
export const MISSING = '□';
/** Said on a sheet that has one. */
export const MISSING_RULE = `${MISSING} stands for a character that is not in the type this page is set in.`;

/** Nothing to see: they join, turn or vary what is around them. */
const UNSEEN = /\p{Default_Ignorable_Code_Point}/gu;
const BLANKS = /[\p{Cc}\p{Zl}\p{Zp}\s]+/gu;

/** More letters than this do not come on paper from one label: they would be cut in any case. */
const MOST = 10_000;

export class Type {
  /** Whether something was replaced since this was last set to false. */
  missed = false;

  constructor(
    private readonly regular: Font,
    private readonly bold: Font,
  ) {}

  /** In points. */
  width(text: string, size: number, bold = false): number {
    return (bold ? this.bold : this.regular).widthOfString(text, size);
  }

  /** One line that can be set: a box for each character that there is no letter for. */
  settable(text: string): string {
    const line = text.slice(0, MOST).replace(BLANKS, ' ').trim();
    let set = '';
    for (const segment of graphemes(line)) {
      const seen = segment.replace(UNSEEN, '');
      // A halved pair is no character; of one with marks, all have to be there.
      const has = [...seen].every((each) => !/\p{Cs}/u.test(each) && this.has(each.codePointAt(0) ?? 0));
      if (!has) this.missed = true;
      set += has ? seen : MISSING;
    }
    return unbroken(set);
  }

  /**
   * Broken where a word is wider than the line, and cut with an ellipsis after so many lines, so that nothing leaves its column
   * and no row is longer than a page. `text` has to be settable.
   */
  fitted(text: string, size: number, width: number, most: number, bold = false): string {
    const lines = this.lines(text, size, width, bold, most);
    if (lines.length <= most) return lines.map(inVisualOrder).join('\n');
    let last = lines[most - 1] ?? '';
    while (last !== '' && this.width(`${last}…`, size, bold) > width) last = graphemes(last).slice(0, -1).join('');
    return [...lines.slice(0, most - 1), `${last.trimEnd()}…`].map(inVisualOrder).join('\n');
  }

  /** As many lines as it takes; where there are more than `most`, at least one more than that. */
  lines(text: string, size: number, width: number, bold = false, most = Infinity): string[] {
    if (this.width(text, size, bold) <= width) return [text];
    const lines: string[] = [];
    let line = '';
    for (const word of text.split(/(?<= )|(?<=[^\s/–—-][/–—-])(?=\p{L})/u)) {
      if (this.width((line + word).trimEnd(), size, bold) <= width) {
        line += word;
        continue;
      }
      if (line !== '') lines.push(line.trimEnd());
      if (lines.length > most) return lines;
      line = '';
      for (const part of graphemes(word)) {
        if (line !== '' && this.width((line + part).trimEnd(), size, bold) > width) {
          lines.push(line);
          line = '';
        }
        line += part;
      }
    }
    if (line.trim() !== '') lines.push(line.trimEnd());
    return lines;
  }

  private has(codePoint: number): boolean {
    return this.regular.font.hasGlyphForCodePoint(codePoint) && this.bold.font.hasGlyphForCodePoint(codePoint);
  }
}
