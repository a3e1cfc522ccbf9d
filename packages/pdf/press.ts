/** From a document to its bytes, and what its type can do. */
import { createHash } from 'node:crypto';
import path from 'node:path';
import pdfmake, { type Definition, type Size } from 'pdfmake';
import { Type } from './type';

export const FAMILY = 'DejaVu Sans';
const FILES = { normal: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' };

/** The same at all times: a PDF has to say when it was made, and the same rig has to give the same bytes. */
const MADE = new Date(Date.UTC(2000, 0, 1));

export type Document = Pick<Definition, 'content' | 'pageSize' | 'pageMargins' | 'pageOrientation' | 'header' | 'footer'> & {
  readonly title: string;
  /** What it is made from: the file's identity comes from it. */
  readonly source: unknown;
};

/** Sets documents in the fonts of this folder, and reads nothing else from the disk and nothing from the network. */
export class Press {
  private known: Promise<Type> | undefined;

  constructor(private readonly fonts: string) {}

  type(): Promise<Type> {
    this.known ??= this.open({ content: '', pageSize: { width: 100, height: 100 }, pageMargins: 0, title: '', source: '' })
      .getStream()
      .then((stream) => new Type(stream.provideFont(FAMILY, false, false), stream.provideFont(FAMILY, true, false)));
    return this.known;
  }

  async bytes(document: Document): Promise<Uint8Array> {
    return new Uint8Array(await this.open(document).getBuffer());
  }

  /** How many pages it takes. */
  async pages(document: Document): Promise<number> {
    let count = 0;
    const footer = (_page: number, pages: number, _size: Size) => {
      count = pages;
      return '';
    };
    await this.open({ ...document, footer }).getStream();
    return count;
  }

  private open({ title, source, ...document }: Document) {
    const files = { normal: path.join(this.fonts, FILES.normal), bold: path.join(this.fonts, FILES.bold) };
    pdfmake.setFonts({ [FAMILY]: files });
    pdfmake.setUrlAccessPolicy(() => false);
    pdfmake.setLocalAccessPolicy((file) => file === files.normal || file === files.bold);
    return pdfmake.createPdf({
      ...document,
      defaultStyle: { font: FAMILY, fontSize: 8.5, color: '#16191c' },
      // The library reckons the file's identity (ISO 32000-1, 14.4) from these.
      info: { title, creator: 'Earloom', creationDate: MADE, Digest: createHash('sha256').update(JSON.stringify(source)).digest('hex') },
      language: 'en',
      displayTitle: true,
    });
  }
}
