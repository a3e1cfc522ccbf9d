/** What is used of pdfmake, which comes without types. */
declare module 'pdfmake' {
  /** A node of a document: text, a table, columns …, as its documentation has them. */
  export type Content = string | ContentNode | readonly Content[];

  export interface ContentNode {
    readonly [key: string]: unknown;
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
    readonly displayTitle: boolean;
    readonly header?: (page: number, pages: number, size: Size) => Content;
    readonly footer?: (page: number, pages: number, size: Size) => Content;
  }

  export interface Font {
    widthOfString(text: string, size: number): number;
    readonly font: { hasGlyphForCodePoint(codePoint: number): boolean };
  }

  interface Output {
    getBuffer(): Promise<Uint8Array>;
    getStream(): Promise<{ provideFont(family: string, bold: boolean, italics: boolean): Font }>;
  }

  const pdfmake: {
    createPdf(definition: Definition): Output;
    /** Of each face, the path of its file. */
    setFonts(fonts: Readonly<Record<string, Readonly<Record<'normal' | 'bold', string>>>>): void;
    setUrlAccessPolicy(allowed: (url: string) => boolean): void;
    setLocalAccessPolicy(allowed: (path: string) => boolean): void;
  };
  export default pdfmake;
}
