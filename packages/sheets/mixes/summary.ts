/** Each mix in a row: for whom, by which output and which way, how loud it gets, how late one hears oneself in it. */
import {
  count,
  inLengthUnit,
  type Latency,
  type Lengths,
  latencyParts,
  lengthUnit,
  list,
  type MixLevels,
  portList,
  SOUND_M_PER_S,
  signalLabel,
  socket,
  socketName,
  wedgeM,
} from '#engine';
import { type Mix, type Rig, toBase } from '#rig';
import { type Context, grouped } from '../shared/context';
import { about, type Draft, unique } from '../shared/draft';
import { tenth, whole, wholeDown } from '../shared/figures';
import type { OutputRow } from '../shared/model';
import { outputRows } from '../shared/outputs';
import type { RowDraft } from '../shared/rows';
import type { Column } from '../sheet';

export const SUMMARY_COLUMNS: readonly Column[] = [
  { title: 'Mix', names: true, under: { title: 'Width' } },
  { title: 'For' },
  { title: 'Output', under: { title: 'Way' } },
  { title: 'Usual', unit: 'dBFS', number: true },
  { title: 'Headroom', unit: 'dB', number: true },
  { title: 'Own sound late by', unit: 'ms', number: true },
];

/** How loud a mix gets where it is made: the louder of its sides. In dBFS; nothing where of nothing in it a level is known. */
export function busLevel(levels: MixLevels | undefined): { readonly usual: number; readonly peak: number } | undefined {
  const sides = levels?.sides.flatMap(({ level, from }) => (level && from.some(({ assumed }) => !assumed) ? level : [])) ?? [];
  if (sides.length === 0) return undefined;
  return { usual: Math.max(...sides.map((side) => side.typical)), peak: Math.max(...sides.map((side) => side.peak)) };
}

/** A row for each mix, and one for each performer who has none. */
export function summaryRows(context: Context): RowDraft[] {
  const { rig } = context.checked;
  const outputs = outputRows(context);
  const carries = new Map(rig.outputs.map((run) => [run.id, run.carries]));
  const byMix = grouped(outputs, (row) => (rig.mixes.has(row.key) ? row.key : carries.get(row.place)));
  const without = outputs.filter((row) => rig.performers.has(row.key));
  return [
    ...[...rig.mixes.values()].map((mix) => summaryRow(context, mix, byMix.get(mix.id) ?? [])),
    ...without.map((row) => ({
      key: row.key,
      place: row.place,
      about: row.about,
      unfinished: true,
      cells: [row.mix, undefined, row.listeners, undefined, undefined, undefined, undefined, undefined],
    })),
  ];
}

function summaryRow({ checked }: Context, mix: Mix, leaving: readonly Draft<OutputRow>[]): RowDraft {
  const level = busLevel(checked.buses.of(mix.id));
  const late = checked.latencies.filter((each) => each.mix === mix);
  const [first] = leaving;
  return {
    key: mix.id,
    place: mix.place,
    about: about(mix.place, ...leaving.flatMap((row) => row.about)),
    unfinished: leaving.length === 0 || leaving.some((row) => row.unfinished) || mix.sends.length === 0,
    cells: [
      mix.label,
      mix.stereo ? 'stereo' : 'mono',
      first?.listeners,
      outputsOf(checked.rig, leaving),
      leaving.flatMap((row) => row.way || []).join('; ') || undefined,
      level && whole(level.usual),
      level && wholeDown(-level.peak),
      late.length > 0 ? tenth(1000 * Math.max(...late.map(({ totalS }) => totalS))) : undefined,
    ],
  };
}

/** `Interface 3 and 4`. */
export function outputsOf(rig: Rig, leaving: readonly Pick<OutputRow, 'port' | 'place'>[]): string {
  const runs = new Map(rig.outputs.map((run) => [run.id, run]));
  const ports = unique(leaving.map(({ place }) => runs.get(place))).flatMap((run) =>
    run ? (run.from.ports.length > 0 ? run.from.ports : ['']).map((port) => ({ piece: run.from.piece, port })) : [],
  );
  if (ports.length === 0) return leaving[0]?.port ?? '';
  return [...grouped(ports, ({ piece }) => piece)]
    .map(([id, here]) => {
      const piece = rig.pieces.get(id);
      const ids = unique(here.map(({ port }) => port));
      const only = ids.length === 1 ? piece?.model.ports.find((port) => port.direction === 'output' && port.id === ids[0]) : undefined;
      return piece && only ? socketName(socket(piece, only)) : `${piece?.label ?? 'unknown gear'} ${portList(ids)}`.trim();
    })
    .join(', ');
}

/** What the levels of the mixes are, and which of them are guessed. Nothing where there are none. */
export function levelRule({ checked }: Context): string | undefined {
  const known = checked.buses.all.filter((each) => busLevel(each));
  if (known.length === 0) return undefined;
  const guessed = unique(
    known.flatMap(({ sides }) => sides.flatMap(({ from }) => from.filter(({ assumed }) => assumed).map(({ send }) => send.source))),
  ).map((source) => signalLabel(checked.rig, source));
  const rule =
    'Levels are where the mix is made, with everybody playing and every send as written; 0 dBFS is where it clips. They are estimates: peaks seldom all meet.';
  if (guessed.length === 0) return rule;
  const named = guessed.length > 6 ? `${count(guessed.length, 'source')} of them` : list(guessed);
  return `${rule} How loud ${named} ${guessed.length === 1 ? 'comes' : 'come'} is not known, and is taken to be lined up like the rest.`;
}

// ---- latency -------------------------------------------------------------------------------------

export function latencyColumns(lengths: Lengths): readonly Column[] {
  return [
    { title: 'Performer', names: true },
    { title: 'Hears', under: { title: 'In the mix' } },
    { title: 'Late by', unit: 'ms', number: true },
    { title: 'As from a wedge at', unit: lengthUnit(lengths), number: true },
    { title: 'Made up of' },
  ];
}

export function latencyRule({ inFeet }: Lengths): string {
  const airMs = (1000 * (inFeet ? toBase(1, 'ft') : 1)) / SOUND_M_PER_S;
  return `From the sound to the ears, as far as the gear states figures; radio and converters add to it where it does not. Sound in air takes ${tenth(airMs)} ms for a ${inFeet ? 'foot' : 'metre'}.`;
}

export function latencyRows({ checked }: Context): RowDraft[] {
  return checked.latencies.map((each: Latency) => {
    const { performer, source, mix, totalS, parts } = each;
    const known = parts.some(({ seconds }) => seconds !== undefined);
    return {
      key: `${performer.id} ${source.id} ${mix.id}`,
      name: `${performer.label}: ${source.label}`,
      place: source.place,
      about: about(source.place, performer.place, mix.place),
      unfinished: !known,
      cells: [
        performer.label,
        source.label,
        mix.label,
        known ? tenth(1000 * totalS) : undefined,
        known ? tenth(inLengthUnit(wedgeM(totalS), checked.rig.settings)) : undefined,
        latencyParts(parts),
      ],
    };
  });
}
