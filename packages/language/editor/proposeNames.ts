/** Names as completion proposes them: what is still missing from the rig first, and only what can stand there. */
import { AstUtils } from 'langium';
import {
  isRadio,
  isTheirs,
  type Lengths,
  lengthUnit,
  list,
  NEEDS_SPLIT,
  NO_MATE,
  outAfter,
  outOf,
  type Remark,
  remarkText,
  runName,
  suits,
  type Taking,
  weightOf,
  worstOf,
} from '#engine';
import type { Mix, Model, Performer, Piece, Port, Source, Taken } from '#rig';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { commentAbove } from './comments';
import { describeMix, describePerformer, describeSource } from './describe';
import { inputsOf, originText, outputsOf, portTable, unitText } from './figures';
import { paragraphs, plain } from './markdown';
import type { Ranked } from './proposals';
import type { Scene } from './scene';

// ---- models ----------------------------------------------------------------------------------------

export function modelProposals(scene: Scene, use: 'source' | 'gear' | 'ears' | 'parent' | 'house'): Ranked[] {
  const own = ownModelName(scene);
  return scene.modelNodes().flatMap((node): Ranked[] => {
    const model = scene.services.editor.Shelf.of(node);
    const ins = inputsOf(model);
    const outs = outputsOf(model);
    const bare = model.ports.length === 0;
    const sourceLike = ins.length === 0 && outs.length > 0;
    const library = isLibrary(AstUtils.getDocument(node).uri);
    let rank = library ? 100 + kinship(use, model) : kinship(use, model);
    if (use === 'source' && !sourceLike) return [];
    if (use === 'gear' && bare) return [];
    // Radio microphones and the like are gear too, where they are somebody else's.
    if (use === 'gear' && sourceLike) rank += 1000;
    if (use === 'ears' && !(outs.length === 0 && ins.some((port) => port.modes.some(({ kind }) => kind === 'phones')))) return [];
    // Its sockets take what is brought to them, and give nothing back.
    if (use === 'house' && (outs.length > 0 || !ins.some(({ modes }) => modes.some(({ kind }) => kind === 'mic' || kind === 'line'))))
      return [];
    if (use === 'house' && model.lineage.at(-1) !== 'desk') rank += 50;
    if (use === 'parent' && node.name === own) return [];
    return [{ rank, proposal: modelProposal(node, model, scene.rig.settings) }];
  });
}

/** What is usually wanted first, by the model that others are made from. */
const USUAL: Readonly<Record<'source' | 'gear', readonly string[]>> = {
  source: ['microphone', 'pickup', 'instrument', 'playback', 'receiver'],
  gear: ['interface', 'transmitter', 'pack', 'amplifier', 'di', 'splitter', 'expander', 'ears', 'pad', 'switch', 'instrument'],
};

function kinship(use: 'source' | 'gear' | 'ears' | 'parent' | 'house', model: Model): number {
  if (use !== 'source' && use !== 'gear') return 0;
  const at = USUAL[use].indexOf(model.lineage.at(-1) ?? '');
  return at < 0 ? USUAL[use].length : at;
}

function ownModelName(scene: Scene): string | undefined {
  return scene.context.statement === 'model' ? scene.context.before[1]?.image : undefined;
}

function modelProposal(node: ast.Model, model: Model, lengths: Lengths): Ranked['proposal'] {
  return { kind: 'model', label: node.name, detail: model.label, documentation: modelDocumentation(node, model, lengths) };
}

/** What the ports and figures of a model come to, worked out once. */
const tables = { m: new WeakMap<Model, string>(), ft: new WeakMap<Model, string>() };

function tablesOf(model: Model, lengths: Lengths): string {
  const made = tables[lengthUnit(lengths)];
  const known = made.get(model) ?? paragraphs(portTable(model, lengths), unitText(model), originText(model));
  made.set(model, known);
  return known;
}

function modelDocumentation(node: ast.Model, model: Model, lengths: Lengths): string {
  return paragraphs(plain(commentAbove(node)), tablesOf(model, lengths));
}

// ---- people ----------------------------------------------------------------------------------------

export function performerProposals(scene: Scene, listed: readonly string[]): Ranked[] {
  const forMix = scene.context.statement === 'mix';
  const forGear = scene.context.statement === 'gear';
  return [...scene.rig.performers.values()]
    .filter((performer) => !listed.includes(performer.name))
    .map((performer) => {
      const mixes = [...scene.rig.mixes.values()].filter(
        (mix) => mix.for.includes(performer.id) && mix.name !== scene.context.before[1]?.image,
      );
      const packs = [...scene.rig.pieces.values()].filter(
        (piece) => piece.for.includes(performer.id) && piece.name !== scene.context.before[1]?.image,
      );
      const served = (forMix && mixes.length > 0) || (forGear && packs.length > 0);
      return {
        rank: served ? 1 : 0,
        proposal: performerProposal(
          scene,
          performer,
          forMix ? mixes.map((mix) => mix.label) : forGear ? packs.map((piece) => piece.label) : [],
        ),
      };
    });
}

function performerProposal(scene: Scene, performer: Performer, has: readonly string[]): Ranked['proposal'] {
  return {
    kind: 'performer',
    label: performer.name,
    detail: [performer.label, has.length > 0 ? `has ${list(has)}` : ''].filter(Boolean).join(', '),
    documentation: describePerformer(scene.analysis, performer),
  };
}

/** Names for a new mix: performers who have none. */
export function mixNameProposals(scene: Scene): Ranked[] {
  const served = new Set([...scene.rig.mixes.values()].flatMap((mix) => mix.for));
  return [...scene.rig.performers.values()]
    .filter((performer) => !served.has(performer.id) && !scene.rig.mixes.has(`mix:${performer.name}`))
    .map((performer) => ({ rank: 0, proposal: { kind: 'performer', label: performer.name, detail: `${performer.label} has no mix yet` } }));
}

// ---- what is taken and carried ---------------------------------------------------------------------

/** For `input … takes`: sources that are plugged in nowhere, those that suit the port before the others. */
export function takenByInput(scene: Scene): Ranked[] {
  const end = scene.end();
  const through = scene.behind('via') !== undefined;
  let tried = 0;
  const sources = [...scene.rig.sources.values()].flatMap((source): Ranked[] => {
    const landings = scene.occupancy?.landings(source.id) ?? [];
    const piece = scene.rig.pieces.get(source.id);
    const mates = !end?.port || !piece || through || suits(outOf(piece.model, undefined), end.port) > 0;
    // What lands somewhere already comes last whatever else is to be said of it, and is not tried out.
    const line = mates && landings.length === 0 && tried++ < MOST_TRIED ? scene.line({ source: takenOf(source) }) : undefined;
    const remarks = mates ? ((line && scene.tried(line, scene.stepsBehind())) ?? []) : [NO_MATE];
    const split = remarks.find(({ needs }) => needs === NEEDS_SPLIT);
    const others = remarks.filter((remark) => remark !== split);
    const there = [...new Set(landings.map(({ label }) => label))];
    const state = [
      there.length > 0 ? `already on ${list(there)}` : split ? remarkText([split]) : others.length > 0 ? '' : 'not plugged in yet',
      remarkText(others),
    ];
    const rank = (there.length > 0 ? PATCHED_RANK : 0) + weightOf(others) + (split ? SPLIT_RANK : 0);
    const plainly = { rank, proposal: sourceProposal(scene, source, [source.label, ...state].filter(Boolean).join(', ')) };
    if (!line || !split || there.length > 0 || through) return [plainly];
    const best = splitFor(scene, line);
    if (!best) return [plainly];
    const written = `${source.name} via ${best.written}`;
    const detail = [source.label, best.label, remarkText(best.remarks)].filter(Boolean).join(', ');
    return [plainly, { rank: rank + 0.1, proposal: { ...plainly.proposal, label: written, detail } }];
  });
  return [...sources, ...linkProposals(scene, end?.piece)];
}

const PATCHED_RANK = 1000;
/** Of many that wait, the first are tried out: a list has to be there at once. */
const MOST_TRIED = 24;
const SPLIT_RANK = 2;
/** What splits a line that somebody else takes too, the simplest first. */
const SPLITS: readonly (readonly [model: string, port?: string])[] = [
  ['y-lead'],
  ['transformer-split', 'iso'],
  ['active-di'],
  ['passive-di'],
  ['active-split'],
];

/** The split that leaves least wrong with a line. */
function splitFor(scene: Scene, line: Taking): { written: string; label: string; remarks: readonly Remark[] } | undefined {
  const tried = SPLITS.flatMap(([name, port]) => {
    const model = scene.model(name);
    const remarks = model && scene.tried(line, [{ through: model, port }]);
    if (!remarks || remarks.some(({ needs }) => needs === NEEDS_SPLIT)) return [];
    return [{ written: port ? `${name}.${port}` : name, label: `by a fresh ${model.label}`, remarks }];
  });
  return tried.reduce<(typeof tried)[number] | undefined>(
    (best, each) => (best && weightOf(best.remarks) <= weightOf(each.remarks) ? best : each),
    undefined,
  );
}

function takenOf(source: Source): Taken {
  return { kind: 'source', id: source.id, place: source.place };
}

/** Other gear whose output an input may take: an expander's link, an amplifier fed by a DI. */
function linkProposals(scene: Scene, device: Piece | undefined): Ranked[] {
  return [...scene.rig.pieces.values()]
    .filter((piece) => piece.kind === 'gear' && piece !== device && !piece.holding?.spare)
    .filter(
      (piece) =>
        outputsOf(piece.model).some((port) => port.modes.some(({ kind }) => kind === 'digital' || kind === 'line')) && !piece.hears,
    )
    .map((piece) => ({ rank: 500, proposal: { kind: 'gear', label: piece.name ?? '', detail: `${piece.label}, what comes out of it` } }));
}

/** For `house … takes`: what the house is meant to get, and never what is for the band alone. */
export function takenByHouse(scene: Scene): Ranked[] {
  const { house } = scene.rig;
  const linesOf = (id: string) => house.filter((run) => run !== scene.run && run.takes?.id === id).map((run) => runName(scene.rig, run));
  const sources = [...scene.rig.sources.values()].flatMap((source): Ranked[] => {
    if (source.private) return [];
    const lines = linesOf(source.id);
    return [
      {
        rank: lines.length > 0 ? 10 : 1,
        proposal: sourceProposal(
          scene,
          source,
          [source.label, lines.length > 0 ? `already on ${list(lines)}` : ''].filter(Boolean).join(', '),
        ),
      },
    ];
  });
  const mixes = [...scene.rig.mixes.values()].flatMap((mix): Ranked[] => {
    if (!mix.house) return [];
    const lines = linesOf(mix.id);
    return [
      {
        rank: lines.length > 0 ? 11 : 0,
        proposal: mixProposal(scene, mix, lines.length > 0 ? `already on ${list(lines)}` : 'for the house, no line takes it yet'),
      },
    ];
  });
  return [...mixes, ...sources];
}

function sourceProposal(scene: Scene, source: Source, detail: string): Ranked['proposal'] {
  return { kind: 'source', label: source.name, detail, documentation: describeSource(scene.analysis, source) };
}

function mixProposal(scene: Scene, mix: Mix, detail: string): Ranked['proposal'] {
  const own = mix.label === mix.name ? '' : mix.label;
  return {
    kind: 'mix',
    label: mix.name,
    detail: [own, detail].filter(Boolean).join(', '),
    documentation: describeMix(scene.analysis, mix),
  };
}

export function carriedProposals(scene: Scene): Ranked[] {
  return [...scene.rig.mixes.values()].map((mix) => {
    const runs = scene.rig.outputs.filter((run) => run !== scene.run && run.carries === mix.id).map((run) => runName(scene.rig, run));
    const detail = `${mix.stereo ? 'stereo' : 'mono'}, ${runs.length > 0 ? `leaves by ${list(runs)}` : 'does not leave yet'}`;
    return { rank: runs.length > 0 ? 1 : 0, proposal: mixProposal(scene, mix, detail) };
  });
}

/** Sources for a mix, each with its level: those that are plugged in and not in it yet. */
export function sendProposals(scene: Scene, there: readonly string[], withLevel: boolean): Ranked[] {
  const words = scene.context.before.map((token) => token.image);
  const house = words.includes('house');
  return [...scene.rig.sources.values()].flatMap((source): Ranked[] => {
    if (there.includes(source.name) || (house && source.private)) return [];
    const patched = scene.occupancy?.isPatched(source.id) ?? true;
    const own = source.by !== undefined && words.includes(scene.rig.performers.get(source.by)?.name ?? '');
    const proposal = sourceProposal(scene, source, [source.label, patched ? '' : 'not plugged in'].filter(Boolean).join(', '));
    return [
      {
        rank: (patched ? 0 : 10) + (own ? 0 : 1),
        // One goes on behind the level: with a part of it chosen, the next blank would take its place.
        proposal: withLevel ? { ...proposal, insert: `${source.name} 0 dB`, filter: source.name } : proposal,
      },
    ];
  });
}

// ---- gear ------------------------------------------------------------------------------------------

/** For `input` and `output`: gear with ports of that direction, what mixes before what does not. */
export function endProposals(scene: Scene, direction: 'input' | 'output'): Ranked[] {
  return [...scene.rig.pieces.values()].flatMap((piece): Ranked[] => {
    const ports = direction === 'input' ? inputsOf(piece.model) : outputsOf(piece.model);
    const mixer = piece.model.mixes !== undefined;
    const theirs = isTheirs(piece);
    // Of the house's, its desk may make our mixes.
    if (piece.kind !== 'gear' || ports.length === 0 || (theirs && !mixer) || piece.hears) return [];
    // A DI or a split is gone through, not landed on.
    const expander = ports.length > 2;
    const free = ports.filter((port) => scene.isFree(piece, port)).length;
    const detail = `${piece.label}, ${free === 0 ? `no ${direction} free` : `${free} of ${ports.length} free`}`;
    return [
      {
        rank: (mixer && !theirs ? 0 : mixer || expander ? 2 : 5) + (free === 0 ? 1 : 0),
        proposal: {
          kind: 'gear',
          label: piece.name ?? '',
          insert: `${piece.name}.`,
          detail,
          documentation: tablesOf(piece.model, scene.rig.settings),
          goesOn: true,
        },
      },
    ];
  });
}

/** Transmitters, for a pack to hear. */
export function transmitterProposals(scene: Scene): Ranked[] {
  return [...scene.rig.pieces.values()].flatMap((piece): Ranked[] => {
    const sends = piece.kind === 'gear' && inputsOf(piece.model).length > 0 && outputsOf(piece.model).some(isRadio);
    if (!sends) return [];
    const several = inputsOf(piece.model).length > 1;
    return [
      {
        rank: 0,
        proposal: {
          kind: 'gear',
          label: piece.name ?? '',
          insert: several ? `${piece.name}.` : undefined,
          detail: piece.label,
          documentation: tablesOf(piece.model, scene.rig.settings),
          goesOn: several,
        },
      },
    ];
  });
}

/** For `via`: what cures what is wrong with the line, then what does it no harm, then the rest, saying what would be wrong. */
export function stepTargets(scene: Scene): Ranked[] {
  const judge = scene.context.statement === 'output' ? outputJudge(scene) : takingJudge(scene);
  const end = scene.end()?.piece;
  const pieces = [...scene.rig.pieces.values()].flatMap((piece): Ranked[] => {
    if (piece.kind !== 'gear' || piece === end || !passes(piece.model) || piece.hears) return [];
    const inputs = inputsOf(piece.model);
    const free = inputs.some((port) => scene.isFree(piece, port));
    const there = list([...new Set(inputs.flatMap((port) => scene.occupancy?.on(piece, port) ?? []))]);
    const documentation = tablesOf(piece.model, scene.rig.settings);
    return judge(piece, piece.model).map(({ rank, says, leg }) => ({
      rank: rank + (piece.holding?.spare ? 50 : 0),
      proposal: {
        kind: 'gear',
        label: `${piece.name}${leg === undefined ? '' : `.${leg}`}`,
        detail: [piece.label, says, free ? 'free' : `takes ${there}`].filter(Boolean).join(', '),
        documentation,
      },
    }));
  });
  const models = scene.modelNodes().flatMap((node): Ranked[] => {
    const model = scene.services.editor.Shelf.of(node);
    // Such gear stands somewhere and has a name; a fresh piece has none.
    if (!passes(model) || outputsOf(model).some(isRadio) || scene.rig.pieces.has(`gear:${node.name}`)) return [];
    return judge(model, model).map(({ rank, says }) => {
      const detail = [model.label, says].filter(Boolean).join(', ');
      return { rank: rank + FRESH_RANK, proposal: { ...modelProposal(node, model, scene.rig.settings), detail } };
    });
  });
  return [...pieces, ...models];
}

/** Of two that do as well, what the rig has already comes first. */
const FRESH_RANK = 0.2;

interface Verdict {
  readonly rank: number;
  readonly says: string;
  /** The output to leave by, where it is one of several. */
  readonly leg?: string;
}

type Judge = (through: Piece | Model, model: Model) => Verdict[];

const NOT_THROUGH: Verdict = { rank: 300, says: 'nothing gets through' };
const BUSY: Verdict = { rank: 250, says: '' };
/** What goes between a source and a desk; other gear is tried out only where it has a name. */
const USUAL_STEPS: Readonly<Record<'mic' | 'other', readonly string[]>> = {
  mic: ['splitter', 'di', 'pad', 'switch'],
  other: ['di', 'splitter', 'pad', 'switch'],
};

/** A step in a line of ours or of the house's. */
function takingJudge(scene: Scene): Judge {
  const arriving = scene.arrivingHere();
  const line = scene.line({});
  const before = scene.stepsBefore();
  const behind = scene.stepsBehind();
  const wrong = (line && scene.tried(line, [...before, ...behind])) ?? [];
  const end = scene.end();
  const usual = USUAL_STEPS[arriving.some(({ kinds }) => kinds.includes('mic')) ? 'mic' : 'other'];
  const house = scene.context.statement === 'house';
  const used = new Set([...before, ...behind].map(({ name }) => name));
  return (through, model) => {
    const out = outAfter(arriving, model, undefined);
    if ('kind' in through && used.has(through.name ?? '')) return [BUSY];
    if (arriving.length > 0 && out.length === 0) return [NOT_THROUGH];
    const at = usual.indexOf(model.lineage.at(-1) ?? '');
    const named = 'kind' in through;
    const theirs = (named ? through : model).holding?.how === 'theirs';
    // A rack of splits is not put into one line without a name; the house's own DI goes into the house's lines.
    const kin = (at < 0 ? usual.length : at) / 10 + (!named && inputsOf(model).length > 2 ? 0.3 : 0) + (theirs === house ? 0 : 0.15);
    if (!line || (at < 0 && !named)) {
      const misfit = end?.port && out.length > 0 ? (2 - suits(out, end.port)) * 4 : 0;
      return [{ rank: kin + misfit + (line ? 40 : 0), says: '' }];
    }
    const own = named && takesAlready(scene, through, line.takes?.id ?? '');
    if (named && !own && !inputsOf(model).some((port) => scene.isFree(through, port))) return [BUSY];
    const judged = (leg: string | undefined, later: number): Verdict[] => {
      const remarks = scene.tried(line, [...before, { through, port: leg }, ...behind]);
      if (!remarks) return [];
      const cured = worstOf(wrong.filter((each) => !remarks.some((other) => other.code === each.code)));
      // What it goes through already for somebody else is where it parts.
      const rank = own ? -1 + weightOf(remarks) / 100 : weightOf(remarks) + (cured ? 0 : 0.5);
      return [{ rank: rank + kin + later, says: [cured && `cures: ${cured.wrong}`, remarkText(remarks)].filter(Boolean).join('; '), leg }];
    };
    const legs = named ? legsFor(scene, through, line.takes?.id ?? '') : [];
    return [...legs.flatMap((leg) => judged(leg, 0)), ...judged(undefined, legs.length > 0 ? 0.05 : 0)];
  };
}

function takesAlready(scene: Scene, piece: Piece, signal: string): boolean {
  return inputsOf(piece.model).some((port) => scene.occupancy?.takes(piece, port, signal));
}

/** In gear with several ways through: the free outputs of the one that a signal takes already, or else of the first that is free. */
function legsFor(scene: Scene, piece: Piece, signal: string): string[] {
  const inputs = inputsOf(piece.model);
  if (inputs.length < 2 || outputsOf(piece.model).some(isEarsOut)) return [];
  const way = inputs.find((port) => scene.occupancy?.takes(piece, port, signal)) ?? inputs.find((port) => scene.isFree(piece, port));
  return outputsOf(piece.model).flatMap((port) => (way && port.tie?.inputs.includes(way.id) && scene.isFree(piece, port) ? [port.id] : []));
}

/** A step on the way of a mix: what its listeners hear it with, or, for the house, a DI. */
function outputJudge(scene: Scene): Judge {
  const arriving = scene.arrivingHere();
  const name = scene.behind('carries')?.name;
  const mix = scene.rig.mixes.get(`mix:${name}`);
  const listeners = (piece: Piece) => piece.for.some((id) => mix?.for.includes(id));
  const heard = new Set([...scene.rig.pieces.values()].flatMap((piece) => (piece.hears && listeners(piece) ? [piece.hears.piece] : [])));
  return (through, model) => {
    const out = outAfter(arriving, model, undefined);
    if (arriving.length > 0 && out.length === 0) return [NOT_THROUGH];
    const entered = arriving.length === 0 || inputsOf(model).some((port) => suits(arriving, port) === 2) ? 0 : 10;
    const ears = outputsOf(model).some(isEarsOut);
    const isBox = model.lineage.at(-1) === 'di';
    const busy = 'kind' in through && !inputsOf(model).some((port) => scene.isFree(through, port));
    if (mix?.house) return [{ rank: entered + (isBox ? 0 : 2) + (ears ? 20 : 0) + (busy ? 50 : 0), says: '' }];
    if ('kind' in through && (heard.has(through.id) || listeners(through)))
      return [{ rank: entered - 1, says: mix ? `for ${mix.label}` : '' }];
    // Where two listeners share a mix, a lead that branches takes it to both.
    if ('kind' in through && mix && takesAlready(scene, through, mix.id))
      return [{ rank: entered - 0.5, says: `has ${mix.label} already` }];
    const others = 'kind' in through && through.for.length > 0;
    return [{ rank: entered + (ears ? 0 : 2) + (others ? 8 : 0) + (busy ? 6 : 0), says: '' }];
  };
}

const isEarsOut = (port: Port) => isRadio(port) || port.modes.some(({ kind }) => kind === 'phones');

function passes(model: Model): boolean {
  return inputsOf(model).length > 0 && outputsOf(model).some((port) => port.tie !== undefined);
}
