/** One page for a house engineer who has never heard of us: what we do to each line, what we bring, what we ask. */
import { type Checked, capital, type Finding, isOnAir, list, spoken } from '#engine';
import { PHANTOM } from '../shared/cautions';
import { type Context, contextOf } from '../shared/context';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import type { Caution } from '../shared/model';
import { CAUTIONS } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';
import { counted, lineNumbers } from './counted';
import { countLine, type HandedLine, handedLines, linesTable } from './lines';
import { houseFeeds, mixedOn, needRows, placeWords } from './needs';

/**
 * Shows no findings: they are the band's to mend before the page is handed over. Pure, and never throws; what is not settled yet is
 * said so.
 */
export function houseSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const lines = handedLines(context);
  const something = !withoutHouse(rig) && rig.house.length + rig.inputs.length + rig.outputs.length > 0;
  const blocks: Block[] = something
    ? [
        aboutUs(context, lines),
        linesTable(context, lines),
        {
          kind: 'table',
          id: 'needs',
          title: 'What we bring and need',
          remark: hasPlaces(checked)
            ? 'Places count from the middle of the stage’s front edge; stage left is the performers’ left.'
            : undefined,
          columns: [{ title: 'What', names: true }, { title: 'Which, and where' }],
          rows: needRows(context, lines),
          empty: '',
        },
        { kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: cautionsFor(checked) },
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

function aboutUs(context: Context, lines: readonly HandedLine[]): TableBlock {
  const rows = [
    ['us', 'We', who(context.checked)],
    ['lines', 'Lines', lines.length === 0 ? 'None is written here yet.' : `${capital(countLine(lines))}.`],
    ['ask', 'We ask', asked(context, lines)],
  ] as const;
  return {
    kind: 'table',
    id: 'about',
    title: 'In three lines',
    columns: [{ title: 'Who', names: true }, { title: 'In short' }],
    rows: rows.map(([key, subject, text]) => ({ key, name: subject, about: [], findings: [], cells: [subject, text] })),
    empty: '',
  };
}

function who(checked: Checked): string {
  const { rig } = checked;
  const all = rig.performers.size;
  const served = new Set([...rig.mixes.values()].flatMap((mix) => mix.for)).size;
  const made = mixedOn(checked);
  const rigWords = `We bring a monitor rig of our own and mix our own ears${made === '' ? '' : `, on ${made}`}.`;
  if (served === 0) return rigWords;
  if (served < all)
    return `${rigWords} It serves ${spoken(served)} of the ${spoken(all)} of us; ask us about the other${all - served > 1 ? 's' : ''}.`;
  return `${rigWords} It serves all of us${all > 1 ? `, ${spoken(all)} people` : ''}: no monitor mix of the house’s is needed.`;
}

function asked(context: Context, lines: readonly HandedLine[]): string {
  const { rig } = context.checked;
  const feeds = houseFeeds(context).map(({ piece }) => piece.label);
  const replugged = lines.filter(({ touched }) => touched?.replugged).map(({ run }) => run.number);
  const free = lines.filter(({ touched }) => touched?.how === 'brought').map(({ run }) => run.number);
  const parts = [
    replugged.length > 0
      ? `plug ${lineNumbers(replugged)} into our gear as below`
      : rig.house.length > 0
        ? 'leave all plugs of the house where they are'
        : '',
    free.length > 0 ? `keep ${lineNumbers(free)} for us` : '',
    feeds.length > 0 ? `send us ${list(feeds)}` : '',
    'give our rig power from one distribution',
    'tell us before 48 V goes on or off',
  ].filter(Boolean);
  return `${capital(parts.slice(0, -1).join('; '))}; and ${parts.at(-1)}.`;
}

function cautionsFor({ rig, network, supplies }: Checked): Caution[] {
  const found: Caution[] = [];
  const phantom = network.lines.some((line) => line.run.kind !== 'output' && (supplies.of(line) === 'on' || supplies.needed(line)));
  if (phantom) found.push(PHANTOM);
  const hidden = [...rig.sources.values()].filter((source) => source.private).map(({ label }) => label);
  if (hidden.length > 0)
    found.push({
      subject: 'Never for the audience',
      text: `${counted(hidden)}: for our ears only. Should you hear it in the hall, mute our lines and tell us.`,
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
      { title: 'Stage box', value: at && placeWords(at) },
    ],
  };
}
