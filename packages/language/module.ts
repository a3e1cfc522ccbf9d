/** Wires the language together: what deviates from Langium's defaults, one small class each. */
import {
  createDefaultCoreModule,
  createDefaultSharedCoreModule,
  type DeepPartial,
  type DefaultSharedCoreModuleContext,
  inject,
  type LangiumCoreServices,
  type LangiumSharedCoreServices,
  type Module,
} from 'langium';
import { RigAnalyser } from './analysis';
import { RigGeneratedModule, RigGeneratedSharedModule } from './generated/module';
import { Scans } from './scans';
import { RigLinker, RigScopeComputation, RigScopeProvider } from './scope';
import { SymbolTable } from './symbols';
import { RigDocumentFactory } from './syntax/factory';
import { headsOf } from './syntax/heads';
import { RigLexer } from './syntax/lexer';
import { createRigParser, type RigParser } from './syntax/parser';
import { RigTokenBuilder } from './syntax/tokens';
import { RigValueConverter } from './syntax/values';
import { Trees } from './trees';
import { RigDocumentValidator } from './validator';
import { RigDocumentBuilder, RigIndexManager, RigWorkspaceManager, Workspace } from './workspace';

export interface RigAddedServices {
  rig: {
    Symbols: SymbolTable;
    Analyser: RigAnalyser;
    Workspace: Workspace;
    Scans: Scans;
    Trees: Trees;
  };
}

export type RigServices = LangiumCoreServices & RigAddedServices;

export function rigModule(workspace: Workspace): Module<RigServices, DeepPartial<LangiumCoreServices> & RigAddedServices> {
  return {
    parser: {
      TokenBuilder: () => new RigTokenBuilder(),
      Lexer: (services) => new RigLexer(services),
      LangiumParser: (services) => createRigParser(services),
      ValueConverter: () => new RigValueConverter(),
    },
    references: {
      Linker: (services) => new RigLinker(services),
      ScopeProvider: (services) => new RigScopeProvider(services),
      ScopeComputation: (services) => new RigScopeComputation(services),
    },
    validation: {
      DocumentValidator: (services) => new RigDocumentValidator(services),
    },
    rig: {
      Symbols: (services) =>
        new SymbolTable(services.shared, {
          parse: (text) => (services.parser.LangiumParser as RigParser).parseAgain(text),
          heads: (text) => headsOf(text, services.parser.Lexer as RigLexer),
          statement: (...which) => (services.shared.workspace.LangiumDocumentFactory as RigDocumentFactory).statement(...which),
        }),
      Analyser: (services) => new RigAnalyser(services),
      Workspace: () => workspace,
      Scans: () => new Scans(),
      Trees: (services) => new Trees(services),
    },
  };
}

/** `rig` is a thunk because the language's own services are made after the shared ones. */
export function rigSharedModule(
  workspace: Workspace,
  rig: () => RigServices,
): Module<LangiumSharedCoreServices, DeepPartial<LangiumSharedCoreServices>> {
  return {
    workspace: {
      DocumentBuilder: (services) => new RigDocumentBuilder(services),
      WorkspaceManager: (services) => new RigWorkspaceManager(services, workspace),
      IndexManager: (services) => new RigIndexManager(services, () => rig().rig.Symbols),
      LangiumDocumentFactory: (services) =>
        new RigDocumentFactory(
          services,
          () => rig().parser.LangiumParser as RigParser,
          (document) => rig().rig.Trees.read(document),
        ),
    },
  };
}

/** The language without any editor: for the command line and for tests. */
export function createRigCore(context: DefaultSharedCoreModuleContext): { shared: LangiumSharedCoreServices; Rig: RigServices } {
  const workspace = new Workspace();
  let rig: RigServices | undefined;
  const shared = inject(
    createDefaultSharedCoreModule(context),
    RigGeneratedSharedModule,
    rigSharedModule(workspace, () => rig as RigServices),
  );
  rig = inject(createDefaultCoreModule({ shared }), RigGeneratedModule, rigModule(workspace));
  shared.ServiceRegistry.register(rig);
  return { shared, Rig: rig };
}
