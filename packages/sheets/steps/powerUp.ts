/** Phantom power, and gains to start from: when all is plugged, with ears out. */
import { isHarmed, list, portList, socketName } from '#engine';
import type { Piece, Place } from '#rig';
import type { Context } from '../context';
import { unique } from '../draft';
import { inputRows } from '../inputs';
import type { TableBlock, TableRow } from '../sheet';
import { tableRow } from '../tableRow';
import { stepTable } from './table';

export function phantomTable(context: Context): TableBlock {
  const { checked } = context;
  return stepTable({
    id: 'phantom',
    title: 'Phantom power (48 V), when all is plugged',
    columns: ['Where', 'What to do', 'For'],
    rows: [...never(context), ...phantomSwitches(context).map(switchRow), ...missing(context)],
    empty: checked.rig.inputs.length > 0 ? 'Nothing needs phantom power: leave all of it off.' : 'Nothing is plugged in yet.',
    remark: 'Ears out, mixes down: it thumps. Wait a few seconds after switching before anything is turned up.',
  });
}

/** What it can destroy, first. */
function never({ checked }: Context): TableRow[] {
  const { rig, network } = checked;
  return [...rig.sources.values()].flatMap((source) => {
    const piece = rig.pieces.get(source.id);
    if (!piece || !isHarmed(piece)) return [];
    const ends = unique(network.linesOf(source.id).flatMap((line) => (line.end ? [socketName(line.end)] : [])));
    const where = ends.length > 0 ? list(ends) : 'not plugged in';
    return [tableRow(`never ${source.id}`, [where, 'see that it is off, and stays off', source.label], { place: source.place })];
  });
}

export interface PhantomSwitch {
  readonly key: string;
  /** `Interface 1..4`, `house 7`. */
  readonly where: string;
  readonly theirs: boolean;
  /** One for all of several inputs. */
  readonly shared: boolean;
  readonly needs: readonly string[];
  readonly place: Place;
  readonly about: readonly Place[];
}

/** What has to be on: ours, switch by switch, then what the house powers. */
export function phantomSwitches({ checked }: Context): PhantomSwitch[] {
  const groups = new Map<string, { piece: Piece; ports: string[]; shared: boolean; needs: string[] }>();
  for (const { socket, because } of checked.supplies.live.values()) {
    const { piece, port } = socket;
    if (piece.kind === 'house') continue;
    const shared = port.modes.some((mode) => mode.phantom === 'shared');
    const key = shared ? `${piece.id} bank ${port.bank}` : socket.key;
    const group = groups.get(key) ?? { piece, ports: [], shared, needs: [] };
    group.ports.push(port.id);
    if (because) group.needs.push(because.label);
    groups.set(key, group);
  }
  const ours = [...groups].map(([key, { piece, ports, shared, needs }]): PhantomSwitch => {
    const order = piece.model.ports.map(({ id }) => id);
    const sorted = unique(ports).sort((a, b) => order.indexOf(a) - order.indexOf(b));
    const where = `${piece.label} ${portList(sorted)}`;
    return { key, where, theirs: false, shared: shared && sorted.length > 1, needs: unique(needs), place: piece.place, about: [] };
  });
  const theirs = checked.supplies.needy.flatMap(({ piece, supplier }): PhantomSwitch[] => {
    const run = supplier?.line.run;
    if (run?.kind !== 'house') return [];
    const about = piece.kind === 'fresh' ? [] : [piece.place];
    return [
      {
        key: `${run.id} ${piece.id}`,
        where: `house ${run.number}`,
        theirs: true,
        shared: false,
        needs: [piece.label],
        place: run.place,
        about,
      },
    ];
  });
  const rank = new Map(checked.rig.house.map(({ place }, index) => [place, index]));
  return [...ours, ...theirs.sort((a, b) => (rank.get(a.place) ?? 0) - (rank.get(b.place) ?? 0))];
}

function switchRow({ key, where, theirs, shared, needs, place, about }: PhantomSwitch): TableRow {
  const what = theirs ? 'ask the house to switch it on' : shared ? 'on: one switch for all of these' : 'on';
  return tableRow(key, [where, what, needs.length > 0 ? list(needs) : 'the rig says so'], { place, about });
}

function missing({ checked }: Context): TableRow[] {
  return checked.supplies.needy.flatMap(({ piece, suppliers }) =>
    suppliers.length > 0
      ? []
      : [
          tableRow(`missing ${piece.id}`, ['nowhere yet', 'it is needed and comes from nobody', piece.label], {
            place: piece.place.split('/', 1)[0],
            unfinished: true,
          }),
        ],
  );
}

export function gainTable(context: Context): TableBlock {
  const { rig } = context.checked;
  const padded = new Set(rig.inputs.filter(({ pad }) => pad).map(({ place }) => place));
  const rows = inputRows(context).filter(({ gainDb }) => gainDb !== undefined);
  return stepTable({
    id: 'gains',
    title: 'Gains to start from',
    columns: ['Port', 'Source', { title: 'Gain', unit: 'dB', number: true }, 'Pad'],
    rows: rows.map(({ key, place, about, port, source, gainDb }) =>
      tableRow(key, [port, source, gainDb, padded.has(place) ? 'in' : ''], { name: `${port}: ${source}`, place, about }),
    ),
    empty: 'No gain follows from the rig yet.',
  });
}
