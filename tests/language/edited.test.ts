/** After any edits a rig is told of as one that was read afresh: its findings, its sheets, its hovers, byte for byte. */
import { readdirSync, readFileSync } from 'node:fs';
import type { LangiumDocument } from 'langium';
import { expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { message } from '#engine';
import { foundBy } from '#language';
import { SHEET_IDS, type SheetId, sheetOf } from '#sheets';
import { type Bench, open } from '../editor-services/bench';
import { randomFrom } from '../generate';
import { cases } from '../thorough';

/** As many as one likes: `EDITS=100000 npx vitest run --mode all tests/language/edited.test.ts`. */
const EDITS = Number(process.env.EDITS ?? cases(600, 60));
/** So many one after the other, before a file is as it was again. */
const IN_A_ROW = 6;
/** After so many all is opened anew: of each text that was read afresh the folder keeps something. */
const AT_MOST = 1000;

const FILES = [
  'first.rig',
  'street.rig',
  'ten.rig',
  'choir.rig',
  'gear/hall-shelf.rig',
  'three-nights/band.rig',
  'three-nights/cellar.rig',
  'three-nights/chapel.rig',
  'three-nights/quayside.rig',
];
/** The file that is edited, and the one that is looked at. */
const PAIRS = [
  ['first.rig', 'first.rig'],
  ['street.rig', 'street.rig'],
  ['ten.rig', 'ten.rig'],
  ['choir.rig', 'choir.rig'],
  ['gear/hall-shelf.rig', 'choir.rig'],
  ['three-nights/band.rig', 'three-nights/chapel.rig'],
  ['three-nights/band.rig', 'three-nights/quayside.rig'],
  ['three-nights/cellar.rig', 'three-nights/cellar.rig'],
] as const;
const PIECES = [
  '',
  ' ',
  '\n',
  '# so\n',
  'x',
  '1',
  '2',
  ' pad',
  ' gain 3 dB',
  ' should',
  '}',
  '"',
  ' via passive-di',
  'y-lead',
  ' is ',
  'voice',
];

/** What somebody who wires the rig changes: of a line that has this, that. */
const MEANT: readonly (readonly [had: RegExp, has: string])[] = [
  [/ +via [^\s,]+/, ''],
  [/(takes \S+)(?! *via)/, '$1 via y-lead'],
  [/(carries \S+)(?! *via)/, '$1 via headphone-amp'],
  [/\bmono\b/, 'stereo'],
  [/\bstereo\b/, 'mono'],
  [/^output [^.]+\.\S+/, 'output iface.phones1'],
  [/^input [^.]+\.\S+/, 'input iface.2'],
  [/^input ([^.]+)\.\S+( +takes) \S+/, 'input $1.1$2 $1'],
  [/^input .* takes.*/, 'input iface.optical takes preamps'],
  [/phantom shared/, 'phantom each'],
  [/(combo|xlr|trs)\b/, 'speakon'],
  [/^(\s+(?:input|output) +1\.\.)\d+/, '$12'],
  [/ +(for|by|hears) \S+/, ''],
  [/^(performer|gear|source|mix|house)\b.*/, ''],
  [/ on \S+ MHz/, ' on 863.1 MHz'],
  [/(\d) m\b/g, '$1 ft'],
  [/\bat \S+ m,/, 'at 30 m,'],
  [/\bmains shared\b/, ''],
  [/\brate \S+ kHz/, 'rate 96 kHz'],
  [/\bregion \S+/, 'region UK'],
  [/\bwhole\b.*/, 'whole without house'],
  [/"[^"]*"/, '"Voice"'],
  [/(.)$/, '$1  # allow splits/needless: so it is'],
];
const DECLARED = /^(?:source|gear|mix|performer|model) +([\p{L}\d-]+)/gmu;

/** Those of the other tests, each by itself: between them they have every kind of gear, and every mistake. */
const MORE = ['tests/checks', 'tests/checks/gear', 'tests/sheets', 'tests/house'].flatMap((folder) =>
  readdirSync(folder).flatMap((name) => (name.endsWith('.rig') ? [`${folder}/${name}`] : [])),
);

const read = (name: string) => [name, readFileSync(name.startsWith('tests/') ? name : `examples/${name}`, 'utf8')];
const texts = Object.fromEntries([...FILES, ...MORE].map(read));
let added = 0;

test('what is kept after an edit is as what is read afresh', { timeout: 36_000_000 }, async () => {
  let bench = await open(texts);
  let opened = 0;
  const random = randomFrom(EDITS);
  const upTo = (most: number) => Math.floor(random() * (most + 1));
  const lined = (text: string) => text.split('\n');
  for (let edit = 0; edit < EDITS; ) {
    if (edit - opened >= AT_MOST) [bench, opened] = [await open(texts), edit];
    const any = MORE[upTo(MORE.length - 1)] as string;
    const [edited, looked] = upTo(1) === 0 ? (PAIRS[upTo(PAIRS.length - 1)] as (typeof PAIRS)[number]) : ([any, any] as const);
    const text = texts[edited] as string;
    let [changed, before] = [text, text];
    for (let turn = 0; turn < IN_A_ROW && edit < EDITS; turn++, edit++) {
      const at = upTo(changed.length);
      const line = upTo(lined(changed).length - 1);
      const put = PIECES[upTo(PIECES.length - 1)] as string;
      const other = upTo(lined(changed).length - 1);
      const [it, instead] = MEANT[upTo(MEANT.length - 1)] as (typeof MEANT)[number];
      const meant = () => {
        const lines = lined(changed).map((each) => each.replace(it, instead));
        const having = [...lines.keys()].filter((each) => lines[each] !== lined(changed)[each]);
        const which = having[upTo(having.length - 1)] ?? 0;
        return lined(changed)
          .with(which, lines[which] as string)
          .join('\n');
      };
      const ways = [
        ...[meant, meant, meant],
        // Back again.
        () => before,
        // A name, everywhere.
        () => {
          const names = [...changed.matchAll(DECLARED)].map(([, name]) => name as string);
          return changed.replaceAll(names[upTo(names.length - 1)] ?? 'voice', put === '' ? 'x' : `${put}x`);
        },
        // A line, moved.
        () =>
          lined(changed)
            .toSpliced(line, 1)
            .toSpliced(other, 0, lined(changed)[line] as string)
            .join('\n'),
        () => changed.slice(0, at) + put + changed.slice(at + upTo(3)),
        () => changed.slice(0, at) + put + changed.slice(at),
        () => lined(changed).toSpliced(line, 1).join('\n'),
        () => {
          const other = lined(text)[upTo(lined(text).length - 1)] as string;
          return lined(changed).toSpliced(line, 0, other).join('\n');
        },
      ];
      [changed, before] = [(ways[upTo(ways.length - 1)] as () => string)(), changed];
      await write(bench, edited, changed);
      const sheet = SHEET_IDS[upTo(SHEET_IDS.length - 1)] as SheetId;
      const document = bench.documentOf(looked);
      const place = upTo(document.textDocument.getText().length);
      const kept = await picture(bench, document, sheet, place);
      expect(await afresh(bench, looked, sheet, place), changed).toBe(kept);
    }
    await write(bench, edited, text);
  }
});

async function write(bench: Bench, name: string, text: string): Promise<void> {
  const { DocumentBuilder, TextDocuments } = bench.services.shared.workspace;
  const { textDocument, uri } = bench.documentOf(name);
  TextDocuments.set(TextDocument.create(textDocument.uri, 'rig', textDocument.version + 1, text));
  await DocumentBuilder.update([uri], []);
}

/** The same text under another name in the same folder. */
async function afresh(bench: Bench, name: string, sheet: SheetId, place: number): Promise<string> {
  const { LangiumDocuments } = bench.services.shared.workspace;
  const { textDocument, uri } = bench.documentOf(name);
  const other = `${name.slice(0, name.lastIndexOf('/') + 1)}fresh-${++added}.rig`;
  const document = await bench.add(other, textDocument.getText());
  const made = await picture(bench, document, sheet, place);
  LangiumDocuments.deleteDocument(document.uri);
  return made.replaceAll(document.uri.toString(), uri.toString());
}

/** All that is told, a sheet, and the hover at a place. */
async function picture({ services }: Bench, document: LangiumDocument, sheet: SheetId, place: number): Promise<string> {
  const analysis = services.rig.Analyser.of(document);
  const { located, allowed, checked } = analysis;
  const told = [...located, ...allowed].map(({ finding, ...where }) => ({ ...where, finding, says: message(finding) }));
  const asked = { textDocument: { uri: document.uri.toString() }, position: document.textDocument.positionAt(place) };
  const hover = await services.lsp.HoverProvider?.getHoverContent(document, asked);
  const made = checked && (await sheetOf(sheet, checked, foundBy(analysis)));
  return JSON.stringify({ told, hover, sheet: made }, undefined, 1);
}
