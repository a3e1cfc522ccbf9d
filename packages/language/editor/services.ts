/** What editor services share among themselves. */
import type { LangiumServices } from 'langium/lsp';
import type { RigAddedServices } from '../module';
import type { Shelf } from './shelf';
import type { Things } from './things';

export interface RigEditorAddedServices {
  editor: {
    Shelf: Shelf;
    Things: Things;
  };
}

export type RigEditorServices = LangiumServices & RigAddedServices & RigEditorAddedServices;
