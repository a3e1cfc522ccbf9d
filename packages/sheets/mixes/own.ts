/** Whom something else in the mix drowns: each listener's own sounds against the rest, send and usual level together. */
import { decibels, list, signalLabel, standingOf } from '#engine';
import { alike } from '../shared/alike';
import type { Context } from '../shared/context';
import { about, unique } from '../shared/draft';
import { whole } from '../shared/figures';
import { tableRow } from '../shared/tableRow';
import type { TableBlock, TableRow } from '../sheet';

/** Of what is louder so many are named. */
const MOST_NAMED = 3;

/** The rest together, of which nothing by itself is louder: common practice, no source. */
const DROWNED_DB = 6;

/** Nothing where all are the loudest in their own mix. */
export function ownTable(context: Context): TableBlock[] {
  const rows = ownRows(context);
  if (rows.length === 0) return [];
  return [
    {
      kind: 'table',
      id: 'own',
      title: 'How loud one hears oneself',
      remark: OWN_RULE,
      columns: [
        { title: 'Performer', names: true },
        { title: 'Hears', under: { title: 'In the mix' } },
        { title: 'Against the rest', unit: 'dB', number: true },
        { title: 'Louder by themselves' },
      ],
      rows,
      empty: '',
    },
  ];
}

const OWN_RULE = `What comes in and what is sent, together: usual levels, estimated from generic figures. Gains are set by the peaks, so what has high ones comes in quieter for the same send. Below nought, the rest together is louder: where one does not hear oneself, the rest comes down first. Here are those that something else is louder than, or the rest together by more than ${DROWNED_DB} dB.`;

function ownRows(context: Context): TableRow[] {
  const { rig, buses } = context.checked;
  return [...rig.mixes.values()].flatMap((mix) => {
    const levels = buses.of(mix.id);
    const sounds = unique(mix.sends.map(({ source }) => source));
    return mix.for.flatMap((listener) => {
      const performer = rig.performers.get(listener);
      return sounds.flatMap((id) => {
        const source = rig.sources.get(id);
        if (!performer || !source || source.by !== listener || !levels) return [];
        // Whose level is not known is told beside the levels of the mix.
        const standing = standingOf(levels, id);
        if (!standing) return [];
        const { louder, aboveDb } = standing;
        if (louder.length === 0 && (aboveDb ?? 0) >= -DROWNED_DB) return [];
        const named = alike(louder.map(({ source: other }) => signalLabel(rig, other)));
        const told = louder.slice(0, MOST_NAMED).map(({ byDb }, index) => `${named[index]} by ${decibels(whole(byDb))}`);
        const more = louder.length - told.length;
        return [
          tableRow(
            `${performer.id} ${id} ${mix.id}`,
            [
              performer.label,
              source.label,
              mix.label,
              aboveDb === undefined ? undefined : whole(aboveDb),
              list([...told, ...(more > 0 ? [`${more} more`] : [])]) || undefined,
            ],
            { name: `${performer.label}: ${source.label}`, place: source.place, about: about(performer.place, mix.place) },
          ),
        ];
      });
    });
  });
}
