/**
 * What each piece of a document is, for whoever has it read out: a tree beside the layout (ISO 32000-1, 14.7 and 14.8). Pieces come
 * in the order of this tree, wherever on a page they are drawn. What has no tag is decoration, and is passed over.
 */

/** Standard structure types (ISO 32000-1, 14.8.4). */
type Kind =
  | 'Document'
  | 'Sect'
  | 'H1'
  | 'H2'
  | 'P'
  | 'Table'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Figure'
  | 'TOC'
  | 'TOCI'
  | 'Link';

interface Told {
  /** Of a figure: what it says, in words. */
  readonly alt?: string;
  /** Of a heading in a table: what it is the heading of. */
  readonly scope?: 'Column' | 'Row';
  /** Of a cell: over how many columns it goes. */
  readonly span?: number;
}

export class Tag {
  readonly children: Tag[] = [];

  constructor(
    readonly kind: Kind,
    readonly told: Told = {},
  ) {}

  /** A new one, behind all there are in it. */
  add(kind: Kind, told?: Told): Tag {
    const child = new Tag(kind, told);
    this.children.push(child);
    return child;
  }
}
