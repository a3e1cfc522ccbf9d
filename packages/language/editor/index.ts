/** Editor services for rigs, as a Langium module to merge after `rigModule`. */
import type { Module } from 'langium';
import type { LangiumServices, PartialLangiumServices } from 'langium/lsp';
import type { RigServices } from '../module.js';

export const rigEditorModule: Module<LangiumServices & RigServices, PartialLangiumServices> = {};
