/** Editor services for rigs, without any server: a module to be merged after `rigModule`. */
import type { Module } from 'langium';
import type { LangiumSharedServices, PartialLangiumServices, PartialLangiumSharedServices } from 'langium/lsp';
import type { RigServices } from '../module';
import { Abilities } from './abilities';
import { RigActionProvider } from './actions';
import { RigSignalPathProvider } from './callHierarchy';
import { RigCompletionProvider } from './completion';
import { RigDefinitionProvider } from './definition';
import { RigFoldingProvider } from './folding';
import { RigFormatter } from './formatter';
import { RigHighlightProvider } from './highlight';
import { RigHintProvider } from './hints';
import { RigHoverProvider } from './hover';
import { RigLensProvider } from './lenses';
import { RigLinkProvider } from './links';
import { RigReferencesProvider } from './references';
import { RigRenameProvider } from './rename';
import { RigSelectionProvider } from './selection';
import { RigSemanticTokenProvider } from './semanticTokens';
import type { RigEditorAddedServices, RigEditorServices } from './services';
import { Settings } from './settings';
import { Shelf } from './shelf';
import { RigSymbolProvider } from './symbols';
import { Things } from './things';
import { RigWorkspaceSymbolProvider } from './workspaceSymbols';

export const rigEditorModule: Module<RigEditorServices, PartialLangiumServices & RigEditorAddedServices> = {
  editor: {
    Shelf: (services) => new Shelf(services),
    Things: (services) => new Things(services),
    Settings: () => new Settings(),
    Abilities: () => new Abilities(),
    SelectionProvider: () => new RigSelectionProvider(),
  },
  lsp: {
    CompletionProvider: (services) => new RigCompletionProvider(services),
    HoverProvider: (services) => new RigHoverProvider(services),
    CodeActionProvider: (services) => new RigActionProvider(services),
    DefinitionProvider: (services) => new RigDefinitionProvider(services),
    ReferencesProvider: (services) => new RigReferencesProvider(services),
    DocumentHighlightProvider: (services) => new RigHighlightProvider(services),
    RenameProvider: (services) => new RigRenameProvider(services),
    DocumentLinkProvider: (services) => new RigLinkProvider(services),
    DocumentSymbolProvider: () => new RigSymbolProvider(),
    FoldingRangeProvider: () => new RigFoldingProvider(),
    InlayHintProvider: (services) => new RigHintProvider(services),
    CodeLensProvider: (services) => new RigLensProvider(services),
    SemanticTokenProvider: (services) => new RigSemanticTokenProvider(services),
    CallHierarchyProvider: (services) => new RigSignalPathProvider(services),
    Formatter: (services) => new RigFormatter(services),
  },
};

/** What belongs to no file by itself. `rig` is a thunk because the language's own services are made after the shared ones. */
export function rigEditorSharedModule(rig: () => RigServices): Module<LangiumSharedServices, PartialLangiumSharedServices> {
  return { lsp: { WorkspaceSymbolProvider: (services) => new RigWorkspaceSymbolProvider(services, () => rig().rig.Symbols) } };
}

export { ACTION_KINDS } from './actions';
export { onePage } from './onePage';
export type { RigEditorAddedServices, RigEditorServices } from './services';
export { DEFAULT_WISHES } from './settings';
export { type Summary, summaryOf } from './summary';
