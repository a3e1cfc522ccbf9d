export { type Analysis, type Located, RigAnalyser } from './analysis';
export { isLibrary, LIBRARY_SCHEME, libraryFiles } from './library';
export { RigLoader } from './load';
export type { Lowered } from './lowering/lower';
export { createRigCore, type RigServices, rigModule, rigSharedModule } from './module';
export { nearest } from './near';
export { SymbolTable, usedUri } from './symbols';
export { diagnosticOf } from './validator';
export { RigWorkspaceManager, Workspace } from './workspace';
