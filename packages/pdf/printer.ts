/**
 * The library's layout, printed with tags: what it draws for a node with a `tag` belongs to that, all else is decoration. The library
 * itself tags nothing (0.3): its printer is made anew here of its parts, with a renderer that says of each piece what it is.
 */

import type { ContentNode, Definition, Fonts, Line, Marked, PdfKit, StructureElement, Svg, Vector } from 'pdfmake';
import LayoutBuilder from 'pdfmake/js/LayoutBuilder.js';
import { normalizePageMargin, normalizePageSize } from 'pdfmake/js/PageSize.js';
import PdfDocument from 'pdfmake/js/PDFDocument.js';
import Renderer from 'pdfmake/js/Renderer.js';
import SvgMeasure from 'pdfmake/js/SVGMeasure.js';
import type { Tag } from './tags';

/** Of a module of the older kind one gets either what it calls its default, or all of it. */
function own<T>(imported: T | { readonly default: T }): T {
  return typeof imported === 'object' && imported !== null && 'default' in imported ? imported.default : imported;
}

export interface Printed {
  readonly pdf: PdfKit;
  /** Of the last page: how far down words stand, and how high it is, in points. */
  readonly extent: { readonly low: number; readonly height: number };
}

/** A document with all its pages, still open. Reads the fonts, and nothing else from the disk and nothing from the network. */
export function printed(definition: Definition, fonts: Fonts, root: Tag): Printed {
  const { content, pageSize, pageOrientation, pageMargins, defaultStyle, header, footer, info, language } = definition;
  const { width, height } = normalizePageSize({ ...pageSize }, pageOrientation);
  const files = Object.values(fonts).flatMap((faces) => Object.values(faces));
  const document = new (own(PdfDocument))(
    fonts,
    {},
    {},
    {},
    {
      size: [width, height],
      // Tags are of 1.4 and later, and what is used of them of 1.7.
      pdfVersion: '1.7',
      tagged: true,
      displayTitle: true,
      compress: true,
      lang: language,
      fontLayoutCache: true,
      bufferPages: false,
      autoFirstPage: false,
      info: { Producer: 'pdfmake', ...info },
      font: null,
    },
    null,
    (file) => files.includes(file),
  );
  const builder = new TaggingBuilder(normalizePageSize({ ...pageSize }, pageOrientation), normalizePageMargin(pageMargins), new (own(SvgMeasure))()); // biome-ignore format: one call
  const pages = builder.layoutDocument(content, document, {}, defaultStyle, undefined, header, footer, undefined, undefined);
  const renderer = new TaggingRenderer(document);
  renderer.renderPages(pages);
  renderer.finish(root);
  const last = pages.at(-1);
  const lows = last?.items.flatMap(({ type, item }) => (type === 'line' || type === 'svg' ? [item.y ?? 0] : [])) ?? [];
  return { pdf: document, extent: { low: Math.max(0, ...lows), height: last?.pageSize.height ?? 1 } };
}

/** Lines know what their text is, and where a link in it leads. */
class TaggingBuilder extends own(LayoutBuilder) {
  override buildNextLine(node: ContentNode): Line | null {
    const line = super.buildNextLine(node);
    return line && Object.assign(line, { tag: node.tag, goTo: node.goTo });
  }
}

class TaggingRenderer extends own(Renderer) {
  private readonly pieces = new Map<Tag, Marked[]>();
  /** The page that each was first drawn on. */
  private readonly first = new Map<Tag, unknown>();
  private readonly elements = new Map<Tag, StructureElement>();
  /** The page with links. */
  private linked: unknown;

  override renderLine(line: Line, x: number, y: number): void {
    const { tag, goTo } = line;
    this.marked(tag, () => super.renderLine(line, x, y));
    if (!tag || goTo === undefined) return;
    this.linked = this.pdfDocument.page;
    const width = Math.max(...line.inlines.map((inline) => inline.x + inline.width));
    this.pdfDocument.goTo(x, y, width, line.getHeight(), goTo, { structParent: this.elementOf(tag) });
  }

  override renderVector(vector: Vector): void {
    this.marked(vector.tag, () => super.renderVector(vector));
  }

  override renderSVG(svg: Svg): void {
    this.marked(svg.tag, () => super.renderSVG(svg));
  }

  /** Makes the tree, of the pieces that were drawn. */
  finish(root: Tag): void {
    const { pdfDocument, linked } = this;
    const made = this.made(root);
    pdfDocument.addStructure(made);
    // The library takes the page that it is at for that of the links: all of them are on one.
    const { page } = pdfDocument;
    pdfDocument.page = linked ?? page;
    made.end();
    pdfDocument.page = page;
  }

  private marked(tag: Tag | undefined, draw: () => void): void {
    const { pdfDocument } = this;
    // Headings that come again on the next page have been told.
    const again = tag?.kind === 'TH' && tag.told.scope === 'Column' && (this.first.get(tag) ?? pdfDocument.page) !== pdfDocument.page;
    if (!tag || again) pdfDocument.markContent('Artifact', { type: again ? 'Pagination' : 'Layout' });
    else {
      if (!this.first.has(tag)) this.first.set(tag, pdfDocument.page);
      const piece = pdfDocument.markStructureContent(tag.kind);
      this.pieces.set(tag, [...(this.pieces.get(tag) ?? []), piece]);
    }
    draw();
    pdfDocument.endMarkedContent();
  }

  private made(tag: Tag): StructureElement {
    const element = this.elementOf(tag);
    for (const piece of this.pieces.get(tag) ?? []) element.add(piece);
    for (const child of tag.children) element.add(this.made(child));
    return element;
  }

  private elementOf(tag: Tag): StructureElement {
    const there = this.elements.get(tag);
    if (there) return there;
    const { alt, scope, span } = tag.told;
    const element = this.pdfDocument.struct(tag.kind, { alt });
    if (scope || span) element.dictionary.data.A = { O: 'Table', ...(scope && { Scope: scope }), ...(span && { ColSpan: span }) };
    this.elements.set(tag, element);
    return element;
  }
}
