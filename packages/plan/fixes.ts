/** A plan as changes to the rig, as intents: editor, command line and sheet apply and tell the same. */
import type { Fix } from '#engine';
import type { HouseRun, InputRun, OutputRun, PortRef, Rig } from '#rig';
import { modelsOf } from './lines';
import type { Plan } from './plan';

/** A change with what it belongs to: the source, mix or piece that it is for. */
export interface Change {
  readonly fix: Fix;
  /** The id of the source, mix or piece. */
  readonly about: string;
  /** Names of gear that has to be there for it, and that the plan brings. */
  readonly needs: readonly string[];
}

/** In the order in which they are to be read: gear, then lines, then the house, then mixes. */
export function changesOf({ before, wanted, assembled }: Pick<Plan, 'before' | 'wanted' | 'assembled'>): Change[] {
  const { rig } = assembled;
  const fresh = new Set(assembled.gear.flatMap(({ piece }) => piece.name ?? []));
  const packs = new Set(assembled.packs.filter(({ isNew }) => isNew).map(({ piece }) => piece.id));
  const changes: Change[] = [];
  const add = (about: string, fix: Fix, ...vias: readonly (string | undefined)[]) => {
    const names = vias.flatMap((via) => via?.split(', ') ?? []).map((each) => each.split('.')[0] ?? '');
    changes.push({ fix, about, needs: names.filter((name) => fresh.has(name)) });
  };
  // What was written and is not any more.
  const kept = new Set<string>();
  const olds = (runs: readonly (InputRun | OutputRun)[], planned: readonly (InputRun | OutputRun)[]) => {
    for (const was of runs) {
      const same = planned.find((run) => !kept.has(run.id) && isSame(before.rig, was, rig, run));
      if (same) kept.add(same.id);
      else add(was.kind === 'input' ? (was.takes?.id ?? was.id) : (was.carries ?? was.id), { kind: 'remove', statement: was.id });
    }
  };
  if (wanted.rig !== before.rig) {
    const standing = new Set<string>([...wanted.rig.inputs, ...wanted.rig.outputs].map(({ id }) => id));
    olds(
      before.rig.inputs.filter(({ id }) => !standing.has(id)),
      [...assembled.links.map(({ run }) => run), ...assembled.inputs.flatMap(({ runs }) => runs)],
    );
    olds(
      before.rig.outputs.filter(({ id }) => !standing.has(id)),
      assembled.outputs.map(({ run }) => run),
    );
  }
  for (const { piece } of assembled.gear) {
    if (packs.has(piece.id)) continue;
    const { name = '', model, label, holding, onHz } = piece;
    add(piece.id, { kind: 'add-gear', name, model: model.id, label, holding, onHz });
  }
  for (const { choice, piece, isNew } of assembled.packs) {
    const performer = choice.performer.name;
    const { id: mix } = choice.wanted.mix;
    const hears = refText(rig, piece.hears);
    const was = before.rig.pieces.get(piece.id);
    if (isNew) {
      const { name = '', label, model, holding } = piece;
      add(mix, { kind: 'add-gear', name, model: model.id, label, holding, for: performer, hears }, hears);
    } else if (!was?.hears || refText(before.rig, was.hears) !== hears)
      add(mix, { kind: 'set-pack', piece: piece.id, performer, hears }, hears);
  }
  for (const { choice } of assembled.inputs) {
    if (choice.way.model === 0) continue;
    const models = modelsOf(choice.wanted);
    const chosen = models[choice.way.model];
    const ids = [chosen, ...models.filter((model) => model !== chosen)].flatMap((model) => model?.id ?? []);
    add(choice.wanted.source.id, { kind: 'set-way', source: choice.wanted.source.id, models: ids });
  }
  // After the ways, so that a source has its model before its frequency.
  for (const [id, { onHz }] of rig.pieces) {
    const was = before.rig.pieces.get(id);
    if (was && was.onHz === undefined && onHz !== undefined) add(id, { kind: 'set-frequency', piece: id, hz: onHz });
  }
  const input = (about: string, run: InputRun) => {
    if (kept.has(run.id)) return;
    const via = viaText(rig, run.via);
    const port = portText(rig, run.to.piece, run.to.ports);
    add(
      about,
      { kind: 'add-input', source: takenText(rig, run), port, via, phantom: run.phantom === 'off' ? 'off' : undefined },
      via,
      port,
    );
  };
  for (const { run } of assembled.links) input(run.takes?.id ?? '', run);
  const lines = assembled.inputs.flatMap(({ choice, runs }) => runs.map((run) => ({ about: choice.wanted.source.id, run })));
  for (const { about, run } of [...lines].sort((a, b) => rank(rig, a.run) - rank(rig, b.run))) input(about, run);
  const house = new Map<string, HouseRun>(assembled.inputs.flatMap(({ house: runs }) => runs.map((run) => [run.id, run])));
  for (const was of before.rig.house) {
    const now = house.get(was.id) ?? wanted.rig.house.find(({ id }) => id === was.id);
    const [old, via] = [viaText(before.rig, was.via), now && viaText(rig, now.via)];
    if (old !== via) add(was.takes?.id ?? was.id, { kind: 'set-via', run: was.id, via }, via);
  }
  for (const run of assembled.told) {
    const mix = rig.mixes.get(run.takes?.id ?? '');
    if (mix) add(mix.id, { kind: 'add-house', takes: mix.name, number: Number(run.number) });
  }
  for (const mix of assembled.narrowed) add(mix.id, { kind: 'set-width', mix: mix.id, width: 'mono' });
  for (const { run, mix } of [...assembled.outputs].sort((a, b) => rank(rig, a.run) - rank(rig, b.run))) {
    if (kept.has(run.id)) continue;
    const via = viaText(rig, run.via);
    const port = portText(rig, run.from.piece, run.from.ports);
    add(mix.id, { kind: 'add-output', mix: mix.name, port, via }, via, port);
  }
  return changes;
}

/** Lines in the order of the gear and its sockets. */
export function rank({ pieces }: Rig, run: InputRun | OutputRun): number {
  const { piece, ports } = run.kind === 'input' ? run.to : run.from;
  const all = pieces.get(piece)?.model.ports ?? [];
  return [...pieces.keys()].indexOf(piece) * 10_000 + all.findIndex(({ id }) => id === ports[0]);
}

/** As it is written: `iface.3..4`. */
export function portText({ pieces }: Rig, piece: string, ports: readonly string[]): string {
  const [first, last] = [ports[0], ports.at(-1)];
  return `${pieces.get(piece)?.name ?? ''}.${first}${ports.length > 1 ? `..${last}` : ''}`;
}

function takenText({ sources, pieces }: Rig, { takes }: InputRun): string {
  const name = sources.get(takes?.id ?? '')?.name ?? pieces.get(takes?.id ?? '')?.name ?? '';
  return takes?.port === undefined ? name : `${name}.${takes.port}`;
}

/** `tx.left`; a piece without a name by its model. */
function refText({ pieces }: Rig, ref: PortRef | undefined): string {
  const piece = pieces.get(ref?.piece ?? '');
  const name = piece?.name ?? piece?.model.id ?? '';
  return ref?.port === undefined ? name : `${name}.${ref.port}`;
}

export function viaText(rig: Rig, via: readonly PortRef[]): string | undefined {
  return via.length === 0 ? undefined : via.map((step) => refText(rig, step)).join(', ');
}

/** Where a line named no leg, it finds the same one as before. */
function isSame(oldRig: Rig, was: InputRun | OutputRun, rig: Rig, run: InputRun | OutputRun): boolean {
  const named = run.via.map((step, index) => (was.via[index]?.port === undefined ? { ...step, port: undefined } : step));
  if (viaText(oldRig, was.via) !== viaText(rig, named)) return false;
  if (was.kind === 'input' && run.kind === 'input') {
    const ports = portText(oldRig, was.to.piece, was.to.ports) === portText(rig, run.to.piece, run.to.ports);
    return ports && takenText(oldRig, was) === takenText(rig, run) && (was.phantom ?? 'on') === (run.phantom ?? 'on');
  }
  if (was.kind === 'output' && run.kind === 'output') {
    return (
      was.carries === run.carries && portText(oldRig, was.from.piece, was.from.ports) === portText(rig, run.from.piece, run.from.ports)
    );
  }
  return false;
}
