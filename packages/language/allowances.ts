/** Comments that let a finding stand: `# allow splits/needless: the house's desk comes at eight`. */
import type { AstNode, LangiumDocument } from 'langium';
import type { Range } from 'vscode-languageserver-types';
import { type Code, type Finding, finding, isCode, PROBLEMS, whyNotAllowed } from '#engine';
import { nearest } from './near';
import type { TextFinding } from './syntax/mistakes';

export interface Allowance {
  /** As it is written, which need not be one. */
  readonly code: string;
  /** Where the code stands, and the whole comment. */
  readonly codeStart: number;
  readonly codeEnd: number;
  readonly start: number;
  readonly end: number;
  /** Undefined where none is given. */
  readonly reason: string | undefined;
  /** It has its line to itself, and is about what stands below. */
  readonly above: boolean;
  /** The lines that it is about, from 0; the last included. */
  readonly first: number;
  readonly last: number;
}

/** What is written where a reason is to come; by itself it is none. */
export const NO_REASON = '…';

const ANY = /#[ \t]*allow[ \t]/;
/** Labels, in which a # is a letter, and comments: as the grammar has them. */
const LABEL_OR_COMMENT = /"[^"\r\n]*"?|\u201C[^\u201D\r\n]*\u201D?|#[^\r\n]*/g;
const ALLOWS = /^(#+[ \t]*allow[ \t]+)([a-z-]+\/[a-z-]*)[ \t]*(:?)(.*)$/;
const BEGUN = /^#+[ \t]*allow[ \t]+([a-z/-]*)$/;
const SUBJECTS: ReadonlySet<string> = new Set(Object.keys(PROBLEMS).map((code) => code.slice(0, code.indexOf('/'))));

/** Whether a text may allow anything. */
export function allows(text: string): boolean {
  return ANY.test(text);
}

/** All that a text allows, in its order. Other comments may begin with the same word: it takes a code, or what looks like one with a colon. */
export function allowancesIn(document: LangiumDocument): Allowance[] {
  const text = document.textDocument.getText();
  if (!allows(text)) return [];
  const found: Allowance[] = [];
  for (const { 0: comment, index } of text.matchAll(LABEL_OR_COMMENT)) {
    const [, word = '', code, colon, rest = ''] = ALLOWS.exec(comment) ?? [];
    if (code === undefined || !(colon || SUBJECTS.has(code.slice(0, code.indexOf('/'))))) continue;
    const reason = rest.trim();
    found.push({
      code,
      codeStart: index + word.length,
      codeEnd: index + word.length + code.length,
      start: index,
      end: index + comment.trimEnd().length,
      reason: /[\p{L}\p{N}]/u.test(reason) ? reason : undefined,
      ...aboutOf(document, index),
    });
  }
  return found;
}

/** What a comment that starts there is about: its line; with the line to itself, what stands below it and below further comments. */
function aboutOf({ textDocument, parseResult }: LangiumDocument, comment: number): Pick<Allowance, 'above' | 'first' | 'last'> {
  const { line } = textDocument.positionAt(comment);
  const lineOf = (at: number) => textDocument.getText({ start: { line: at, character: 0 }, end: { line: at + 1, character: 0 } }).trim();
  if (!lineOf(line).startsWith('#')) return { above: false, first: line, last: line };
  let first = line + 1;
  while (lineOf(first).startsWith('#')) first++;
  return { above: true, first, last: lastLine(parseResult.value, first) };
}

/** Where a code is being written in such a comment: where it starts, and the lines that it will be about. */
export function allowanceBegun(document: LangiumDocument, offset: number): { start: number; first: number; last: number } | undefined {
  const { line } = document.textDocument.positionAt(offset);
  const lineStart = document.textDocument.offsetAt({ line, character: 0 });
  const before = document.textDocument.getText().slice(lineStart, offset);
  for (const { 0: comment, index } of before.matchAll(LABEL_OR_COMMENT)) {
    const [, written] = BEGUN.exec(comment) ?? [];
    if (written !== undefined) return { start: offset - written.length, ...aboutOf(document, lineStart + index) };
  }
  return undefined;
}

/** Of the statement that starts on a line; of a line inside one, the line. */
function lastLine(file: AstNode, line: number): number {
  const { statements = [] } = file as { statements?: readonly AstNode[] };
  return statements.find(({ $cstNode }) => $cstNode?.range.start.line === line)?.$cstNode?.range.end.line ?? line;
}

export function isAbout({ first, last }: Pick<Allowance, 'first' | 'last'>, { start, end }: Range): boolean {
  return first <= end.line && last >= start.line;
}

/** What one text and those that it uses allow, and which of it has been asked for. */
export class Allowances {
  private readonly byFile = new Map<string, readonly Allowance[]>();
  private readonly taken = new Set<Allowance>();

  constructor(
    private readonly own: LangiumDocument,
    private readonly documentOf: (uri: string) => LangiumDocument | undefined,
  ) {}

  /** Why a finding that stands there may do so. Undefined where nothing says that it may. */
  reasonFor({ code }: Finding, spot: { readonly uri: string; readonly range: Range } | undefined): string | undefined {
    if (!spot || whyNotAllowed(code)) return undefined;
    const about = this.of(spot.uri).filter((each) => each.code === code && isAbout(each, spot.range));
    for (const each of about) this.taken.add(each);
    return about.find(({ reason }) => reason !== undefined)?.reason;
  }

  /** What is wrong with those of this text. `whole`: all of it has been read and checked, so that what is not found is not there. */
  findings(whole: boolean): TextFinding[] {
    return this.of(this.own.uri.toString()).flatMap((allowance) => {
      const { code, reason, codeStart: start, codeEnd: end, above } = allowance;
      const place = `allow@${start}..${end}`;
      const told = (each: Finding) => [{ finding: each, start, end }];
      if (!isCode(code)) {
        const near = nearest(code, ALLOWABLE);
        const fixes = near.map((each) => ({ kind: 'rewrite' as const, place, with: each }));
        return told(finding('allow/no-such-code', place, { code, near }, { fixes }));
      }
      const kind = whyNotAllowed(code);
      if (kind) return told(finding('allow/not-this', place, { code, kind }));
      if (whole && !this.taken.has(allowance)) return told(finding('allow/nothing-here', place, { code, above }));
      return reason === undefined ? told(finding('allow/no-reason', place, { code })) : [];
    });
  }

  private of(uri: string): readonly Allowance[] {
    const known = this.byFile.get(uri);
    if (known) return known;
    const document = uri === this.own.uri.toString() ? this.own : this.documentOf(uri);
    const found = document ? allowancesIn(document) : [];
    this.byFile.set(uri, found);
    return found;
  }
}

const ALLOWABLE = (Object.keys(PROBLEMS) as Code[]).filter((code) => !whyNotAllowed(code));
