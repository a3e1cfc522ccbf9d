/** What is used of pdfmake, which comes without types. */
declare module 'pdfmake' {
  import type { Tag } from './tags';

  /** A node of a document: text, a table, columns …, as its documentation has them. */
  export type Content = string | ContentNode | readonly Content[];

  export interface ContentNode {
    readonly [key: string]: unknown;
    /** What it is, for whoever has it read out; on text, drawings and shapes. */
    readonly tag?: Tag;
    /** On tagged text: the id of the node that it leads to. */
    readonly goTo?: string;
    /** Where it has come to stand; there once the pages are laid out. */
    readonly positions?: readonly { readonly pageNumber: number }[];
  }

  export interface Size {
    readonly width: number;
    readonly height: number;
  }

  export interface Definition {
    readonly content: Content;
    readonly pageSize: Size;
    readonly pageMargins: number | readonly [number, number, number, number];
    readonly pageOrientation?: 'portrait' | 'landscape';
    readonly defaultStyle: { readonly font: string; readonly fontSize: number; readonly color?: string; readonly lineHeight?: number };
    readonly info: Readonly<Record<string, string | Date>>;
    readonly language: string;
    readonly header?: (page: number, pages: number, size: Size) => Content;
    readonly footer?: (page: number, pages: number, size: Size) => Content;
  }

  export interface Font {
    widthOfString(text: string, size: number): number;
    readonly font: { hasGlyphForCodePoint(codePoint: number): boolean };
  }

  /** Of each face, the path of its file. */
  export type Fonts = Readonly<Record<string, Readonly<Record<'normal' | 'bold', string>>>>;

  /** A piece that has been marked. */
  export interface Marked {
    readonly refs: readonly unknown[];
  }

  export interface StructureElement {
    readonly dictionary: { readonly data: Record<string, unknown> };
    add(child: StructureElement | Marked): void;
    end(): void;
  }

  /** What is used of pdfkit's document. */
  export interface PdfKit {
    page: unknown;
    provideFont(family: string, bold: boolean, italics: boolean): Font;
    markContent(kind: string, options?: object): void;
    markStructureContent(kind: string): Marked;
    endMarkedContent(): void;
    struct(kind: string, options: { readonly alt?: string }): StructureElement;
    addStructure(element: StructureElement): void;
    goTo(x: number, y: number, width: number, height: number, destination: string, options: object): void;
    on(event: 'data', heard: (chunk: Uint8Array) => void): void;
    on(event: 'end', heard: () => void): void;
    on(event: 'error', heard: (problem: unknown) => void): void;
    end(): void;
  }

  export interface Line {
    readonly inlines: readonly { readonly x: number; readonly width: number }[];
    readonly tag?: Tag;
    readonly goTo?: string;
    getHeight(): number;
  }

  /** With what has been laid out on it. */
  export interface Page {
    readonly pageSize: Size;
    readonly items: readonly { readonly type: string; readonly item: { readonly y?: number } }[];
  }

  export interface Vector {
    readonly tag?: Tag;
  }

  export interface Svg {
    readonly tag?: Tag;
  }
}

declare module 'pdfmake/js/PageSize.js' {
  import type { Definition, Size } from 'pdfmake';
  export function normalizePageSize(size: Size, orientation: Definition['pageOrientation']): Size;
  export function normalizePageMargin(margin: Definition['pageMargins']): object;
}

declare module 'pdfmake/js/PDFDocument.js' {
  import type { Fonts, PdfKit } from 'pdfmake';

  const PdfDocument: new (
    fonts: Fonts,
    images: object,
    patterns: object,
    attachments: object,
    options: object,
    virtualFiles: null,
    localAccessPolicy: (file: string) => boolean,
  ) => PdfKit;
  export default PdfDocument;
}

declare module 'pdfmake/js/SVGMeasure.js' {
  const SvgMeasure: new () => object;
  export default SvgMeasure;
}

declare module 'pdfmake/js/LayoutBuilder.js' {
  import type { Content, ContentNode, Definition, Line, Page, PdfKit, Size } from 'pdfmake';

  const LayoutBuilder: new (
    size: Size,
    margins: object,
    measure: object,
  ) => {
    buildNextLine(node: ContentNode): Line | null;
    layoutDocument(
      content: Content,
      document: PdfKit,
      styles: object,
      defaultStyle: object,
      background: undefined,
      header: Definition['header'],
      footer: Definition['footer'],
      watermark: undefined,
      pageBreakBefore: undefined,
    ): readonly Page[];
  };
  export default LayoutBuilder;
}

declare module 'pdfmake/js/Renderer.js' {
  import type { Line, PdfKit, Svg, Vector } from 'pdfmake';

  const Renderer: new (
    document: PdfKit,
  ) => {
    readonly pdfDocument: PdfKit;
    renderPages(pages: readonly unknown[]): void;
    renderLine(line: Line, x: number, y: number): void;
    renderVector(vector: Vector): void;
    renderSVG(svg: Svg): void;
  };
  export default Renderer;
}
