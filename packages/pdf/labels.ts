/** Labels: each page exactly as large as the sheet of labels, to be printed at 100 %. */
import { type LabelPage, svgFile } from '#sheets/print';
import { settableDrawing } from './blocks';
import { mm } from './paper';
import { FAMILY, type Press } from './press';
import { Tag } from './tags';

/** `title` is the rig's. All pages are of one size; at least one. */
export async function labelsPdf(press: Press, title: string, pages: readonly LabelPage[]): Promise<Uint8Array> {
  const type = press.type();
  const root = new Tag('Document');
  const first = pages[0]?.drawing;
  if (!first) throw new RangeError('There are no labels to print.');
  const size = { width: mm(first.width), height: mm(first.height) };
  return press.bytes({
    title: `${title}: labels`,
    root,
    source: pages,
    pageSize: { ...size },
    pageMargins: 0,
    content: pages.map(({ drawing, description }, index) => ({
      svg: svgFile(settableDrawing(drawing, type), title, description),
      ...size,
      font: FAMILY,
      tag: root.add('Figure', { alt: description }),
      absolutePosition: { x: 0, y: 0 },
      ...(index === 0 ? {} : { pageBreak: 'before' }),
    })),
  });
}
