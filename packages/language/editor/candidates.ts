/** What could be written at the cursor: each thing that the grammar expects there, put into the names of this rig. */
import { type LangiumDocument, UriUtils } from 'langium';
import { CONNECTORS, type Dimension, unitsFor } from '#rig';
import { isLibrary } from '../library';
import { usedUri } from '../symbols';
import { isStatementWord } from '../syntax/words';
import type { CursorContext } from './context';
import { dimensionsOf } from './dimensions';
import type { Expectation } from './expect';
import { inputsOf, outputsOf } from './figures';
import { inOrder, type Proposal, type Ranked } from './proposals';
import {
  carriedProposals,
  endProposals,
  mixNameProposals,
  modelProposals,
  performerProposals,
  sendProposals,
  stepTargets,
  takenByHouse,
  takenByInput,
  transmitterProposals,
} from './proposeNames';
import { deviceProposals, rangeEnds, sideProposals, sourceProposals, stepProposals } from './proposePorts';
import { likelyUnit, usualNumber } from './proposeUnits';
import { isSaid, keywordProposal, statementProposals } from './proposeWords';
import { Scene } from './scene';
import type { RigEditorServices } from './services';

export type { Proposal } from './proposals';

/** Names before words, words before whole statements; the other way round where a line has just begun. */
const WORDS_RANK = 1000;
const STATEMENTS_RANK = 2000;

const SIGNALS: ReadonlySet<string> = new Set(['mic', 'instrument', 'line', 'phones', 'speaker', 'digital', 'radio']);

export class Candidates {
  private readonly scene: Scene;

  constructor(
    private readonly services: RigEditorServices,
    private readonly document: LangiumDocument,
    private readonly context: CursorContext,
  ) {
    this.scene = new Scene(services, document, context);
  }

  all(): Proposal[] {
    const { context, scene } = this;
    if (context.path !== undefined) return inOrder(this.paths('', context.close ?? ''));
    const ranked = this.startsAnew() ? [] : context.expected.all.flatMap((expectation) => this.of(expectation));
    if (context.firstOnLine) {
      // At the margin a new statement is likely; further in, the one before goes on.
      const early = !context.indented && (context.expected.complete || context.depth === 0);
      ranked.push(...statementProposals(scene, early ? -100 : STATEMENTS_RANK).filter(() => context.depth === 0 || !context.indented));
    }
    const seen = new Set<string>();
    return inOrder(ranked).filter(({ kind, label }) => {
      const key = `${kind} ${label}`;
      return seen.has(key) ? false : seen.add(key);
    });
  }

  /** At the margin behind a sentence that is whole: what it could go on with is set in. What a rig says of the whole is often not. */
  private startsAnew(): boolean {
    const { firstOnLine, indented, depth, statement } = this.context;
    return firstOnLine && !indented && depth === 0 && statement !== 'rig' && this.mayEnd();
  }

  /** Whether this word needs no more letters: the line may end behind it, though longer words begin with it. */
  isWhole(word: string, proposals: readonly Proposal[]): boolean {
    const { rig } = this.scene;
    const name = word.normalize('NFC');
    // Where a model is wanted, what is called so in the rig is something else.
    const model = this.context.expected.all.some(({ property }) => property === 'model' || property === 'parent');
    const named =
      !model &&
      (rig.pieces.has(`gear:${name}`) ||
        rig.sources.has(`source:${name}`) ||
        rig.performers.has(`performer:${name}`) ||
        rig.mixes.has(`mix:${name}`));
    // Of the words that start a statement, only `rig` says something by itself.
    return named || proposals.some(({ kind, label }) => label === name && (kind !== 'statement' || label === 'rig'));
  }

  /** Whether the sentence makes sense as it is: half a unit, a mix without its block and a block with nothing in it do not. */
  mayEnd(): boolean {
    const { before, expected } = this.context;
    if (before.at(-1)?.image === '{') return false;
    const open = expected.all.some((each) => (each.keyword === '{' && each.rule === 'Mix') || this.isHalfUnit(each));
    return !open && (expected.complete || expected.all.some(({ keyword }) => keyword === '}'));
  }

  private isHalfUnit(expectation: Expectation): boolean {
    return expectation.keyword === 'SPL' && this.restOfUnit(expectation).length > 0;
  }

  private of(expectation: Expectation): Ranked[] {
    const { keyword, token, rule, property } = expectation;
    if (keyword !== undefined) return this.keyword(expectation, keyword);
    // Behind a side comes a share, though `left` could also be a source.
    if (rule === 'Unit' && this.context.expected.all.some((each) => each.rule === 'Percent')) return [];
    if (rule === 'Unit') return token === 'ID' && this.context.before.at(-1)?.tokenType.name === 'NUMBER' ? this.units(expectation) : [];
    if (rule === 'Quantity' && token === 'NUMBER') return this.figure(expectation);
    if (token === 'STRING') return rule === 'Use' ? this.paths('"', '"') : [];
    if (property === undefined || token === 'NUMBER') return [];
    return this.names(`${rule}.${property}`, expectation);
  }

  // ---- names -------------------------------------------------------------------------------------

  private names(slot: string, { within }: Expectation): Ranked[] {
    const { scene } = this;
    const { before, after, statement } = this.context;
    switch (slot) {
      case 'Source.model':
        return modelProposals(scene, 'source');
      case 'Gear.model':
        return modelProposals(scene, 'gear');
      case 'Ears.model':
        return modelProposals(scene, 'ears');
      case 'Model.parent':
        return modelProposals(scene, 'parent');
      case 'HouseIs.model':
        return modelProposals(scene, 'house');
      case 'By.performer':
      case 'ForWhom.performers':
      case 'Mix.performers':
        return performerProposals(scene, this.listed('for'));
      case 'Mix.name':
        return mixNameProposals(scene);
      case 'Taken.target':
        return within === 'House' ? takenByHouse(scene) : takenByInput(scene);
      case 'Taken.port':
        return this.takenPorts(before.at(-2)?.image ?? '');
      case 'GearPort.gear':
        return endProposals(scene, within === 'Output' ? 'output' : 'input');
      case 'GearPort.first':
      case 'GearPort.last': {
        const piece = scene.piece(before[1]?.image.normalize('NFC') ?? '');
        const direction = statement === 'output' ? 'output' : 'input';
        if (!piece) return [];
        return slot === 'GearPort.first'
          ? deviceProposals(scene, piece, direction)
          : rangeEnds(scene, piece, direction, before[3]?.image ?? '');
      }
      case 'Step.target':
        return stepTargets(scene);
      case 'Step.port': {
        const name = before.at(-2)?.image.normalize('NFC') ?? '';
        const piece = scene.piece(name);
        return stepProposals(scene, (piece?.model ?? scene.model(name))?.ports ?? [], piece);
      }
      case 'Hears.gear':
        return transmitterProposals(scene);
      case 'Hears.port': {
        const piece = scene.piece(before.at(-2)?.image.normalize('NFC') ?? '');
        return piece ? sideProposals(scene, piece) : [];
      }
      case 'Send.source': {
        const next = after[0];
        return sendProposals(scene, this.sent(), next?.tokenType.name !== 'NUMBER' && next?.image !== '.');
      }
      case 'Send.channel': {
        const piece = scene.rig.pieces.get(`source:${before.at(-2)?.image.normalize('NFC')}`);
        return piece
          ? sourceProposals(scene, piece).filter(({ proposal }) =>
              outputsOf(piece.model).some((port) => port.id === proposal.label && port.separate),
            )
          : [];
      }
      case 'Private.outputs': {
        const name = before[1]?.image.normalize('NFC') ?? '';
        const model = this.context.statement === 'source' ? scene.rig.pieces.get(`source:${name}`)?.model : scene.model(name);
        const channels = model ? outputsOf(model).filter((port) => port.separate) : [];
        return channels.map(({ id }) => ({ rank: 0, proposal: { kind: 'port', label: id, detail: 'of it only this' } }));
      }
      case 'Output.mix':
        return carriedProposals(scene);
      case 'Port.connector':
      case 'LeadHad.from':
      case 'LeadHad.to':
        return Object.entries(CONNECTORS).map(([id, { label }]) => ({ rank: 0, proposal: { kind: 'value', label: id, detail: label } }));
      case 'PortRange.first':
      case 'PortRange.last':
        return within === 'Tie' ? this.tieInputs() : [];
      case 'Power.from':
        return POWERS.map(([label, detail]) => ({ rank: 0, proposal: { kind: 'value', label, detail } }));
      case 'Region.name':
        return REGIONS.map(([label, detail]) => ({ rank: 0, proposal: { kind: 'value', label, detail } }));
      default:
        return [];
    }
  }

  private takenPorts(written: string): Ranked[] {
    const name = written.normalize('NFC');
    const { rig } = this.scene;
    const mix = rig.mixes.get(`mix:${name}`);
    const piece = rig.pieces.get(`source:${name}`) ?? (mix ? undefined : this.scene.piece(name));
    if (piece) return sourceProposals(this.scene, piece);
    return mix?.stereo
      ? ['left', 'right'].map((label) => ({ rank: 0, proposal: { kind: 'port', label, detail: `that side of ${mix.label}` } }))
      : [];
  }

  /** Names in the list behind a word. */
  private listed(word: string): string[] {
    const images = this.context.before.map((token) => token.image);
    const at = images.lastIndexOf(word);
    return at < 0 ? [] : images.slice(at + 1).filter((image) => image !== ',');
  }

  /** What the mix at the cursor has already: the names that a level or a channel stands behind. */
  private sent(): string[] {
    const { before, after } = this.context;
    const inside = before.slice(before.findLastIndex((token) => token.image === '{') + 1);
    return [inside, after].flatMap((tokens) =>
      tokens.flatMap((token, index) =>
        tokens[index + 1]?.tokenType.name === 'NUMBER' || tokens[index + 1]?.image === '.' ? [token.image.normalize('NFC')] : [],
      ),
    );
  }

  private tieInputs(): Ranked[] {
    const name = this.context.before[1]?.image.normalize('NFC') ?? '';
    const model = this.scene.model(name);
    return (model ? inputsOf(model) : []).map((port) => ({ rank: 0, proposal: { kind: 'port', label: port.id, detail: 'input' } }));
  }

  // ---- units, words, files -----------------------------------------------------------------------

  private units(expectation: Expectation): Ranked[] {
    const likely = likelyUnit(expectation.figure ?? '', this.scene);
    const units = dimensions(expectation).flatMap(unitsFor);
    return this.isUnitThere(units) ? [] : units.map((label) => ({ rank: label === likely ? -1 : 0, proposal: { kind: 'unit', label } }));
  }

  /** Whether one of these units begins behind the cursor. */
  private isUnitThere(units: readonly string[]): boolean {
    return units.some((unit) => unit.split(/[ /]/)[0] === this.context.after[0]?.image);
  }

  /** A whole figure, behind which one goes on; nothing where a part of one is there already. */
  private figure(expectation: Expectation): Ranked[] {
    const { start, end } = this.context;
    const units = dimensions(expectation).flatMap(unitsFor);
    const there = /^[-+\u2212\u2013]?\d/.test(this.document.textDocument.getText().slice(start, end)) || this.isUnitThere(units);
    const number = there ? undefined : usualNumber(expectation.figure ?? '', this.scene);
    const unit = likelyUnit(expectation.figure ?? '', this.scene) ?? units[0];
    if (number === undefined || unit === undefined) return [];
    return [{ rank: 0, proposal: { kind: 'value', label: `${number} ${unit}` } }];
  }

  /** The rest of a unit of which the first word is there, where that word alone is none: `SPL` behind `98 dB`. */
  private restOfUnit(expectation: Expectation): Ranked[] {
    const first = this.context.before.at(-1)?.image ?? '';
    const units = dimensions(expectation).flatMap(unitsFor);
    if (units.includes(first)) return [];
    const rests = units.flatMap((unit) => (unit.startsWith(`${first} `) ? [unit.slice(first.length + 1)] : []));
    return rests.map((label) => ({ rank: -1, proposal: { kind: 'unit', label } }));
  }

  private keyword(expectation: Expectation, keyword: string): Ranked[] {
    const { rule, figure } = expectation;
    if (keyword === 'SPL' && rule === 'Unit') return this.restOfUnit(expectation);
    if (keyword === '{' && rule === 'Mix') return [{ rank: WORDS_RANK, proposal: MIX_BLOCK }];
    if (keyword === '%') return rule === 'Percent' && !this.isUnitThere(['%']) ? [{ rank: 0, proposal: { kind: 'unit', label: '%' } }] : [];
    if (figure !== undefined || !/^[a-z]/.test(keyword)) return [];
    if (isStatementWord(keyword) && !(this.context.depth > 0 || ((rule === 'Mix' || rule === 'LeftOut') && keyword === 'house'))) return [];
    if (isSaid(rule, keyword, this.said(rule))) return [];
    // There is nothing to be instead of.
    if (keyword === 'instead' && this.services.rig.Symbols.bands(this.document).length === 0) return [];
    // What has to come is likelier than what may come.
    return [
      { rank: WORDS_RANK + (this.context.expected.complete ? 1 : 0), proposal: keywordProposal(rule, keyword, this.scene.rig.settings) },
    ];
  }

  /** The words that count as said where the cursor is: those of the statement, or of one mode of a port. */
  private said(rule: string): ReadonlySet<string> {
    const { before, after } = this.context;
    const images = before.map((token) => token.image);
    if (rule === 'Figure') return new Set(images.slice(images.findLastIndex((image) => SIGNALS.has(image)) + 1));
    if (this.context.statement === 'model') {
      if (
        rule === 'Port' ||
        rule === 'Tie' ||
        rule === 'TiePart' ||
        rule === 'Separate' ||
        rule === 'PortPrivate' ||
        rule === 'Tail' ||
        rule === 'SignalKind'
      ) {
        return new Set(
          images.slice(images.findLastIndex((image) => image === 'input' || image === 'output') + 1).filter((image) => !SIGNALS.has(image)),
        );
      }
      return new Set(images.filter((image) => image !== 'phantom' && image !== 'gain' && image !== 'pad'));
    }
    if (this.context.statement === 'mix' && this.context.depth > 0) return new Set();
    return new Set([...images, ...after.map((token) => token.image)]);
  }

  /** Files of the workspace, as a `use` here would name them. */
  private paths(open: string, close: string): Ranked[] {
    const { LangiumDocuments } = this.services.shared.workspace;
    const { Workspace, Symbols } = this.services.rig;
    const used = new Set(Symbols.of(this.document).uses.map((use) => usedUri(use)?.toString()));
    return LangiumDocuments.all
      .filter(
        ({ uri }) => !isLibrary(uri) && !UriUtils.equals(uri, this.document.uri) && Workspace.isInside(uri.toString(), this.document.uri),
      )
      .map(({ uri }): Ranked => {
        const path = UriUtils.relative(UriUtils.dirname(this.document.uri), uri);
        const there = used.has(uri.toString()) && path !== this.context.path;
        return {
          rank: (there ? 10 : 0) + path.split('/').length,
          proposal: {
            kind: 'file',
            label: path,
            insert: `${open}${path}${close}`,
            filter: `${open}${path}`,
            detail: there ? 'used already' : undefined,
          },
        };
      })
      .toArray()
      .sort((a, b) => a.proposal.label.localeCompare(b.proposal.label, 'en'));
  }
}

const MIX_BLOCK: Proposal = { kind: 'keyword', label: '{ }', detail: 'what is heard in it', snippet: '{ $0 }', goesOn: true };

const POWERS: readonly (readonly [string, string])[] = [
  ['mains', 'a socket'],
  ['usb', 'the computer'],
  ['battery', 'cells, with their life: battery 6 h'],
  ['phantom', 'the input it is plugged into'],
  ['none', 'needs none'],
];

/** Others may be written too. */
const REGIONS: readonly (readonly [string, string])[] = [
  ['EU', 'the European Union and its neighbours'],
  ['UK', 'the United Kingdom'],
  ['US', 'the United States'],
];

function dimensions({ figure }: Expectation): readonly Dimension[] {
  const [rule, keyword] = figure?.split('/') ?? [];
  return dimensionsOf(rule ?? '', keyword ?? '');
}
