/** One page for a house engineer who has never heard of us: what we do to each line, what we bring, what we ask. */
import { type Checked, capital, count, type Finding, isOnAir, isTheirs, list, spoken } from '#engine';
import type { Piece } from '#rig';
import { type ListedLead, leadListOf } from '../leads/list';
import { PLACES_RULE, positionWords } from '../set-up/areas';
import { alike } from '../shared/alike';
import { bandAlone } from '../shared/bandAlone';
import { PHANTOM } from '../shared/cautions';
import { type Context, contextOf } from '../shared/context';
import { servedOf } from '../shared/earphones';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import { forbidden } from '../shared/grave';
import { silentWithoutUs, touchedHouseRows } from '../shared/house';
import type { Caution } from '../shared/model';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';
import { counted, lineNumbers } from './counted';
import { type TheirDesk, theirDesks, yoursWords } from './desk';
import { type HandedLine, handedLines, intoTheirSocket, linesTable, theirLeadOnOurs } from './lines';
import { houseFeeds, mixedOn, needRows } from './needs';

/**
 * Shows no findings: they are the band's to mend before the page is handed over. Pure, and never throws; what is not settled yet is
 * said so.
 */
export function houseSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const lines = handedLines(context);
  const leads = leadListOf(checked);
  const harmful = forbidden(checked);
  // What must not be plugged as the rig is, is asked for by nobody.
  const asked = lines.filter(({ run }) => !harmful.has(run.place));
  const something = !withoutHouse(rig) && rig.house.length + rig.inputs.length + rig.outputs.length > 0;
  const blocks: Block[] = something
    ? [
        asks(context, asked, leads),
        linesTable(context, lines, leads),
        {
          kind: 'table',
          id: 'needs',
          title: 'What we bring and need',
          remark: hasPlaces(checked) ? PLACES_RULE : undefined,
          columns: [{ title: 'What', names: true }, { title: 'Which, and where' }],
          rows: needRows(context, asked, leads),
          empty: '',
        },
        { kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: cautionsFor(checked, touchedHouseRows(context).length > 0) },
        contacts(checked),
      ]
    : rig.noHouse && withoutHouse(rig)
      ? [noHouse(rig.noHouse)]
      : [];
  return {
    id: 'house',
    name: SHEET_NAMES.house,
    title: titleOf(rig),
    facts: facts(rig.settings),
    dense: true,
    blocks,
  };
}

/** Whoever opens this page all the same is told why there is nothing on it. */
function noHouse(said: 'none' | 'ours'): TableBlock {
  const plays = said === 'none' ? 'without a house' : 'over its own loudspeakers';
  return {
    kind: 'table',
    id: 'no-house',
    title: 'Nobody to hand this to',
    columns: [{ title: 'What', names: true }],
    rows: [],
    empty: `This rig says "house ${said}": the band plays ${plays}, and there is no house engineer. Where there is one, write a "house" line for each channel instead.`,
  };
}

function hasPlaces({ rig }: Checked): boolean {
  return [...rig.pieces.values(), ...rig.performers.values()].some(({ at }) => at);
}

function who(context: Context): string {
  const all = context.checked.rig.performers.size;
  const { count: served, without } = servedOf(context);
  const made = mixedOn(context.checked);
  const theirs = made.filter(isTheirs);
  const rigWords = whoMixes(
    made.filter((piece) => !theirs.includes(piece)),
    theirs,
  );
  if (served === 0) return rigWords;
  if (served < all)
    return `${rigWords} It serves ${spoken(served)} of the ${spoken(all)} of us; ask us about ${counted(without.map(({ label }) => label))}.`;
  return `${rigWords} It serves all of us${all > 1 ? `, ${spoken(all)} people` : ''}${theirs.length > 0 ? '.' : ': no monitor mix of the house’s is needed.'}`;
}

/** On what of ours, and on what of theirs. */
function whoMixes(ours: readonly Piece[], theirs: readonly Piece[]): string {
  if (theirs.length > 0 && ours.length === 0) return `We bring no desk: our ears are mixed on ${yoursWords(theirs)}, as told below.`;
  const on = ours.length > 0 ? `, on ${listed(alike(ours.map(({ label }) => label)))}` : '';
  const more = theirs.length > 0 ? `, and some on ${yoursWords(theirs)}, as told below` : '';
  return `We bring a monitor rig of our own and mix our own ears${on}${more}.`;
}

const MOST_NAMED = 4;

/** `Interface and Expander`. */
function listed(made: readonly string[]): string {
  return list(made.length > MOST_NAMED ? [...made.slice(0, MOST_NAMED - 1), `${spoken(made.length - MOST_NAMED + 1)} more`] : made);
}

/** In the order in which it is done. */
function asks(context: Context, lines: readonly HandedLine[], leads: readonly ListedLead[]): TableBlock {
  const numbers = (some: readonly HandedLine[]) => lineNumbers(some.map(({ run }) => run.number));
  const places = new Set(touchedHouseRows(context).map(({ place }) => place));
  const touched = lines.filter(({ run }) => places.has(run.place));
  const replugged = lines.filter((line) => line.touched?.replugged);
  const kept = lines.filter((line) => line.touched?.how === 'brought');
  const powered = lines.filter(({ row }) => row.phantom === '48 V from the house');
  const missing = lines.filter(({ row }) => row.phantom === '48 V needed, from nobody yet');
  const theirGear = theirDesks(context);
  const desks = theirGear.filter(({ mixes }) => mixes > 0);
  const elsewhere = ['us', ...theirGear.map(({ piece }) => piece.label)].flatMap((from) => {
    const on = lines.filter(({ row }) => [`48 V from ${from}`, `off; 48 V from ${from} arrives here`].includes(row.phantom));
    return on.length > 0 ? [`from ${from} on ${numbers(on)}`] : [];
  });
  const silent = silentWithoutUs(context);
  const alone = touched.filter(({ run }) => !silent.has(run.place));
  const feeds = houseFeeds(context).map(({ piece }) => piece.label);
  // A split with tails ends in plugs of ours: nothing of the house's is put into it.
  const [ours, theirs] = [true, false].map((our) => replugged.filter(({ run }) => (intoTheirSocket(run, leads)?.theirs === false) === our));
  const direct = lines.filter((line) => line.touched?.replugged === false && theirLeadOnOurs(line.run, leads));
  const plug = [
    theirs?.length ? `plug ${numbers(theirs)} into our gear, as in the table` : '',
    ours?.length ? `take our plugs for ${numbers(ours)}` : '',
    direct.length > 0 ? `put your ${direct.length > 1 ? 'leads' : 'lead'} for ${numbers(direct)} on what we bring` : '',
    replugged.length + direct.length === 0 && lines.length > 0 ? 'leave all plugs of the house where they are' : '',
    kept.length > 0 ? `keep ${numbers(kept)} for us` : '',
    feeds.length > 0 ? `send us ${list(feeds)}` : '',
  ].filter(Boolean);
  const steps: [string, string][] = [
    ['Power', 'Give our rig power from one distribution, before it is switched on.'],
    ...(desks.length > 0 ? [['Desk', deskAsk(desks)] as [string, string]] : []),
    ...(touched.length > 0
      ? [
          [
            'Mute',
            `${numbers(touched)}, before each plug and each time 48 V goes on or off; we go on when you say that they are muted.`,
          ] as [string, string],
        ]
      : []),
    ...(plug.length > 0 ? [['Plug', `${capital(plug.join('; '))}.`] as [string, string]] : []),
    ...(touched.length > 0 ? [['48 V', phantomAsk(numbers(powered), list(elsewhere), numbers(missing))] as [string, string]] : []),
    ...(touched.length > 0 ? [['Open', openAsk(numbers(alone), numbers(touched))] as [string, string]] : []),
  ];
  return {
    kind: 'table',
    id: 'asks',
    title: 'What we ask, in this order',
    remark: who(context),
    columns: [{ title: 'What', names: true }, { title: 'Which, and when' }],
    rows: steps.map(([subject, text]) => tableRow(subject, [subject, text])),
    empty: '',
    ticks: 'numbers',
  };
}

/** Which of its sockets stands below. */
function deskAsk(desks: readonly TheirDesk[]): string {
  const asked = desks.map(
    ({ piece, sockets, outputs, mixes }) =>
      `${yoursWords([piece])}: ${[count(sockets, 'input'), count(mixes, 'mix', 'mixes'), count(outputs.length, 'output')].join(', ')}`,
  );
  return `We need ${asked.join('; ')}; which, see below.`;
}

function phantomAsk(theirs: string, elsewhere: string, missing: string): string {
  const on = theirs === '' ? 'Off on all lines of ours.' : `On for ${theirs}, off for all others of ours, when all is plugged.`;
  const open = missing === '' ? '' : ` Not settled for ${missing}: it is needed there and comes from nobody yet; we ask you first.`;
  return `${on}${elsewhere === '' ? '' : ` It comes ${elsewhere}.`}${open} Tell us before it goes on or off.`;
}

/** As the set-up has it: what plays without us with our rig off, all of them when it is on. */
function openAsk(alone: string, all: string): string {
  const off = alone === '' ? '' : `With our rig off: ${alone} one by one, then mute again. `;
  return `${off}When we say that it is on: ${all} one by one; no hum.`;
}

function cautionsFor(checked: Checked, shared: boolean): Caution[] {
  const { rig, network, supplies } = checked;
  const found: Caution[] = [];
  const phantom = network.lines.some((line) => line.run.kind !== 'output' && (supplies.of(line) === 'on' || supplies.needed(line)));
  if (phantom) found.push(PHANTOM);
  const hidden = [...bandAlone(checked).values()];
  if (hidden.length > 0)
    found.push({
      subject: 'Never for the audience',
      text: `${capital(counted(hidden))}: for our ears only. Should you hear it in the hall, ${shared ? 'mute our lines and tell us' : 'tell us at once'}.`,
    });
  found.push({
    subject: 'Ears',
    text: 'We wear earphones: warn us before anything loud or sudden is sent, plugged or unmuted on lines we share.',
  });
  found.push({
    subject: 'Mains',
    text: 'Never lift a mains earth to cure hum. A tingle means stop, touch nothing, and call a qualified electrician. The venue’s rules come first.',
  });
  if ([...rig.pieces.values()].some(isOnAir))
    found.push({
      subject: 'Radio',
      text: 'Frequencies here are no permission: the local regulator’s rules hold. Tell us yours before we switch on.',
    });
  return found;
}

function contacts({ rig }: Checked): Block {
  const at = rig.house.flatMap((run) => rig.pieces.get(run.piece)?.at ?? [])[0];
  const ours = rig.settings.contacts;
  return {
    kind: 'form',
    id: 'contacts',
    title: 'Contacts',
    fields: [
      ...(ours.length > 0
        ? ours.map((value, index) => ({ title: index === 0 ? 'Ask of us' : 'or', value }))
        : [{ title: 'Our engineer' }, { title: 'Our phone' }, { title: 'Our e-mail' }]),
      { title: 'House engineer' },
      { title: 'House phone' },
      { title: 'House e-mail' },
      { title: 'Stage box', value: at && positionWords(at, rig.settings) },
    ],
  };
}
