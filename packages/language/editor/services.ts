/** What editor services share among themselves. */
import type { LangiumServices } from 'langium/lsp';
import type { RigAddedServices } from '../module';
import type { Abilities } from './abilities';
import type { RigSelectionProvider } from './selection';
import type { Settings } from './settings';
import type { Shelf } from './shelf';
import type { Things } from './things';

export interface RigEditorAddedServices {
  editor: {
    Shelf: Shelf;
    Things: Things;
    Settings: Settings;
    Abilities: Abilities;
    /** The protocol has it, Langium has no place for it. */
    SelectionProvider: RigSelectionProvider;
  };
}

export type RigEditorServices = LangiumServices & RigAddedServices & RigEditorAddedServices;
