/** The signal path, as an editor's call hierarchy: what a source goes to, step by step, and what comes to whoever hears it. */
import { type AstNode, AstUtils, type LangiumDocument, URI } from 'langium';
import type { CallHierarchyProvider } from 'langium/lsp';
import {
  type CallHierarchyIncomingCall,
  type CallHierarchyIncomingCallsParams,
  type CallHierarchyItem,
  type CallHierarchyOutgoingCall,
  type CallHierarchyOutgoingCallsParams,
  type CallHierarchyPrepareParams,
  type Range,
  SymbolKind,
} from 'vscode-languageserver';
import { decibels, plugName, SignalPath, type PathStep as Step, type Stop, stopKey, writtenAt } from '#engine';
import type { Place, Run } from '#rig';
import type { Analysis } from '../analysis';
import type { RigEditorServices } from './services';
import { isDeclaration } from './things';
import { type Under, under } from './under';

/** What an item keeps for when it is asked on: which rig it belongs to, and where in it it is. */
interface Kept {
  readonly rig: string;
  readonly stop: Stop;
}

type Spot = NonNullable<ReturnType<Analysis['spotOf']>>;

export class RigSignalPathProvider implements CallHierarchyProvider {
  constructor(private readonly services: RigEditorServices) {}

  prepareCallHierarchy(document: LangiumDocument, { position }: CallHierarchyPrepareParams): CallHierarchyItem[] | undefined {
    const found = under(document, position);
    const walk = found && this.walk(document);
    if (!walk) return undefined;
    const items = distinctStops(this.stopsAt(walk, found))
      .flatMap((stop) => walk.item(stop) ?? [])
      .map(withWayOn);
    return items.length > 0 ? items : undefined;
  }

  outgoingCalls({ item }: CallHierarchyOutgoingCallsParams): CallHierarchyOutgoingCall[] | undefined {
    return this.steps(item, (path, stop) => path.next(stop))?.flatMap(({ walk, step }) => {
      const to = walk.item(step.stop);
      return to ? [{ to, fromRanges: [walk.rangeIn(item, step.written)] }] : [];
    });
  }

  incomingCalls({ item }: CallHierarchyIncomingCallsParams): CallHierarchyIncomingCall[] | undefined {
    return this.steps(item, (path, stop) => path.before(stop))?.flatMap(({ walk, step }) => {
      const from = walk.item(step.stop);
      return from ? [{ from, fromRanges: [walk.rangeIn(from, step.written)] }] : [];
    });
  }

  private steps(item: CallHierarchyItem, from: (path: SignalPath, stop: Stop) => Step[]): { walk: Walk; step: Step }[] | undefined {
    const kept = item.data as Kept | undefined;
    const document = kept && this.services.shared.workspace.LangiumDocuments.getDocument(URI.parse(kept.rig));
    const walk = document && this.walk(document);
    return walk && from(walk.path, kept.stop).map((step) => ({ walk, step }));
  }

  private walk(document: LangiumDocument): Walk | undefined {
    const analysis = this.services.rig.Analyser.of(document);
    return analysis.checked && new Walk(analysis, new SignalPath(analysis.checked.network, analysis.checked.levels));
  }

  /** A name means the thing; a port or a step, what is on it; any other word of a line, where the line leads. */
  private stopsAt({ analysis, path }: Walk, found: Under): Stop[] {
    const run = runAt(analysis, found.node);
    const step = AstUtils.getContainerOfType(found.node, (node): node is AstNode => node.$type === 'Step');
    if (run && step) return path.stopsAtStep(run, step.$containerIndex ?? 0);
    const end = AstUtils.getContainerOfType(found.node, (node): node is AstNode => node.$type === 'GearPort');
    if (run && end) return path.endsOfRun(run);
    const pointed = this.services.editor.Things.pointed(found);
    const named = pointed?.thing.kind === 'declared' ? pointed.thing.node : isDeclaration(found.node) ? found.node : undefined;
    if (named) return stopOf(path, named);
    return run ? path.endsOfRun(run) : [];
  }
}

/** An editor begins with what comes before. Nothing does before a source: it says where to look instead. */
function withWayOn(item: CallHierarchyItem): CallHierarchyItem {
  const { stop } = item.data as Kept;
  if (stop.kind !== 'source') return item;
  return { ...item, detail: [item.detail, 'for where it goes: Show Outgoing Calls'].filter(Boolean).join(', ') };
}

function stopOf(path: SignalPath, node: AstNode & { readonly name?: string }): Stop[] {
  const kind = node.$type.toLowerCase();
  const id = `${kind}:${node.name}`;
  if (kind === 'source' && path.rig.sources.has(id)) return [{ kind, id }];
  if (kind === 'mix' && path.rig.mixes.has(id)) return [{ kind, id }];
  if (kind === 'performer' && path.rig.performers.has(id)) return [{ kind, id }];
  return kind === 'gear' && path.rig.pieces.has(id) ? [{ kind, id }] : [];
}

function runAt({ lowered: { rig, marks } }: Analysis, node: AstNode): Run | undefined {
  const statement = AstUtils.getContainerOfType(node, (each): each is AstNode => ['Input', 'House', 'Output'].includes(each.$type));
  const runs: readonly Run[] = [...rig.inputs, ...rig.house, ...rig.outputs];
  return statement && runs.find((run) => marks.markOf(run.place)?.node === statement);
}

function distinctStops(stops: readonly Stop[]): Stop[] {
  return [...new Map(stops.map((stop) => [stopKey(stop), stop])).values()];
}

class Walk {
  constructor(
    readonly analysis: Analysis,
    readonly path: SignalPath,
  ) {}

  /** Nothing for what stands nowhere in the text. */
  item(stop: Stop): CallHierarchyItem | undefined {
    const place = this.placeOf(stop);
    const spot = place === undefined ? undefined : this.analysis.spotOf(place);
    if (!spot) return undefined;
    const kept: Kept = { rig: this.analysis.document.uri.toString(), stop };
    return { ...this.called(stop), uri: spot.uri, range: this.whole(place, spot), selectionRange: spot.range, data: kept };
  }

  /** Where a step is written, if that is in the file of the item that the editor looks in; else where the item is. */
  rangeIn(item: CallHierarchyItem, written: Place | undefined): Range {
    const spot = written === undefined ? undefined : this.analysis.spotOf(written);
    return spot?.uri === item.uri ? spot.range : item.selectionRange;
  }

  private called(stop: Stop): { name: string; detail?: string; kind: SymbolKind } {
    const { rig } = this.path;
    switch (stop.kind) {
      case 'source': {
        const source = rig.sources.get(stop.id);
        const by = rig.performers.get(source?.by ?? '')?.label;
        return { name: source?.label ?? '', detail: by, kind: SymbolKind.Event };
      }
      case 'mix':
        return {
          name: `Mix ${rig.mixes.get(stop.id)?.label ?? ''}`,
          detail: widthOf(rig.mixes.get(stop.id)?.stereo),
          kind: SymbolKind.Function,
        };
      case 'performer':
        return { name: rig.performers.get(stop.id)?.label ?? '', kind: SymbolKind.Interface };
      case 'gear':
        return { name: rig.pieces.get(stop.id)?.label ?? '', detail: rig.pieces.get(stop.id)?.model.label, kind: SymbolKind.Object };
      case 'pack':
        return { name: rig.pieces.get(stop.at)?.label ?? '', detail: this.path.labelOf(stop.signal), kind: SymbolKind.Object };
      case 'leaves':
      case 'arrives': {
        const socket = this.path.socketOf(stop);
        const level = this.path.levelDbu(stop);
        const detail = [this.path.labelOf(stop.signal), level === undefined ? '' : decibels(level, 'dBu')].filter(Boolean).join(', ');
        return {
          name: socket ? plugName(socket) : '',
          detail,
          kind: socket?.piece.kind === 'house' ? SymbolKind.Struct : SymbolKind.Field,
        };
      }
    }
  }

  private placeOf(stop: Stop): Place | undefined {
    const { path } = this;
    switch (stop.kind) {
      case 'arrives': {
        const joint = path.jointAt(stop);
        return joint && writtenAt(joint);
      }
      case 'leaves': {
        const run = path.ways(stop.signal).find((line) => line.start?.key === stop.at)?.run;
        return run && `${run.id}/port`;
      }
      case 'pack':
        return path.rig.pieces.get(stop.at)?.place;
      default:
        return stop.id;
    }
  }

  /** The statement that a place is in. */
  private whole(place: Place | undefined, spot: Spot): Range {
    const node = place === undefined ? undefined : this.analysis.lowered.marks.markOf(place)?.node;
    let statement = node;
    while (statement?.$container && statement.$container.$type !== 'RigFile') statement = statement.$container;
    return statement?.$cstNode?.range ?? spot.range;
  }
}

function widthOf(stereo: boolean | undefined): string | undefined {
  return stereo === undefined ? undefined : stereo ? 'stereo' : 'mono';
}
