/** Which sources are sent to which mixes, as levels and sides in words: one row a source, a column for each mix. */
import { portList, signalLabel, socketName, tidy } from '#engine';
import type { Mix, Rig, Send } from '#rig';
import { type Context, grouped } from '../shared/context';
import { about, unique } from '../shared/draft';
import { portOrder } from '../shared/path';
import { raisedCell } from '../shared/raised';
import type { RowDraft } from '../shared/rows';
import type { Cell, Column } from '../sheet';

/** So many mixes stand side by side on a page; more are told in further tables. */
const MOST_MIXES = 8;

/** A source, or one of its channels where a mix has it by itself. */
interface Sounding {
  readonly source: string;
  readonly channel?: string;
}

const keyOf = ({ source, channel }: Sounding) => (channel === undefined ? source : `${source}.${channel}`);

interface SendTable {
  readonly columns: Column[];
  readonly rows: RowDraft[];
  readonly mixes: readonly Mix[];
  /** The number of its first mix, from 1. */
  readonly first: number;
}

/** Tables of at most `MOST_MIXES` mixes each and about equally many, all with the same rows. */
export function sendTables(context: Context): SendTable[] {
  const { rig } = context.checked;
  const mixes = [...rig.mixes.values()];
  const sounding = inOrder(context, mixes);
  const most = Math.ceil(mixes.length / Math.ceil(mixes.length / MOST_MIXES));
  const tables: SendTable[] = [];
  for (let first = 0; first < mixes.length; first += most) {
    const here = mixes.slice(first, first + most);
    const sent = here.map((mix) => grouped(mix.sends, keyOf));
    const rows = sounding.map((each) => sendRow(context, each, here, sent));
    tables.push({ columns: columnsFor(here), rows, mixes: here, first: first + 1 });
  }
  return tables;
}

function columnsFor(mixes: readonly Mix[]): Column[] {
  return [
    { title: 'Source', names: true, under: { title: 'By' } },
    { title: 'Input' },
    ...mixes.map((mix): Column => {
      const level: Column = { title: mix.label, unit: 'dB', number: true };
      return mix.stereo ? { ...level, under: { title: `${mix.label}, side` } } : level;
    }),
  ];
}

/** Port by port as the gear has them, as on a mixer; then what is sent somewhere and plugged in nowhere. */
function inOrder({ checked }: Context, mixes: readonly Mix[]): Sounding[] {
  const { rig } = checked;
  const landed = rig.inputs
    .flatMap((run) => (run.takes?.kind === 'source' ? [{ run, piece: run.to.piece, port: run.to.ports[0] ?? '' }] : []))
    .sort(portOrder(rig, 'input'))
    .map(({ run }) => run.takes?.id ?? '');
  const sent = mixes.flatMap((mix) => mix.sends);
  const bySource = grouped(sent, (send) => send.source);
  return unique([...landed, ...sent.map((send) => send.source)]).flatMap((source) => {
    const channels = unique((bySource.get(source) ?? []).map((send) => send.channel));
    return (channels.length > 0 ? channels : [undefined]).map((channel) => ({ source, channel }));
  });
}

function sendRow(
  context: Context,
  sounding: Sounding,
  mixes: readonly Mix[],
  sent: readonly ReadonlyMap<string, readonly Send[]>[],
): RowDraft {
  const { rig } = context.checked;
  const source = rig.sources.get(sounding.source);
  const key = keyOf(sounding);
  const sends = sent.map((each) => each.get(key) ?? []);
  const cells = mixes.flatMap((mix, index): Cell[] => {
    const here = sends[index] ?? [];
    // Sent twice is a finding; both levels are told.
    const level = here.length > 1 ? here.map((send) => String(raisedCell(send))).join(' and ') : here[0] && raisedCell(here[0]);
    return mix.stereo ? [level, here[0] && sideWords(here[0].panPercent)] : [level];
  });
  return {
    key,
    name: soundingLabel(rig, sounding),
    place: source?.place,
    about: about(
      source?.place,
      ...context.checked.network.linesOf(sounding.source).flatMap(({ run }) => (run.kind === 'input' ? [run.id] : [])),
      ...sends.flat().map((send) => send.place),
    ),
    cells: [soundingLabel(rig, sounding), rig.performers.get(source?.by ?? '')?.label, inputsOf(context, sounding), ...cells],
  };
}

/** `Organ`, `Organ left`. */
export function soundingLabel(rig: Rig, { source, channel }: Pick<Send, 'source' | 'channel'>): string {
  return [signalLabel(rig, source), channel ?? ''].join(' ').trim();
}

/** `left 20 %`; nothing in the middle. */
export function sideWords(panPercent: number): string | undefined {
  const percent = tidy(Math.abs(panPercent), 0);
  if (percent === '0') return undefined;
  return `${panPercent < 0 ? 'left' : 'right'} ${percent} %`;
}

/** `Interface 7 and 8`: where its channels land. */
function inputsOf({ checked }: Context, { source, channel }: Sounding): string {
  const lines = checked.network
    .linesOf(source)
    .filter((line) => line.run.kind === 'input' && line.end && (channel === undefined || line.channel === channel));
  const byPiece = grouped(lines, (line) => line.end?.piece.id);
  const named = [...byPiece.values()].map((here) => {
    const [first] = here;
    const ids = unique(here.flatMap((line) => line.end?.port.id ?? []));
    if (!first?.end) return '';
    return ids.length > 1 ? `${first.end.piece.label} ${portList(ids)}` : socketName(first.end);
  });
  return named.join(', ') || 'not plugged in';
}

/** Two channels that stay left and right. */
export function isWide(rig: Rig, { source, channel }: Send): boolean {
  const outputs = rig.pieces.get(source)?.model.ports.filter(({ direction }) => direction === 'output') ?? [];
  return channel === undefined && ['left', 'right'].every((id) => outputs.some((port) => port.id === id && port.separate));
}
