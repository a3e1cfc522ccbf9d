/** What completion proposes, as data. */
export interface Proposal {
  readonly kind: 'statement' | 'keyword' | 'model' | 'gear' | 'port' | 'source' | 'performer' | 'mix' | 'unit' | 'value' | 'file';
  readonly label: string;
  /** What it is, in a few words: `mic or line, free`. */
  readonly detail?: string;
  /** Markdown. */
  readonly documentation?: string;
  /** What is written, where that is not the label. */
  readonly insert?: string;
  /** What is written by an editor that can put the caret inside, in place of `insert`. */
  readonly snippet?: string;
  readonly filter?: string;
  /** Something has to follow, so the next list may come up at once. */
  readonly goesOn?: boolean;
}

/** Lower ranks come first; what has the same rank keeps its order. */
export interface Ranked {
  readonly rank: number;
  readonly proposal: Proposal;
}

export function inOrder(ranked: readonly Ranked[]): Proposal[] {
  return ranked
    .map((each, index) => ({ ...each, index }))
    .sort((a, b) => a.rank - b.rank || a.index - b.index)
    .map(({ proposal }) => proposal);
}

/** Text inside a snippet, where some characters mean something. */
export function snippetText(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}
