/** All that is set once everything is on, before phantom power: what is loaded, who keeps the time, sides, widths, frequencies. */
import { clocksOf, hertz, isHopping, isOnAir, isTheirs, list, socketName } from '#engine';
import type { Piece, Rig } from '#rig';
import { hasConverter } from '../levels/lines';
import { alike } from '../shared/alike';
import type { Context } from '../shared/context';
import { about, unique } from '../shared/draft';
import { frequencyOf } from '../shared/frequency';
import { type Listening, listeningOf } from '../shared/listening';
import { tableRow } from '../shared/tableRow';
import { frequencyAt, hearingAt } from '../shared/tells';
import type { TableBlock, TableRow } from '../sheet';
import type { Areas } from './areas';
import { stepTable } from './table';

/** Nothing where there is nothing to set. */
export function switchTable(context: Context, areas: Areas): TableBlock[] {
  const listening = listeningOf(context);
  const rows = [...clocks(context), ...computer(context, areas), ...senders(context, listening), ...players(context, listening)];
  if (rows.length === 0) return [];
  return [
    stepTable({
      id: 'switches',
      title: 'Switches and settings, ears out',
      columns: ['On', 'Set', 'Why'],
      rows,
      empty: '',
      remark: clocksOf(context.checked.network).length > 0 ? CLOCK_RULE : undefined,
    }),
  ];
}

const CLOCK_RULE =
  'One keeps the time and the others follow; the computer follows what it is plugged into. All at one rate, or it clicks and drops out.';

/** Whose clock, and what rate: what digital leads join, then what stands alone. */
function clocks({ checked: { network, rig } }: Context): TableRow[] {
  const rate = hertz(rig.settings.rateHz);
  const groups = clocksOf(network);
  const joined = new Set(groups.flatMap(({ master, follows }) => [master, ...follows.map(({ piece }) => piece)]));
  const alone = [...rig.pieces.values()].filter(
    (piece) => piece.kind === 'gear' && !joined.has(piece) && !isTheirs(piece) && hasConverter(piece.model) && isPlugged(rig, piece),
  );
  return [
    ...groups.flatMap(({ master, follows }) => [
      tableRow(`keeps ${master.id}`, [master.label, `its own clock, ${rate}`, 'keeps the time'], {
        place: master.place,
        tells: [master.place],
      }),
      ...follows.map(({ piece, by }) =>
        tableRow(`follows ${piece.id}`, [piece.label, `clock from ${by.to.port.id}, ${rate}`, `follows ${socketName(by.from)}`], {
          place: piece.place,
          about: about(piece.place, by.from.piece.place),
          tells: [piece.place],
        }),
      ),
    ]),
    ...alone.map((piece) =>
      tableRow(`rate ${piece.id}`, [piece.label, `its own clock, ${rate}`, 'the rate of the rig'], {
        place: piece.place,
        tells: [piece.place],
      }),
    ),
  ];
}

function isPlugged({ inputs, outputs }: Rig, { id }: Piece): boolean {
  return inputs.some(({ to }) => to.piece === id) || outputs.some(({ from }) => from.piece === id);
}

function computer({ checked: { rig } }: Context, { computer: found }: Areas): TableRow[] {
  if (!found) return [];
  const { bufferSamples, rateHz } = rig.settings;
  const plays = found.serves.filter(({ kind }) => kind === 'source');
  const set = [
    plays.length > 0 ? 'the session of tonight loaded' : '',
    hertz(rateHz),
    bufferSamples === undefined ? 'the buffer as rehearsed' : `buffer ${bufferSamples} samples`,
    'no sounds of its own',
  ];
  const why = plays.length > 0 ? `plays ${alike(plays.map(({ label }) => label)).join(', ')}` : 'is on the USB of our gear';
  return [
    tableRow('computer', ['Computer', set.filter(Boolean).join(', '), why], {
      about: plays.map(({ place }) => place),
      place: bufferSamples === undefined ? undefined : 'rig',
    }),
  ];
}

/** What sends: its frequency, and whether its two sides are two mixes. */
function senders({ checked: { rig, network } }: Context, listening: readonly Listening[]): TableRow[] {
  return [...rig.pieces.values()]
    .filter((piece) => isOnAir(piece) && !isTheirs(piece))
    .map((piece) => {
      const mine = listening.filter(({ sender }) => sender === piece);
      const fed = piece.model.ports.filter(({ id, direction }) => direction === 'input' && network.entering.has(`${piece.id}.${id}`));
      const two = mine.some(({ side, mix }) => side !== undefined || mix.stereo) || fed.length > 1;
      const width = piece.kind === 'source' || mine.length === 0 ? '' : two ? 'stereo' : piece.model.monoSwitch ? 'mono' : '';
      const sides = unique(mine.flatMap(({ side }) => side ?? [])).map((each) => {
        const who = unique(mine.filter(({ side }) => side === each).map(({ performer }) => performer));
        return `${each} ${list(alike(who.map(({ label }) => label)))}`;
      });
      return tableRow(
        `sends ${piece.id}`,
        [
          piece.label,
          [frequencyOf(piece) ?? NOT_STATED, width].filter(Boolean).join(', '),
          sides.join(', ') || (piece.kind === 'source' ? (isHopping(piece) ? 'paired with its receiver' : 'as its receiver') : ''),
        ],
        {
          place: piece.place,
          about: mine.map(({ performer }) => performer.place),
          tells: [frequencyAt(piece)],
          unfinished: frequencyOf(piece) === undefined,
        },
      );
    });
}

/** Packs and amplifiers: which side, the same in both ears or not, which frequency. */
function players({ checked: { network } }: Context, listening: readonly Listening[]): TableRow[] {
  const rows = new Map<string, TableRow>();
  for (const { at, performer, mix, sender, side, only } of listening) {
    if (!at || rows.has(at.key)) continue;
    const { piece } = at;
    const { model } = piece;
    const set = [
      side !== undefined && model.sideSelect ? `side select ${side}` : '',
      widthOf(mix.stereo && !only, side, model.monoSwitch || (model.sideSelect && side !== undefined), onOneSide(network, at)),
      sender ? (isHopping(sender) ? `paired with ${sender.label}` : (frequencyOf(sender) ?? NOT_STATED)) : '',
    ].filter(Boolean);
    if (set.length === 0) continue;
    rows.set(
      at.key,
      tableRow(`plays ${at.key}`, [socketName(at), set.join(', '), `${performer.label} hears ${mix.label}`], {
        place: piece.kind === 'fresh' ? performer.place : piece.place,
        about: about(performer.place, mix.place),
        tells: [hearingAt(piece), ...[piece, ...(sender ? [sender] : [])].map(frequencyAt)],
      }),
    );
  }
  return [...rows.values()];
}

const NOT_STATED = 'frequency not stated';

/** `mono: the same in both ears`, where it can be switched so. */
function widthOf(stereo: boolean, side: string | undefined, switched: boolean, oneSide: boolean): string {
  if (stereo) return 'stereo';
  if (!switched) return '';
  return side !== undefined || oneSide ? 'mono: the same in both ears' : '';
}

/** Only one of the two sides of what it plays has a plug in it. */
function onOneSide(network: Context['checked']['network'], { piece, port }: NonNullable<Listening['at']>): boolean {
  const inputs = port.tie?.inputs ?? [];
  return inputs.length > 1 && inputs.filter((id) => network.entering.has(`${piece.id}.${id}`)).length === 1;
}
