/** Rigs as text, and changed at random, to be compared. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import { type Compared, compare, type Input } from '#compare';
import { foundBy, RigLoader } from '#language';
import { root } from '../build';
import { generateRig } from '../generate';

const EXAMPLES = path.join(root, 'examples');
let loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(EXAMPLES));
let count = 0;

/** A text as it would be in the folder of the examples. */
export async function read(text: string): Promise<Input> {
  // So many trees are not kept.
  if (++count % 100 === 0) loader = new RigLoader(NodeFileSystem.fileSystemProvider(), URI.file(EXAMPLES));
  const document = await loader.loadText(text, URI.file(path.join(EXAMPLES, `typed-${count}.rig`)));
  const analysis = loader.services.rig.Analyser.of(document);
  return { rig: analysis.lowered.rig, findings: foundBy(analysis) };
}

export async function compareTexts(before: string, after: string): Promise<Compared> {
  return compare(await read(before), await read(after));
}

/** Kinds of gear of its own, used as a thing, in a line, as a source and as somebody's earphones. */
export const OWN_MODELS = `rig "Wet Lantern"
model our-buds "Our buds" is earphones { owned }
model our-box is passive-di { owned }
model our-reed "Reed microphone" is clip-on-mic { owned }
model our-desk "Desk" is interface-8-mic { owned }
performer una "Una" ears our-buds
source reed "Reed" is our-reed by una
source bass "Bass" is magnetic-pickup by una
gear desk "Desk" is our-desk
input desk.1 takes reed via y-lead
input desk.2 takes bass via our-box
house 1 "Reed" takes reed
mix una mono for una { reed 0 dB bass -3 dB }
output desk.phones1 carries una
`;

export const TEXTS: readonly string[] = [
  ...['first.rig', 'choir.rig', 'street.rig', 'ten.rig'].map((name) => readFileSync(path.join(EXAMPLES, name), 'utf8')),
  readFileSync(path.join(root, 'tests/checks/tour.rig'), 'utf8'),
  OWN_MODELS,
  generateRig(60, 11),
  generateRig(110, 12),
];

type Random = () => number;
const pick = <T>(all: readonly T[], random: Random): T | undefined => all[Math.floor(random() * all.length)];

/** Statements with what belongs to them: what begins at the start of a line up to the next that does. */
export function statementsOf(text: string): string[] {
  return text.split(/^(?=(?:rig|use|model|gear|performer|source|input|house|mix|output)\b)/m);
}

/** The same rig, written otherwise: its statements in another order, other spaces, comments put in and left out. */
export function rewritten(text: string, random: Random): string {
  const statements = statementsOf(text).map((each) => each.replace(/[ \t]*#.*$/gm, (comment) => (random() < 0.5 ? comment : '')));
  for (let at = statements.length - 1; at > 0; at--) {
    const other = Math.floor(random() * (at + 1));
    [statements[at], statements[other]] = [statements[other] as string, statements[at] as string];
  }
  return statements
    .map(
      (each) =>
        `${each.replace(/(?<="?) {2,}(?!"|[^"\n]*"[^"\n]*$)/g, () => (random() < 0.5 ? ' ' : '    ')).trimEnd()}\n${random() < 0.2 ? '# said by nobody\n' : ''}`,
    )
    .join(random() < 0.5 ? '\n' : '');
}

const CHANGES: readonly ((text: string, random: Random) => string)[] = [
  // A line less.
  (text, random) => {
    const all = statementsOf(text);
    const gone = Math.floor(random() * all.length);
    return all.filter((each, index) => index !== gone || each.startsWith('rig')).join('');
  },
  // A figure.
  (text, random) => {
    const figures = [...text.matchAll(/(?<=\s)-?\d+(?:\.\d+)?(?= (?:dB|m|ft|MHz|%|EUR|GBP|USD)\b)/g)];
    const one = pick(figures, random);
    return one ? `${text.slice(0, one.index)}${Math.floor(random() * 12)}${text.slice(one.index + one[0].length)}` : text;
  },
  // Two sockets, changed.
  (text, random) => {
    const ports = [...text.matchAll(/^(?:input|output) +(\S+)/gm)];
    const [a, b] = [pick(ports, random), pick(ports, random)].sort((x, y) => (x?.index ?? 0) - (y?.index ?? 0));
    if (!a?.[1] || !b?.[1] || a === b) return text;
    const [at, to] = [a.index + a[0].indexOf(a[1]), b.index + b[0].indexOf(b[1])];
    return `${text.slice(0, at)}${b[1]}${text.slice(at + a[1].length, to)}${a[1]}${text.slice(to + b[1].length)}`;
  },
  // Another name.
  (text, random) => {
    const declared = [...text.matchAll(/^(?:model|gear|performer|source|mix) +([\w-]+)/gm)];
    const name = pick(declared, random)?.[1];
    return name ? text.replaceAll(new RegExp(`(?<![\\w-"])${name}(?![\\w-"])`, 'g'), `${name}-anew`) : text;
  },
  // Another number of the house's.
  (text, random) => text.replace(/^house +(\d+)/m, () => `house ${30 + Math.floor(random() * 20)}`),
  // Something more.
  (text, random) => {
    const source = pick([...text.matchAll(/^source +([\w-]+)/gm)], random)?.[1];
    const gear = pick([...text.matchAll(/^gear +([\w-]+)/gm)], random)?.[1];
    const more = [
      `source more-${Math.floor(random() * 9)} "More" is dynamic-mic`,
      `gear box-${Math.floor(random() * 9)} is y-lead`,
      `input ${gear}.${1 + Math.floor(random() * 8)} takes ${source} via passive-di gain 20 dB`,
      `house ${40 + Math.floor(random() * 9)} "Spare" own mic`,
      `mix mix-${Math.floor(random() * 9)} mono { ${source} -6 dB }`,
    ];
    return `${text.trimEnd()}\n${pick(more, random)}\n`;
  },
  // Through something more.
  (text, random) => text.replace(/^(input .*takes \S+)$/m, (line) => `${line} via ${random() < 0.5 ? 'pad-20' : 'y-lead'}`),
  (text, random) => rewritten(text, random),
];

/** One to six things changed. */
export function changed(text: string, random: Random): string {
  let now = text;
  for (let left = 1 + Math.floor(random() * 6); left > 0; left--) now = pick(CHANGES, random)?.(now, random) ?? now;
  return now;
}
