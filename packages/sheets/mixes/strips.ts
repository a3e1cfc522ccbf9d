/** What each listener has in the pocket: a strip to tear off, with all that they need when nobody is beside them. It says what it means without the headings, which stay on the sheet. */
import { list, panDb, socketName } from '#engine';
import type { Context } from '../shared/context';
import { about, unique } from '../shared/draft';
import { frequencyOf } from '../shared/frequency';
import { type Listening, listeningOf } from '../shared/listening';
import { tableRow } from '../shared/tableRow';
import type { TableBlock } from '../sheet';
import { isWide } from './sends';

/** Nothing where nobody listens. */
export function stripTable(context: Context): TableBlock[] {
  const all = listeningOf(context);
  if (all.length === 0) return [];
  return [
    {
      kind: 'table',
      id: 'strips',
      title: 'To tear off: a strip for each listener',
      columns: [
        { title: 'Who', names: true, under: { title: 'Mix' } },
        { title: 'Output', under: { title: 'Pack or socket' } },
        { title: 'Side', under: { title: 'Frequency' } },
        { title: 'In it' },
        { title: 'For help' },
      ],
      rows: all.map((each) => {
        const { performer, mix, channels, at, loudspeakers, sender } = each;
        return tableRow(
          `${performer.id} ${mix.id}`,
          [
            performer.label,
            mix.label,
            channels.length > 0 ? `from ${list(channels)}` : NOT_SETTLED,
            at ? `earphones in ${socketName(at)}${besideWords(each, all)}` : list(loudspeakers.map(({ label }) => label)) || NOT_SETTLED,
            sideWords(each),
            sender ? (frequencyOf(sender) ?? 'not stated') : 'by wire',
            `you hear ${hears(context, each)}`,
            `${loudspeakers.length > 0 ? HELP_ALOUD : HELP} ${SIGN}`,
          ],
          {
            name: performer.label,
            place: performer.place,
            about: about(performer.place, mix.place),
            unfinished: (!at && loudspeakers.length === 0) || channels.length === 0,
          },
        );
      }),
      empty: '',
      remark: 'Cut along the lines; with the pack it goes to whoever wears it.',
    },
  ];
}

/** Who else is sent to the same socket: each of them reads it on a strip of their own, and finds it taken. */
function besideWords({ performer, at }: Listening, all: readonly Listening[]): string {
  const others = all.filter((each) => each.performer !== performer && at !== undefined && each.at?.key === at.key);
  const labels = unique(others.map((each) => each.performer.label));
  return labels.length > 0 ? `, shared with ${list(labels)}` : '';
}

/** Of an output or a socket that no line of the rig names. */
const NOT_SETTLED = 'not settled yet';

function sideWords({ mix, loudspeakers, side, only }: Listening): string {
  if (loudspeakers.length > 0) return mix.stereo ? 'stereo' : 'mono';
  if (side !== undefined) return `side ${side}: the same in both ears`;
  if (only) return `the ${only} side alone`;
  return mix.stereo ? 'stereo' : 'mono: the same in both ears';
}

/** Of whoever hears one side of a stereo mix alone, what is on that side. */
function hears({ checked: { rig } }: Context, { mix, only }: Listening): string {
  const heard = only ? mix.sends.filter(({ panPercent }) => Number.isFinite(panDb(panPercent, only))) : mix.sends;
  const loudestFirst = heard.toSorted((a, b) => b.levelDb - a.levelDb);
  const names = loudestFirst.map((send) => {
    const { source, channel = only && isWide(rig, send) ? only : undefined } = send;
    return [rig.sources.get(source)?.label ?? source, channel].filter(Boolean).join(' ');
  });
  return list(names) || (mix.sends.length > 0 ? 'nothing' : 'nothing yet');
}

/** Whatever is wrong with ears is first of all out of them. */
const HELP = 'Nothing, or too loud: ears out, knob down.';
const HELP_ALOUD = 'Nothing, too loud, or it howls: its knob down.';
/** On stage nobody telephones, and whoever is asked may be the listener. */
const SIGN = 'One arm up, then point to your ear, until whoever sits at the rig looks.';
