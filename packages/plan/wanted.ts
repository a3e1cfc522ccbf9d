/** What is to be planned: what the rig has not written, and after a loss what has to be thought over. */
import { type Checked, statementOf } from '#engine';
import type { HouseRun, InputRun, Mix, OutputRun, Performer, Piece, PortRef, Rig, Source } from '#rig';

export interface WantedSource {
  readonly source: Source;
  readonly piece: Piece;
  /** Its lines to the house that say no way. */
  readonly open: readonly HouseRun[];
  /** Its line of ours is written; only the house's way is wanted. */
  readonly houseOnly: boolean;
  /** How it was written before it was thought over. */
  readonly was: readonly InputRun[];
}

export interface WantedMix {
  readonly mix: Mix;
  readonly listeners: readonly Performer[];
  readonly was: readonly OutputRun[];
  /** What the pack of each listener heard, by the performer's id. */
  readonly wore: ReadonlyMap<string, PortRef>;
  /** The house's lines that take it. */
  readonly house: readonly HouseRun[];
}

export interface Wanted {
  /** The rig with what stands. */
  readonly rig: Rig;
  readonly sources: readonly WantedSource[];
  readonly mixes: readonly WantedMix[];
  /** Pieces that are lost: nothing goes through them. */
  readonly lost: ReadonlySet<string>;
  /** Pieces without a name that were in what is thought over: they are there still. */
  readonly loose: readonly Piece[];
}

export interface Asked {
  /** What is written is thought over as well. */
  readonly afresh?: boolean;
  /** Names of gear that is not there. */
  readonly without?: readonly string[];
}

/** `checked` is the rig as it is written. */
export function wantedOf({ rig, findings }: Checked, { afresh = false, without = [] }: Asked): Wanted {
  const lost = new Set(without.map((name) => `gear:${name}`));
  const anew = afresh || lost.size > 0;
  const heard = new Set([...rig.mixes.values()].flatMap(({ sends }) => sends.map(({ source }) => source)));
  const standing = anew ? cleared(rig, lost) : rig;
  const wrong = new Set(
    findings.filter(({ severity }) => severity === 'danger' || severity === 'error').map(({ place }) => statementOf(place)),
  );
  const inputs = new Set(standing.inputs.flatMap(({ takes }) => (takes?.kind === 'source' ? [takes.id] : [])));
  const sources = [...rig.sources.values()].flatMap((source): WantedSource[] => {
    const piece = rig.pieces.get(source.id);
    if (!piece || piece.model.ports.length === 0) return [];
    const open = standing.house.filter(({ takes, via }) => takes?.id === source.id && via.length === 0);
    const was = rig.inputs.filter(({ takes }) => takes?.id === source.id);
    if (inputs.has(source.id)) {
      const lacking = open.filter(({ id }) => wrong.has(id));
      return lacking.length > 0 ? [{ source, piece, open: lacking, houseOnly: true, was: [] }] : [];
    }
    return heard.has(source.id) || rig.mixes.size === 0 ? [{ source, piece, open, houseOnly: false, was: anew ? was : [] }] : [];
  });
  const carried = new Set(standing.outputs.flatMap(({ carries }) => carries ?? []));
  const mixes = [...rig.mixes.values()].flatMap((mix): WantedMix[] => {
    if (carried.has(mix.id) || (mix.for.length === 0 && !mix.house)) return [];
    return [
      {
        mix,
        listeners: mix.for.flatMap((id) => rig.performers.get(id) ?? []),
        was: anew ? rig.outputs.filter(({ carries }) => carries === mix.id) : [],
        wore: new Map(
          anew ? [...rig.pieces.values()].flatMap(({ hears, for: people }) => (hears ? people.map((id) => [id, hears] as const) : [])) : [],
        ),
        house: standing.house.filter(({ takes }) => takes?.id === mix.id),
      },
    ];
  });
  const loose = anew ? [...rig.pieces.values()].filter(({ id, kind }) => kind === 'fresh' && !standing.pieces.has(id)) : [];
  return { rig: standing, sources, mixes, lost, loose };
}

/** The rig without its own patching, and without what is lost. The house's lines stay as they are written, but for what is lost on them. */
function cleared(rig: Rig, lost: ReadonlySet<string>): Rig {
  const pieces = new Map(
    [...rig.pieces].flatMap(([id, piece]): [string, Piece][] => {
      if (piece.kind === 'fresh' && !id.startsWith('house:')) return [];
      return [[id, piece.kind === 'gear' && piece.hears ? { ...piece, hears: undefined } : piece]];
    }),
  );
  const house = rig.house.map((run) =>
    run.takes?.kind === 'source' && run.via.some(({ piece }) => lost.has(piece)) ? { ...run, via: [] } : run,
  );
  return { ...rig, pieces, inputs: [], house, outputs: [] };
}
