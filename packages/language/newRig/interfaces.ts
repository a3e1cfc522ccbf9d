/** The interfaces of the library, and how large a band each can take. */
import { DocumentState, URI } from 'langium';
import type { Model, Port } from '#rig';
import { isLibrary } from '../library';
import type { RigServices } from '../module';

export interface Interface {
  /** The name of its model. */
  readonly model: string;
  readonly label: string;
  /** How many people it takes: a microphone input, a mono mix and a line output each. */
  readonly people: number;
  /** How many microphones. */
  readonly lines: number;
}

/** Those that have what one person needs, the smallest first. */
export function interfacesOf(services: RigServices): Interface[] {
  return libraryModels(services)
    .filter(({ lineage }) => lineage.includes('interface'))
    .map((model) => ({ model: model.id, label: model.label, people: peopleOn(model), lines: portsOf(model, 'input', 'mic') }))
    .filter(({ people }) => people > 0)
    .sort((a, b) => a.people - b.people);
}

function portsOf({ ports }: Model, direction: Port['direction'], kind: string): number {
  return ports.filter((port) => port.direction === direction && port.modes.some((mode) => mode.kind === kind)).length;
}

function peopleOn(model: Model): number {
  const { mixes } = model;
  // Two mono mixes are one stereo mix of the interface's mixer.
  const mono = (mixes?.count ?? 0) * (mixes?.width === 'stereo' ? 2 : 1);
  return Math.min(portsOf(model, 'input', 'mic'), portsOf(model, 'output', 'line'), mono);
}

/** A text that has one of each, read like any other. */
function libraryModels(services: RigServices): Model[] {
  const { LangiumDocumentFactory, LangiumDocuments } = services.shared.workspace;
  const library = LangiumDocuments.all.filter(({ uri }) => isLibrary(uri)).toArray();
  const names = library.flatMap((document) => [...services.rig.Symbols.of(document).names('Model').keys()]);
  const text = names.map((name, index) => `gear each-${index} is ${name}`).join('\n');
  const document = LangiumDocumentFactory.fromString(text, URI.parse('earloom-models:/all.rig'));
  document.state = DocumentState.ComputedScopes;
  return [...services.rig.Analyser.of(document).lowered.rig.pieces.values()].flatMap(({ model }) => model ?? []);
}
