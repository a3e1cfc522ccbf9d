/** Line check, mixes, radio and limiters: when everything is plugged and on. */
import {
  type Checked,
  dbfsOf,
  driverOf,
  isOnAir,
  isTheirs,
  isUnstated,
  type Line,
  list,
  NOT_STATED,
  type Socket,
  signalLabel,
  socketName,
} from '#engine';
import type { Mix, Piece, Place, Rig, Taken } from '#rig';
import { lineNumbers } from '../house/counted';
import { hasConverter } from '../levels/lines';
import { alike } from '../shared/alike';
import type { Context } from '../shared/context';
import { unique } from '../shared/draft';
import { earphonesOf } from '../shared/earphones';
import { withoutHouse } from '../shared/facts';
import { whole } from '../shared/figures';
import { frequencyOf } from '../shared/frequency';
import { forbidden } from '../shared/grave';
import { HARMED_BY_48_V, silentWithoutUs, touchedHouseRows } from '../shared/house';
import { inputRows, knobOf } from '../shared/inputs';
import { outputRows } from '../shared/outputs';
import { isRaised, RAISED_RULE, raisedWords } from '../shared/raised';
import { tableRow } from '../shared/tableRow';
import { frequencyAt, gainAt, hearingAt } from '../shared/tells';
import type { Cell, TableBlock, TableRow } from '../sheet';
import { stepTable } from './table';

/** Source by source, all of one player's together, so that nobody is called twice. */
export function lineCheckTable(context: Context): TableBlock {
  const { rig } = context.checked;
  const order = new Map([...rig.performers.values()].map(({ id }, index) => [id, index]));
  const rank = (source: string | undefined) => {
    // All lines of an expander come over its link.
    if (source !== undefined && rig.pieces.get(source)?.kind === 'gear') return -1;
    const by = rig.sources.get(source ?? '')?.by;
    return order.get(by ?? '') ?? order.size;
  };
  const takes = new Map(rig.inputs.map(({ place, takes: taken }) => [place, taken]));
  const lineOf = ({ place, written }: { readonly place: Place; readonly written: string }) =>
    context.linesOf(place).find(({ end }) => end && `${end.piece.name ?? ''}.${end.port.id}` === written);
  const rows = inputRows(context);
  const sorted = rows.toSorted((a, b) => rank(takes.get(a.place)?.id) - rank(takes.get(b.place)?.id));
  return stepTable({
    id: 'line-check',
    title: 'Line check: one plays, all others are silent',
    columns: [
      'Source',
      'Who plays',
      'Input',
      { title: 'Usual', unit: 'dBFS', number: true },
      { title: 'Loudest', unit: 'dBFS', number: true },
    ],
    rows: sorted.map((row): TableRow => {
      const line = lineOf(row);
      const meter = line ? metered(context, line, knobOf(row)) : undefined;
      return tableRow(row.key, [row.source, row.by || whoElse(context, takes.get(row.place)), row.port, meter?.usual, meter?.loudest], {
        name: `${row.source}: ${row.port}`,
        unfinished: row.unfinished,
        place: row.place,
        about: row.about,
        tells: [row.place, ...gainAt(row.place)],
      });
    }),
    empty: 'Nothing is plugged into our gear yet.',
    remark: rows.length > 0 ? METERS : undefined,
  });
}

function whoElse({ checked: { rig } }: Context, taken: Taken | undefined): string {
  const piece = rig.pieces.get(taken?.id ?? '');
  if (piece && isTheirs(piece)) return 'the house';
  return taken?.kind === 'gear' ? 'nobody: a link, first; it shows that it is locked' : 'nobody named';
}

const METERS =
  'Is it the right input, clean, and not on any other? The meter should read about this at the gain to start from: 0 dBFS clips. They play louder at the show than now.';

/** What an input's meter should read at a gain. Nothing inside a computer, and where there is no converter. */
function metered({ checked }: Context, line: Line, gainDb: number | undefined): { usual?: Cell; loudest?: Cell } | undefined {
  const arrival = checked.levels.of(line);
  const { mode, typicalDbu, peakDbu } = arrival ?? {};
  const maxDbu = mode?.maxDbu;
  if (maxDbu === undefined || !arrival || !hasConverter(line.end?.piece.model)) return undefined;
  if (isUnstated(arrival)) return { usual: NOT_STATED, loudest: NOT_STATED };
  const low = mode?.gainDb?.low ?? 0;
  const reading = (dbu: number | undefined) =>
    dbu === undefined || !Number.isFinite(dbu) ? undefined : whole(dbfsOf(dbu, maxDbu, low, gainDb ?? low));
  return { usual: reading(typicalDbu), loudest: reading(peakDbu) };
}

/** The house listens to its lines twice: what it hears with our rig off is what it has without us. */
export function houseCheckTable(context: Context, on: boolean): TableBlock[] {
  const rows = touchedHouseRows(context);
  if (rows.length === 0) return [];
  const dying = silentWithoutUs(context);
  const told = (some: typeof rows) => lineNumbers(some.map(({ number }) => number));
  const silent = rows.filter(({ place }) => dying.has(place));
  const alone = rows.filter(({ place }) => !dying.has(place));
  const powered = rows.filter(({ phantom }) => phantom === '48 V from the house');
  const harmed = rows.filter(({ phantom }) => phantom === HARMED_BY_48_V);
  const step = (key: string, some: typeof rows, what: string, why: string) =>
    some.length > 0 ? [tableRow(key, [`house ${told(some)}`, what, why], { about: some.map(({ place }) => place) })] : [];
  return [
    stepTable({
      id: on ? 'house-check' : 'house-off',
      title: on ? 'The house’s lines, with our rig on' : 'The house’s lines, with our rig plugged in and off',
      columns: ['Lines', 'The house', 'If not'],
      rows: on
        ? step(
            'on',
            rows,
            'opens one after the other: as loud and as clean as with our rig off, no hum, and what needs our rig is there',
            'our plug out of that line, and tell us',
          )
        : [
            ...step(
              'never',
              harmed,
              'sees that its 48 V is off there, and stays off: it can destroy the microphone',
              'no 48 V on any line until it is',
            ),
            ...step('their phantom', powered, 'switches its 48 V on, all still muted', ''),
            ...step(
              'off',
              alone,
              'opens one after the other: it comes as without us',
              'our plug out of that line: what is left is the house’s',
            ),
            ...step('silent', silent, 'leaves muted: silent until our rig is on', ''),
            ...step('muted', alone, 'mutes them again, and says so: what we switch on next thumps in the hall', 'nothing of ours goes on'),
          ],
      empty: '',
    }),
  ];
}

/** One mix after the other, from silence; its loudest send first, which as a rule is the listener's own. */
export function mixTable(context: Context): TableBlock {
  const { rig } = context.checked;
  const all = outputRows(context);
  const rows = all.filter(({ unfinished }) => !unfinished);
  const carried = new Map(rig.outputs.map(({ place, carries }) => [place, rig.mixes.get(carries ?? '')]));
  // The house's own are for its engineer, last.
  const mixes = unique(rows.flatMap(({ place }) => carried.get(place) ?? [])).sort((a, b) => Number(a.house) - Number(b.house));
  return stepTable({
    id: 'mixes',
    title: 'Mixes, one by one, from silence',
    columns: ['Mix', 'For', 'Way', 'Bring up in this order'],
    rows: [
      ...mixes.map((mix) => {
        const of = rows.filter(({ place }) => carried.get(place) === mix);
        const ways = of.map(({ way }) => way).filter(Boolean);
        return tableRow(mix.id, [mix.label, of[0]?.listeners, ways.join('; '), sends(context, mix)], {
          name: mix.label,
          place: mix.place,
          tells: [mix.place, ...of.map(({ place }) => place)],
          about: unique(of.flatMap(({ about }) => about)),
        });
      }),
      ...all
        .filter(({ unfinished }) => unfinished)
        .map(({ key, place, about, mix, listeners, port }) =>
          tableRow(`open ${key}`, [mix, listeners, port, 'not settled yet'], {
            name: mix,
            place,
            about,
            tells: [place],
            unfinished: true,
          }),
        ),
    ],
    empty: 'No mix leaves our gear yet.',
    remark: [
      'The others keep their ears out until it is their turn. Pack or amplifier low, one send at a time; listen to the loudest moment before the next.',
      ...(mixes.some((mix) => mix.sends.some(isRaised)) ? [RAISED_RULE] : []),
    ].join(' '),
  });
}

/** The loudest first; what comes only by lines that must not be plugged as the rig is is not brought up, and said so. */
function sends({ checked }: Context, { sends: all }: Mix): string {
  const { inputs } = checked.rig;
  const harmful = forbidden(checked);
  const isHeld = (source: string) => {
    const own = inputs.filter(({ takes }) => takes?.id === source);
    return own.length > 0 && own.every(({ place }) => harmful.has(place));
  };
  const held = all.filter(({ source }) => isHeld(source));
  const sorted = all.filter((send) => !held.includes(send)).toSorted((a, b) => b.levelDb - a.levelDb);
  const order = sendsWords(checked, sorted);
  if (held.length === 0) return order;
  const left = alike(unique(held.map(({ source }) => source)).map((source) => signalLabel(checked.rig, source)));
  return [order, `not yet ${list(left)}: not plugged, see above`].filter(Boolean).join('; ');
}

function sendsWords(checked: Checked, sorted: Mix['sends']): string {
  return sorted
    .map(
      ({ source, channel, levelDb }) =>
        `${[checked.rig.sources.get(source)?.label ?? source, channel].filter(Boolean).join(' ')} ${raisedWords({ levelDb })}`,
    )
    .join(', ');
}

export function radioTable(context: Context): TableBlock {
  const on = [...context.checked.rig.pieces.values()].filter(isOnAir);
  return stepTable({
    id: 'radio',
    title: 'Radio, by walking',
    columns: ['What', 'Frequency', 'Who walks'],
    rows: on.map((piece) => {
      const packs = context.receiversOf(piece.id);
      const walkers = packs.length > 0 ? list(packs.map(({ label }) => label)) : playerOf(context, piece);
      const frequency = frequencyOf(piece);
      return tableRow(piece.id, [piece.label, frequency ?? 'not stated', walkers], {
        place: piece.place,
        about: packs.map(({ place }) => place),
        tells: [frequencyAt(piece)],
        unfinished: frequency === undefined,
      });
    }),
    empty: 'Nothing here goes by radio.',
    remark: on.length > 0 ? radioRule(context.checked.rig) : undefined,
  });
}

function radioRule(rig: Rig): string {
  const others = withoutHouse(rig) ? 'of all others' : 'of the house and of other bands';
  return `With all radio ${others} switched on: walk all of the stage, and where you go in the show, listening for gaps and hiss. A frequency here is no permission: that is for the local regulator.`;
}

function playerOf({ checked }: Context, piece: Piece): string {
  if (isTheirs(piece)) return 'the house’s: only switched on';
  const by = checked.rig.sources.get(piece.id)?.by ?? piece.for[0];
  return checked.rig.performers.get(by ?? '')?.label ?? 'nobody named';
}

/** Before any ears go in: what each listener hears is made loud here last. */
export function limiterTable(context: Context): TableBlock {
  return stepTable({
    id: 'limiters',
    title: 'Limiters and knobs, before any ears go in',
    columns: ['For', 'At', 'Earphones'],
    rows: earphonesOf(context).map(({ performer, model, sockets }) =>
      tableRow(
        performer.id,
        [
          performer.label,
          sockets.length > 0 ? list(sockets.map((at) => knobText(context, at))) : 'not known yet',
          model?.label ?? 'not stated',
        ],
        {
          place: performer.place,
          about: sockets.map(({ piece }) => piece.place.split('/', 1)[0] ?? ''),
          tells: sockets.map(({ piece }) => hearingAt(piece)),
          unfinished: sockets.length === 0,
        },
      ),
    ),
    empty: 'Nobody has a mix yet.',
    remark:
      'Limiter on and set low where there is one (the rig does not say), knob all the way down. A limiter helps and promises nothing: the level does.',
  });
}

/** What drives the earphones has the limiter and, as a rule, the knob; what only passes the signal on stands behind it. */
function knobText({ checked }: Context, at: Socket): string {
  const driver = driverOf(checked.network, at);
  return driver && driver.piece !== at.piece ? `${socketName(driver)}, through ${socketName(at)}` : socketName(at);
}
