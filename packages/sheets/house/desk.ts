/** Gear of the house's that we are on: a desk that makes the mixes of our ears, or what only takes our lines for one. */
import { isTheirs, type Line, list, plugName } from '#engine';
import type { InputRun, OutputRun, Piece, Place } from '#rig';
import { type ListedLead, plugsOf } from '../leads/list';
import { alike } from '../shared/alike';
import type { Context } from '../shared/context';
import { unique } from '../shared/draft';
import { forbidden } from '../shared/grave';
import { portOrder, signalWords } from '../shared/path';
import { lineNumbers } from './counted';

export interface TheirDesk {
  readonly piece: Piece;
  /** What we ask for on it, socket by socket: `1 Voice (from House split 1, 48 V)`, `3 Ama (mono, to Transmitter left)`. */
  readonly inputs: readonly string[];
  readonly outputs: readonly string[];
  /** So many inputs. */
  readonly sockets: number;
  /** For our ears, each once. */
  readonly mixes: number;
  readonly places: readonly Place[];
}

/** In the order of the rig. What must not be plugged as the rig is, is asked for by nobody. */
export function theirDesks(context: Context): readonly TheirDesk[] {
  return context.once('their desks', allDesks);
}

function allDesks(context: Context): readonly TheirDesk[] {
  const { checked } = context;
  const { rig } = checked;
  const harmful = forbidden(checked);
  const may = ({ place }: { readonly place: Place }) => !harmful.has(place);
  const [inputs, outputs] = [rig.inputs.filter(may), rig.outputs.filter(may)];
  const on = unique([...inputs.map(({ to }) => to.piece), ...outputs.map(({ from }) => from.piece)]);
  return [...rig.pieces.values()].flatMap((piece): TheirDesk[] => {
    if (!on.includes(piece.id) || !isTheirs(piece)) return [];
    const into = inputs.filter(({ to }) => to.piece === piece.id);
    const outOf = outputs.filter(({ from }) => from.piece === piece.id);
    return [
      {
        piece,
        inputs: inputWords(context, into),
        sockets: unique(into.flatMap(({ to }) => to.ports)).length,
        outputs: outputWords(context, outOf),
        mixes: unique(outOf.flatMap(({ carries }) => rig.mixes.get(carries ?? '') ?? [])).filter(({ house }) => !house).length,
        places: [piece.place, ...[...into, ...outOf].map(({ place }) => place)],
      },
    ];
  });
}

/** Where more come in, it is not told where each comes from, and what a line of theirs of the same number carries is counted: the page has to stay one. */
const MOST_WITH_WAYS = 8;

function inputWords(context: Context, runs: readonly InputRun[]): string[] {
  const all = runs.flatMap((run) => run.to.ports.map((port, index) => ({ run, port, index, piece: run.to.piece })));
  const brief = all.length > MOST_WITH_WAYS;
  const asLines: string[] = [];
  const words = all.toSorted(portOrder(context.checked.rig, 'input')).flatMap(({ run, port, index }) => {
    if (!run.takes) return [];
    const line = context.linesOf(run.id).find((each) => each.index === index);
    const powered = line && context.supplies.of(line) === 'on' ? '48 V' : '';
    if (brief && powered === '' && isAsLine(context, port, line)) {
      asLines.push(port);
      return [];
    }
    const last = line?.joints.at(-1)?.from;
    const from = !brief && last && last.piece.kind !== 'source' ? `from ${plugName(last)}` : '';
    return [told(port, signalWords(context.checked.rig, run.takes, line), [from, powered])];
  });
  return asLines.length > 0 ? [`${lineNumbers(asLines)} as your lines of these numbers`, ...words] : words;
}

/** Whether the house's line of a number carries the same. */
function isAsLine(context: Context, number: string, line: Line | undefined): boolean {
  return context
    .houseLinesAt(number)
    .some(({ id }) => context.linesOf(id).some(({ signal, channel }) => signal === line?.signal && channel === line?.channel));
}

function outputWords(context: Context, runs: readonly OutputRun[]): string[] {
  const { rig } = context.checked;
  const all = runs.flatMap((run) => run.from.ports.map((port, index) => ({ run, port, index, piece: run.from.piece })));
  return all.toSorted(portOrder(rig, 'output')).flatMap(({ run, port, index }) => {
    const mix = rig.mixes.get(run.carries ?? '');
    if (!mix) return [];
    const line = context.linesOf(run.id).find((each) => each.index === index);
    const into = line?.joints[0]?.to;
    const width = mix.stereo ? (line?.channel ?? 'stereo') : 'mono';
    return [told(port, mix.label, [width, into ? `to ${plugName(into)}` : ''])];
  });
}

function told(port: string, what: string, more: readonly string[]): string {
  const said = more.filter(Boolean).join(', ');
  return `${port} ${what}${said === '' ? '' : ` (${said})`}`;
}

/** `inputs 1 Voice, 2 Kora (48 V); output 1 Ama (mono, to Transmitter left); on leads of ours: 2 × XLR, 5 m`. */
export function deskWords({ piece, inputs, outputs, sockets }: TheirDesk, leads: readonly ListedLead[]): string {
  const ours = leads.filter(
    ({ number, theirs, joint }) => number !== undefined && !theirs && (joint.from.piece === piece || joint.to.piece === piece),
  );
  return [
    inputs.length > 0 ? `${sockets > 1 ? 'inputs' : 'input'} ${inputs.join(', ')}` : '',
    outputs.length > 0 ? `${outputs.length > 1 ? 'outputs' : 'output'} ${outputs.join(', ')}` : '',
    ours.length > 0 ? `on leads of ours: ${alike(ours.map(leadWords)).join('; ')}` : '',
  ]
    .filter(Boolean)
    .join('; ');
}

function leadWords(lead: ListedLead): string {
  return [plugsOf(lead), lead.row.unfinished ? '' : lead.row.length].filter(Boolean).join(', ');
}

/** To whom they belong: `your monitor desk`; `Wedge desk, which is yours`. */
export function yoursWords(pieces: readonly Piece[]): string {
  return list(
    pieces.map(({ label }) => {
      const plain = label.replace(/^house(?:[’']s)? /i, '');
      return plain === label ? `${label}, which is yours` : `your ${plain}`;
    }),
  );
}
