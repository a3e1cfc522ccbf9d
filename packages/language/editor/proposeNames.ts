/** Names as completion proposes them: what is still missing from the rig first, and only what can stand there. */
import { AstUtils } from 'langium';
import { isRadio, list, outAfter, runName, suits } from '#engine';
import type { Mix, Model, Performer, Piece, Source } from '#rig';
import type * as ast from '../generated/ast';
import { isLibrary } from '../library';
import { commentAbove } from './comments';
import { inputsOf, kindsText, originText, outputsOf, portTable, unitText } from './figures';
import { paragraphs, plain } from './markdown';
import type { Ranked } from './proposals';
import type { Scene } from './scene';

// ---- models ----------------------------------------------------------------------------------------

export function modelProposals(scene: Scene, use: 'source' | 'gear' | 'ears' | 'parent'): Ranked[] {
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
    if (use === 'parent' && node.name === own) return [];
    return [{ rank, proposal: modelProposal(node, model) }];
  });
}

/** What is usually wanted first, by the model that others are made from. */
const USUAL: Readonly<Record<'source' | 'gear', readonly string[]>> = {
  source: ['microphone', 'pickup', 'instrument', 'playback', 'receiver'],
  gear: ['interface', 'transmitter', 'pack', 'amplifier', 'di', 'splitter', 'expander', 'ears', 'pad', 'switch', 'instrument'],
};

function kinship(use: 'source' | 'gear' | 'ears' | 'parent', model: Model): number {
  if (use !== 'source' && use !== 'gear') return 0;
  const at = USUAL[use].indexOf(model.lineage.at(-1) ?? '');
  return at < 0 ? USUAL[use].length : at;
}

function ownModelName(scene: Scene): string | undefined {
  return scene.context.statement === 'model' ? scene.context.before[1]?.image : undefined;
}

function modelProposal(node: ast.Model, model: Model): Ranked['proposal'] {
  return { kind: 'model', label: node.name, detail: model.label, documentation: modelDocumentation(node, model) };
}

const documentations = new WeakMap<Model, string>();

function modelDocumentation(node: ast.Model, model: Model): string {
  const known = documentations.get(model);
  if (known !== undefined) return known;
  const text = paragraphs(plain(commentAbove(node)), portTable(model), unitText(model), originText(model));
  documentations.set(model, text);
  return text;
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
        proposal: performerProposal(performer, forMix ? mixes.map((mix) => mix.label) : forGear ? packs.map((piece) => piece.label) : []),
      };
    });
}

function performerProposal(performer: Performer, has: readonly string[]): Ranked['proposal'] {
  return {
    kind: 'performer',
    label: performer.name,
    detail: [performer.label, has.length > 0 ? `has ${list(has)}` : ''].filter(Boolean).join(', '),
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
  const sources = [...scene.rig.sources.values()].map((source): Ranked => {
    const patched = scene.occupancy?.landings(source.id) ?? [];
    const piece = scene.rig.pieces.get(source.id);
    const fit =
      end?.port && piece
        ? suits(
            outputsOf(piece.model).map((output) => ({ output, kinds: output.modes.map((mode) => mode.kind), phantom: false })),
            end.port,
          )
        : 2;
    const detail = [
      source.label,
      patched.length > 0
        ? `already on ${list([...new Set(patched.map((each) => each.label))])}`
        : fit < 2 && end?.port
          ? `not for ${an(kindsText(end.port))} input`
          : 'not plugged in yet',
    ];
    return { rank: (patched.length > 0 ? 10 : 0) + (2 - fit), proposal: sourceProposal(scene, source, detail.join(', ')) };
  });
  return [...sources, ...linkProposals(scene, end?.piece)];
}

function an(word: string): string {
  return /^[aeiou]/.test(word) ? `an ${word}` : `a ${word}`;
}

/** Other gear whose output an input may take: an expander's link, an amplifier fed by a DI. */
function linkProposals(scene: Scene, device: Piece | undefined): Ranked[] {
  return [...scene.rig.pieces.values()]
    .filter((piece) => piece.kind === 'gear' && piece !== device && piece.holding?.how !== 'spare')
    .filter(
      (piece) =>
        outputsOf(piece.model).some((port) => port.modes.some(({ kind }) => kind === 'digital' || kind === 'line')) && !piece.hears,
    )
    .map((piece) => ({ rank: 20, proposal: { kind: 'gear', label: piece.name ?? '', detail: `${piece.label}, what comes out of it` } }));
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
        proposal: mixProposal(mix, lines.length > 0 ? `already on ${list(lines)}` : 'for the house, no line takes it yet'),
      },
    ];
  });
  return [...mixes, ...sources];
}

function sourceProposal(scene: Scene, source: Source, detail: string): Ranked['proposal'] {
  const by = source.by && scene.rig.performers.get(source.by)?.label;
  const model = scene.rig.pieces.get(source.id)?.model.label;
  return {
    kind: 'source',
    label: source.name,
    detail,
    documentation: plain([model, by && `by ${by}`].filter(Boolean).join(', ')) || undefined,
  };
}

function mixProposal(mix: Mix, detail: string): Ranked['proposal'] {
  return { kind: 'mix', label: mix.name, detail: [mix.label === mix.name ? '' : mix.label, detail].filter(Boolean).join(', ') };
}

export function carriedProposals(scene: Scene): Ranked[] {
  return [...scene.rig.mixes.values()].map((mix) => {
    const runs = scene.rig.outputs.filter((run) => run !== scene.run && run.carries === mix.id).map((run) => runName(scene.rig, run));
    const detail = `${mix.stereo ? 'stereo' : 'mono'}, ${runs.length > 0 ? `leaves by ${list(runs)}` : 'does not leave yet'}`;
    return { rank: runs.length > 0 ? 1 : 0, proposal: mixProposal(mix, detail) };
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
        proposal: withLevel
          ? { ...proposal, insert: `${source.name} 0 dB`, snippet: `${source.name} \${1:0} dB`, filter: source.name }
          : proposal,
      },
    ];
  });
}

// ---- gear ------------------------------------------------------------------------------------------

/** For `input` and `output`: gear with ports of that direction, what mixes before what does not. */
export function endProposals(scene: Scene, direction: 'input' | 'output'): Ranked[] {
  return [...scene.rig.pieces.values()].flatMap((piece): Ranked[] => {
    const ports = direction === 'input' ? inputsOf(piece.model) : outputsOf(piece.model);
    if (piece.kind !== 'gear' || ports.length === 0 || piece.holding?.how === 'theirs' || piece.hears) return [];
    // A DI or a split is gone through, not landed on.
    const mixer = piece.model.mixes !== undefined;
    const expander = ports.length > 2;
    const free = ports.filter((port) => scene.isFree(piece, port)).length;
    const detail = `${piece.label}, ${free === 0 ? `no ${direction} free` : `${free} of ${ports.length} free`}`;
    return [
      {
        rank: (mixer ? 0 : expander ? 2 : 5) + (free === 0 ? 1 : 0),
        proposal: { kind: 'gear', label: piece.name ?? '', insert: `${piece.name}.`, detail, goesOn: true },
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
          goesOn: several,
        },
      },
    ];
  });
}

/** For `via`: what has a way in and a way out, what mates with what arrives before what does not. */
export function stepTargets(scene: Scene): Ranked[] {
  const arriving = scene.arrivingHere();
  const end = scene.end();
  const output = scene.context.statement === 'output';
  const rank = (model: Model): number => {
    const out = outAfter(arriving, model, undefined);
    if (arriving.length > 0 && out.length === 0) return 30;
    const entered = arriving.length === 0 || inputsOf(model).some((port) => suits(arriving, port) === 2) ? 0 : 4;
    // An output ends at ears, or on the way to them.
    if (output)
      return entered + (outputsOf(model).some((port) => isRadio(port) || port.modes.some(({ kind }) => kind === 'phones')) ? 0 : 2);
    const phones = out.length > 0 && out.every((each) => each.kinds.includes('phones')) ? 20 : 0;
    if (!end?.port || out.length === 0) return entered + phones;
    return entered + phones + (2 - suits(out, end.port)) * 2;
  };
  const pieces = [...scene.rig.pieces.values()].flatMap((piece): Ranked[] => {
    if (piece.kind !== 'gear' || piece.name === end?.piece.name || !passes(piece.model) || piece.hears) return [];
    const free = inputsOf(piece.model).filter((port) => scene.isFree(piece, port));
    const state =
      free.length === 0
        ? `takes ${list([...new Set(inputsOf(piece.model).flatMap((port) => scene.occupancy?.on(piece, port) ?? []))])}`
        : 'free';
    return [
      {
        rank: rank(piece.model) + (free.length === 0 ? 8 : 0),
        proposal: {
          kind: 'gear',
          label: piece.name ?? '',
          detail: `${piece.label}, ${state}`,
          documentation: paragraphs(portTable(piece.model), unitText(piece.model)),
        },
      },
    ];
  });
  const models = scene.modelNodes().flatMap((node): Ranked[] => {
    const model = scene.services.editor.Shelf.of(node);
    // Such gear stands somewhere and has a name; a fresh piece has none.
    if (!passes(model) || outputsOf(model).some(isRadio) || scene.rig.pieces.has(`gear:${node.name}`)) return [];
    return [{ rank: rank(model) + 1, proposal: { ...modelProposal(node, model), detail: `${model.label}, a fresh one` } }];
  });
  return [...pieces, ...models];
}

function passes(model: Model): boolean {
  return inputsOf(model).length > 0 && outputsOf(model).some((port) => port.tie !== undefined);
}
