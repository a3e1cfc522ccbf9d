/** From a document to its bytes, and what its type can do. */
import { createHash } from 'node:crypto';
import path from 'node:path';
import type { Definition, Size } from 'pdfmake';
import type { Extent } from '#sheets/print';
import { type Printed, printed } from './printer';
import { Tag } from './tags';
import { Type } from './type';

export const FAMILY = 'DejaVu Sans';
const FILES = { normal: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' };

/** The same at all times: a PDF has to say when it was made, and the same rig has to give the same bytes. */
const MADE = new Date(Date.UTC(2000, 0, 1));

export type Document = Pick<Definition, 'content' | 'pageSize' | 'pageMargins' | 'pageOrientation' | 'header' | 'footer'> & {
  readonly title: string;
  /** What it is made from: the file's identity comes from it. */
  readonly source: unknown;
  /** What is what in it. */
  readonly root: Tag;
};

/** Sets documents in the fonts of this folder, and reads nothing else from the disk and nothing from the network. */
export class Press {
  private known: Type | undefined;

  constructor(private readonly fonts: string) {}

  type(): Type {
    if (!this.known) {
      const nothing = {
        content: '',
        pageSize: { width: 100, height: 100 },
        pageMargins: 0,
        title: '',
        source: '',
        root: new Tag('Document'),
      };
      const { pdf: empty } = this.open(nothing);
      this.known = new Type(empty.provideFont(FAMILY, false, false), empty.provideFont(FAMILY, true, false));
    }
    return this.known;
  }

  async bytes(document: Document): Promise<Uint8Array> {
    const { pdf: open } = this.open(document);
    const chunks: Uint8Array[] = [];
    return new Promise((resolve, reject) => {
      open.on('data', (chunk) => chunks.push(chunk));
      open.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
      open.on('error', reject);
      open.end();
    });
  }

  extent(document: Document): Extent {
    let count = 0;
    const footer = (_page: number, pages: number, _size: Size) => {
      count = pages;
      return '';
    };
    const { low, height } = this.open({ ...document, header: undefined, footer }).extent;
    return { pages: count, last: low / height };
  }

  private open({ title, source, root, ...document }: Document): Printed {
    const fonts = { [FAMILY]: { normal: path.join(this.fonts, FILES.normal), bold: path.join(this.fonts, FILES.bold) } };
    // The library reckons the file's identity (ISO 32000-1, 14.4) from these.
    const digest = createHash('sha256').update(JSON.stringify(source)).digest('hex');
    return printed(
      {
        ...document,
        defaultStyle: { font: FAMILY, fontSize: 8.5, color: '#16191c' },
        info: { Title: title, Creator: 'Earloom', CreationDate: MADE, Digest: digest },
        language: 'en',
      },
      fonts,
      root,
    );
  }
}
