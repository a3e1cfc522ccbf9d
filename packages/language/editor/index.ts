/** Editor services for rigs, without any server: a module to be merged after `rigModule`. */
import type { Module } from 'langium';
import type { PartialLangiumServices } from 'langium/lsp';
import { RigCompletionProvider } from './completion';
import { RigDefinitionProvider } from './definition';
import { RigFixProvider } from './fixes';
import { RigFoldingProvider } from './folding';
import { RigHoverProvider } from './hover';
import { RigLinkProvider } from './links';
import { RigHighlightProvider, RigReferencesProvider } from './references';
import { RigRenameProvider } from './rename';
import type { RigEditorAddedServices, RigEditorServices } from './services';
import { Shelf } from './shelf';
import { RigSymbolProvider } from './symbols';
import { Things } from './things';

export const rigEditorModule: Module<RigEditorServices, PartialLangiumServices & RigEditorAddedServices> = {
  editor: {
    Shelf: (services) => new Shelf(services),
    Things: (services) => new Things(services),
  },
  lsp: {
    CompletionProvider: (services) => new RigCompletionProvider(services),
    HoverProvider: (services) => new RigHoverProvider(services),
    CodeActionProvider: (services) => new RigFixProvider(services),
    DefinitionProvider: (services) => new RigDefinitionProvider(services),
    ReferencesProvider: (services) => new RigReferencesProvider(services),
    DocumentHighlightProvider: (services) => new RigHighlightProvider(services),
    RenameProvider: (services) => new RigRenameProvider(services),
    DocumentLinkProvider: (services) => new RigLinkProvider(services),
    DocumentSymbolProvider: () => new RigSymbolProvider(),
    FoldingRangeProvider: () => new RigFoldingProvider(),
  },
};

export type { RigEditorAddedServices, RigEditorServices } from './services';
