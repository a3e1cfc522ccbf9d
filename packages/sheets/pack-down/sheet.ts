/** Packing down: safe first, then what is the house's back as it was, then everything counted into its case. */
import { type Checked, type Finding, type HouseLine, list, plugName, wholePath, withOpenEars } from '#engine';
import { lineNumbers } from '../house/counted';
import { type TheirLeads, theirLeads } from '../house/leads';
import { handedLines, intoTheirSocket } from '../house/lines';
import { houseFeeds } from '../house/needs';
import { type ListedLead, leadListOf } from '../leads/list';
import { packingTables } from '../leads/sheet';
import { areasOf } from '../set-up/areas';
import { muteRow } from '../set-up/mute';
import { keptOff, labels, placesOf, poweredGroups } from '../set-up/place';
import { type PhantomSwitch, phantomSwitches } from '../set-up/powerUp';
import { numberedOn, stepTable } from '../set-up/table';
import { batteryTable } from '../shared/batteries';
import { cautions } from '../shared/cautions';
import { type Context, contextOf } from '../shared/context';
import { facts, titleOf, withoutHouse } from '../shared/facts';
import { forbidden } from '../shared/grave';
import { byModel, type Item, itemsOf } from '../shared/holdings';
import { sharedHouseRows } from '../shared/house';
import { mainsTable } from '../shared/mains';
import { tableRow } from '../shared/tableRow';
import { CAUTIONS } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableBlock } from '../sheet';

/** Shows no findings. Pure, and never throws. */
export function packDownSheet(checked: Checked, _findings?: readonly Finding[]): Sheet {
  const { rig } = checked;
  const context = contextOf(checked);
  const leadList = leadListOf(checked);
  const items = itemsOf(context);
  const harmful = forbidden(checked);
  const plugged = handedLines(context).filter(({ run }) => !harmful.has(run.place));
  const fed = new Set(houseFeeds(context).map(({ piece }) => piece));
  const tables = numberedOn(
    [
      quietTable(context),
      houseTable(context, leadList),
      theirTable(
        // What the house sends us goes back with its line.
        items.filter(({ how, pieces }) => how === 'theirs' && !pieces.every((piece) => fed.has(piece))),
        theirLeads(plugged, leadList),
      ),
      batteryTable(
        context,
        items,
        'Batteries out',
        'Out of everything that is put away for longer: they leak. Flat ones to where the town collects them.',
        { lasts: false },
      ),
      ...packingTables(leadList, rig.settings).map((table) => ({
        ...table,
        title: table.title.replace(' to pack', ' to count into the case'),
      })),
      ...mainsTable(context, 'Mains leads to count into the case'),
      gearTable(
        'gear',
        'Gear to count into the case',
        byModel(
          context,
          items.filter(({ how }) => how === undefined || how === 'owned' || how === 'spare' || how === 'buy'),
        ),
      ),
      {
        ...gearTable(
          'back',
          'To give back',
          byModel(
            context,
            items.filter(({ how }) => how === 'borrowed' || how === 'hire'),
          ),
        ),
        remark: 'Apart from the rest, with its own leads and bags. Say what broke.',
      },
    ].filter(({ id, rows }) => rows.length > 0 || (id === 'house-lines' && !withoutHouse(rig))),
  );
  const care = cautions(
    context,
    leadList.map(({ row }) => row),
  ).filter(({ subject }) => subject !== 'Radio');
  const blocks: Block[] = care.length > 0 ? [...tables, { kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: care }] : tables;
  return {
    id: 'pack-down',
    name: SHEET_NAMES['pack-down'],
    title: titleOf(rig),
    facts: facts(rig.settings),
    blocks: items.length > 0 || rig.house.length > 0 ? blocks : [],
  };
}

const stillOff = (what: string) => `See that ${what} is still off: it must never go on`;

/** Off in the other order than on: what drives ears and loudspeakers before what feeds it, the mains last. */
function quietTable(context: Context): TableBlock {
  const { rig, network } = context.checked;
  const open = withOpenEars(network);
  const heard = new Set([...rig.mixes.values()].flatMap((mix) => mix.for));
  const listeners = [...rig.performers.values()].filter(({ id }) => heard.has(id) && !open.has(id));
  const never = keptOff(context.checked);
  const off = poweredGroups(areasOf(context))
    .map((each) => ({ ...each, pieces: each.pieces.filter((piece) => !never.has(piece)) }))
    .filter(({ pieces }) => pieces.length > 0)
    .toReversed();
  const amplifiers = off.filter(({ heard }) => heard);
  const group = ({ what, pieces }: (typeof off)[number]) => tableRow(what, [`${what} off`, labels(pieces)], placesOf(pieces));
  const phantom = phantomSwitches(context);
  const switched = [
    { key: 'phantom', what: 'Phantom power off', at: phantom.filter(({ theirs, harms }) => !theirs && harms.length === 0) },
    { key: 'never', what: stillOff('phantom power'), at: phantom.filter(({ harms }) => harms.length > 0) },
    { key: 'their phantom', what: 'Ask the house to switch its phantom power off', at: phantom.filter(({ theirs }) => theirs) },
  ].filter(({ at }) => at.length > 0);
  return stepTable({
    id: 'quiet',
    title: 'Before anything is unplugged',
    columns: ['What', 'Which'],
    rows: [
      ...muteRow(context, (lines) => [
        `Ask the house to mute ${lines.replace(/^house /, lines.includes(' to ') || lines.includes(' and ') ? 'lines ' : 'line ')}, and wait until it says so`,
        'whatever is pulled or switched off thumps in the hall',
      ]),
      ...(listeners.length > 0
        ? [
            tableRow('ears', ['Ears out, every knob, mix and output down', list(listeners.map(({ label }) => label))], {
              about: listeners.map(({ place }) => place),
            }),
          ]
        : []),
      ...amplifiers.map(group),
      ...switched.map(({ key, what, at }) => tableRow(key, [what, switchesWords(at)], { about: at.map(({ place }) => place) })),
      ...(switched.length > 0 ? [tableRow('wait', ['Wait a few seconds before the first plug is pulled', ''])] : []),
      ...off.filter((each) => !amplifiers.includes(each)).map(group),
      ...(never.size > 0 ? [tableRow('kept off', [stillOff('it'), labels([...never.keys()])], placesOf([...never.keys()]))] : []),
      ...(off.length > 0 ? [tableRow('mains', ['Mains plugs out, last', ''])] : []),
    ],
    empty: 'There is no gear yet.',
  });
}

/** `Interface 1..4`; `house 3 to 5 and 8`, in few words. */
function switchesWords(at: readonly PhantomSwitch[]): string {
  const lines = at.flatMap(({ line }) => line ?? []);
  return list([
    ...at.filter(({ line }) => line === undefined).map(({ where }) => where),
    ...(lines.length > 0 ? [`house ${lineNumbers(lines)}`] : []),
  ]);
}

/** Every line of theirs that was plugged into something of ours, and where its plug goes back to. */
function houseTable(context: Context, leads: readonly ListedLead[]): TableBlock {
  const { impact } = context.checked;
  const rows = sharedHouseRows(context);
  const harmful = forbidden(context.checked);
  const ways = new Map(impact.lines.map((each) => [each.run.place, wayBack(context, each, leads)]));
  return stepTable({
    id: 'house-lines',
    title: 'The house’s lines, back as they were',
    columns: ['Line', 'Label', 'Take it off', 'Put it back on'],
    rows: rows.map(({ key, place, about, number, label, gets, from }) => {
      // A line that is not settled: its plug is on the source itself where nothing stands between.
      const on = from === 'direct' ? gets.replace(/^[^:]*: /, '') : from;
      const { off = on, back = 'as noted when it was plugged' } = harmful.has(place) ? NOT_PLUGGED : (ways.get(place) ?? {});
      return tableRow(key, [number, label, off, back], { name: `house ${number}`, place, about, tells: [place] });
    }),
    empty: 'None of the house’s lines was plugged into anything of ours.',
    remark: 'With the house’s engineer. Where what a plug goes back to is ours and goes home, their lead stays at their stage box, coiled.',
  });
}

/** A line that set-up leaves out, because it would do harm as the rig is. */
const NOT_PLUGGED = { off: 'nothing: it was not to be plugged', back: 'nothing: leave it as it is' };

/** A re-plugged line goes back to what stands before the piece of ours; on one that we bring the lead is ours, too. */
function wayBack(
  { checked }: Context,
  { run, line, how, partings, replugged }: HouseLine,
  leads: readonly ListedLead[],
): { readonly off?: string; readonly back?: string } {
  const path = line ? wholePath(checked.network, line) : [];
  const parting = partings.find(({ forUs }) => forUs);
  const into = run.kind === 'house' ? intoTheirSocket(run, leads) : undefined;
  // On a plug of ours there is nothing of theirs on the split: it comes out of their socket, and theirs was never in.
  if (replugged && into && !into.theirs)
    return { off: `their socket: our plug (lead ${into.number})`, back: 'their socket: their own plug, as noted' };
  if (replugged && parting) {
    const before = path.find((joint) => joint.to.piece === parting.piece);
    return { off: plugName(parting.theirs), back: before && plugName(before.from) };
  }
  const last = path.at(-1);
  if (how === 'brought') return { off: last && plugName(last.to), back: 'nothing: the lead is ours, and goes home' };
  return { off: last && plugName(last.from), back: 'nothing: leave it free' };
}

/** Gear of the house's, and its leads on our lines: neither goes into our case. */
function theirTable(items: readonly Item[], leads: readonly TheirLeads[]): TableBlock {
  const table = gearTable('theirs', 'Back to the house', items);
  const rows = leads.map(({ count, kind, length, numbers, places }) =>
    tableRow(`${kind} ${length}`, [count, [kind, length].join(', '), `${numbers.length > 1 ? 'lines' : 'line'} ${lineNumbers(numbers)}`], {
      place: places[0],
      about: places,
    }),
  );
  return { ...table, rows: [...table.rows, ...rows] };
}

function gearTable(id: string, title: string, items: readonly Item[]): TableBlock {
  return {
    kind: 'table',
    id,
    title,
    columns: [{ title: 'Count', number: true }, { title: 'What', names: true }, { title: 'Which or for what' }],
    rows: items.map(({ key, pieces, model, which, places }) =>
      tableRow(key, [pieces.length, model.label, which.join(', ')], { place: places[0], about: places }),
    ),
    empty: 'Nothing.',
    ticks: 'boxes',
  };
}
