/** Words of the language as completion proposes them: whole statements, and the clauses that are still missing. */
import { exampleText, freeHouseNumber, isRadio, type Lengths } from '#engine';
import type { Performer, Piece } from '#rig';
import { DEFAULT_ANSWERS, newRig } from '../newRig';
import type { StatementWord } from '../syntax/words';
import { STATEMENT_WORDS } from '../syntax/words';
import { inputsOf, outputsOf } from './figures';
import { code } from './markdown';
import { type Proposal, type Ranked, snippetText } from './proposals';
import type { Scene } from './scene';
import { wordAt } from './words';

const RULE_OF: Readonly<Record<StatementWord, string>> = {
  rig: 'Header',
  use: 'Use',
  model: 'Model',
  gear: 'Gear',
  performer: 'Performer',
  source: 'Source',
  input: 'Input',
  house: 'House',
  mix: 'Mix',
  output: 'Output',
};

export function documentationOf(rule: string, keyword: string, lengths: Lengths): string | undefined {
  const word = wordAt(rule, keyword);
  return word && `${word.says}\n\n${code(exampleText(word.example, lengths))}`;
}

/** Statements, with what a rig like this one is likely to need next filled in; the bare word where the rest of one is there. */
export function statementProposals(scene: Scene, rank: number): Ranked[] {
  const text = scene.document.textDocument.getText();
  const titled = scene.rig.label !== undefined || /^\s*rig\b/m.test(text);
  const rest = /^[^\r\n#]*/.exec(text.slice(scene.context.end))?.[0] ?? '';
  const statements = STATEMENT_WORDS.map((word): Ranked => {
    const proposal: Proposal = {
      kind: 'statement',
      label: word,
      detail: wordAt(RULE_OF[word], word)?.says,
      documentation: documentationOf(RULE_OF[word], word, scene.rig.settings),
      insert: `${word} `,
      snippet: rest.trim() === '' ? `${word} ${bodyOf(scene, word)}` : undefined,
      goesOn: word === 'use' && rest.trim() === '',
    };
    // One title is enough.
    return { rank: rank + (word === 'rig' && titled ? 1 : 0), proposal };
  });
  if (rest.trim() !== '') return statements;
  return [...statements, ...packProposals(scene, rank), ...(isBlank(scene) ? [{ rank, proposal: wholeRig() }] : [])];
}

/** Nothing is written yet but the word at the cursor. */
function isBlank({ document, context }: Scene): boolean {
  const text = document.textDocument.getText();
  return `${text.slice(0, context.start)}${text.slice(context.end)}`.trim() === '';
}

function wholeRig(): Proposal {
  const insert = newRig(DEFAULT_ANSWERS);
  return {
    kind: 'statement',
    label: 'first rig',
    detail: 'A whole rig for three people, to change into yours.',
    documentation: code(insert.split('\n')[1] ?? ''),
    insert,
  };
}

/** A belt pack for the first who has none, at the first side of a transmitter that nobody hears. */
function packProposals(scene: Scene, rank: number): Ranked[] {
  const pieces = [...scene.rig.pieces.values()];
  const bare = [...scene.rig.performers.values()].find(({ id }) => !pieces.some((piece) => piece.for.includes(id)));
  const transmitter = pieces.find(
    ({ kind, model, hears }) => kind === 'gear' && !hears && inputsOf(model).length > 0 && outputsOf(model).some(isRadio),
  );
  if (!bare || !transmitter) return [];
  const sides = inputsOf(transmitter.model).map(({ id }) => id);
  const heard = pieces.flatMap(({ hears }) => (hears?.piece === transmitter.id ? [hears.port] : []));
  const side = sides.find((id) => !heard.includes(id)) ?? sides[0];
  const body = `gear ${hole(1, `pack-${bare.name}`)} "${hole(2, `${bare.label}'s pack`)}" is ${hole(3, 'belt-pack')} for ${hole(4, bare.name)} hears ${hole(5, `${transmitter.name}.${side}`)}`;
  const detail = `A belt pack for ${bare.label}, and which side of ${transmitter.label} it hears.`;
  return [
    {
      rank: rank + 0.5,
      proposal: { kind: 'statement', label: 'gear for', detail, insert: 'gear ', snippet: body, filter: 'gear for pack' },
    },
  ];
}

const hole = (index: number, text: string) => `\${${index}:${snippetText(text)}}`;

function bodyOf(scene: Scene, word: StatementWord): string {
  const { rig } = scene;
  const waiting = [...rig.sources.values()].find((source) => !(scene.occupancy?.isPatched(source.id) ?? false));
  const silent = [...rig.performers.values()].find((performer) => ![...rig.mixes.values()].some((mix) => mix.for.includes(performer.id)));
  const unheard = [...rig.mixes.values()].find((mix) => !rig.outputs.some((run) => run.carries === mix.id));
  switch (word) {
    case 'rig':
      return `"${hole(1, 'Band, which set')}"\n  region ${hole(2, 'EU')}\n  rate ${hole(3, '48')} kHz\n  set ${hole(4, '60')} min\n`;
    case 'use':
      return '"$1"';
    case 'model':
      return [
        `${hole(1, 'our-preamp')} "${hole(2, 'Two-channel preamp')}" is ${hole(3, 'expander')} {`,
        `  input  ${hole(4, '1..2')}  combo  mic   impedance ${hole(5, '2')} kohm  max ${hole(6, '2')} dBu  gain ${hole(7, '0..55')} dB  phantom \${8|shared,each|}`,
        `  output ${hole(4, '1..2')}  trs    from ${hole(4, '1..2')} active  line  impedance ${hole(9, '150')} ohm  max ${hole(10, '16')} dBu`,
        `  power  \${11|mains,usb,battery,phantom,none|}`,
        `  origin "${hole(12, 'data sheet')}"`,
        '}',
      ].join('\n');
    case 'gear':
    case 'source':
      return `${hole(1, freeName(scene, word))} "${hole(2, 'Label')}" is $3`;
    case 'performer':
      return `${hole(1, freeName(scene, word))} "${hole(2, 'Name')}" at ${hole(3, '0')} m, ${hole(4, '2')} m`;
    case 'input':
      return `${hole(1, freeEnd(scene, 'input'))} takes ${hole(2, waiting?.name ?? 'voice')}`;
    case 'house':
      return `${hole(1, String(freeHouseNumber(scene.rig)))} "\${2:Label}" takes $3`;
    case 'mix':
      return `${hole(1, silent?.name ?? freeName(scene, word))} \${2|mono,stereo|} for ${hole(3, silent?.name ?? 'house')} { ${sendOf(scene, silent)} }`;
    case 'output':
      return `${hole(1, freeEnd(scene, 'output'))} carries ${hole(2, unheard?.name ?? 'mix')}`;
  }
}

/** `source-1` and on, which nothing in the rig is called yet: until it is typed over, it is mistaken for nothing else. */
function freeName({ rig }: Scene, word: 'gear' | 'source' | 'performer' | 'mix'): string {
  const isTaken = (name: string) =>
    rig.sources.has(`source:${name}`) ||
    rig.pieces.has(`gear:${name}`) ||
    rig.performers.has(`performer:${name}`) ||
    rig.mixes.has(`mix:${name}`);
  for (let count = 1; ; count++) if (!isTaken(`${word}-${count}`)) return `${word}-${count}`;
}

/** What a new mix begins with: what its listener plays, or else what is plugged in first. */
function sendOf({ rig, occupancy }: Scene, listener: Performer | undefined): string {
  const sources = [...rig.sources.values()].filter((source) => listener || !source.private);
  const patched = sources.filter(({ id }) => occupancy?.isPatched(id));
  const first = patched.find(({ by }) => listener && by === listener.id) ?? patched[0] ?? sources[0];
  return first ? `${hole(4, first.name)} ${hole(5, '0')} dB$0` : '$0';
}

/** The first free port of the gear that makes the mixes: `iface.7`. */
function freeEnd(scene: Scene, direction: 'input' | 'output'): string {
  const mixers = [...scene.rig.pieces.values()].filter((piece) => piece.kind === 'gear' && piece.model.mixes !== undefined);
  for (const piece of mixers) {
    const port = portsOf(piece, direction).find((each) => each.modes.some(({ kind }) => kind !== 'digital') && scene.isFree(piece, each));
    if (port) return `${piece.name}.${port.id}`;
  }
  return `${mixers[0]?.name ?? 'iface'}.1`;
}

function portsOf(piece: Piece, direction: 'input' | 'output') {
  return direction === 'input' ? inputsOf(piece.model) : outputsOf(piece.model);
}

/** Words of which one statement has one at most. */
const CHOICES: readonly ReadonlySet<string>[] = [
  new Set(['owned', 'borrowed', 'theirs', 'hire', 'buy']),
  new Set(['must', 'should', 'could']),
  new Set(['private', 'public']),
  new Set(['mono', 'stereo']),
  new Set(['balanced', 'unbalanced', 'floating']),
  new Set(['on', 'off']),
  new Set(['analogue', 'digital', 'hopping']),
];
/** Words that one statement may have many of. */
const MANY: ReadonlySet<string> = new Set([
  'Port/input',
  'Port/output',
  'Origin/origin',
  'SignalKind/',
  'Avoid/avoid',
  'Scan/scan',
  'Contact/contact',
]);

/** Whether a clause is said already, or one that stands in for it. `said` are the words of the statement, or of the mode. */
export function isSaid(rule: string, keyword: string, said: ReadonlySet<string>): boolean {
  if (MANY.has(`${rule}/${keyword}`) || MANY.has(`${rule}/`)) return false;
  const choice = CHOICES.find((words) => words.has(keyword));
  return choice ? [...choice].some((word) => said.has(word)) : said.has(keyword);
}

/** Words after which a text in quotes has to follow. */
const QUOTED: ReadonlySet<string> = new Set(['origin', 'date', 'venue', 'contact']);

/** Words after which a name or a figure has to follow. */
const ALONE: ReadonlySet<string> = new Set([
  'licensed',
  'owned',
  'borrowed',
  'theirs',
  'spare',
  'must',
  'should',
  'could',
  'private',
  'public',
  'hopping',
  'side-select',
  'mono-switch',
  'none',
  'ours',
  'separate',
  'isolated',
  'balanced',
  'unbalanced',
  'floating',
  'mono',
  'stereo',
  'mic',
  'each',
  'shared',
  'needed',
  'harmful',
  'digital',
  'parallel',
  'active',
  'switch',
  'off',
  'house',
  'instead',
]);
/** Words after which a list of names comes up. */
const NAMES_FOLLOW: ReadonlySet<string> = new Set([
  'is',
  'by',
  'for',
  'takes',
  'carries',
  'via',
  'hears',
  'ears',
  'own',
  'from',
  'without',
]);

export function keywordProposal(rule: string, keyword: string, lengths: Lengths): Proposal {
  const says = wordAt(rule, keyword)?.says;
  return {
    kind: 'keyword',
    label: keyword,
    detail: says,
    documentation: documentationOf(rule, keyword, lengths),
    insert: ALONE.has(keyword) ? undefined : QUOTED.has(keyword) ? `${keyword} ""` : `${keyword} `,
    snippet: QUOTED.has(keyword) ? `${keyword} "$0"` : undefined,
    goesOn: NAMES_FOLLOW.has(keyword),
  };
}
