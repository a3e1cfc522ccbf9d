/** Refactorings: the text in another shape. What each does to the rig is in its title, and everything else stays as it was. */
import type { Range } from 'vscode-languageserver';
import type { Analysis } from '../../analysis';
import type { RigEditorServices } from '../services';
import { FREQUENCIES_KIND, frequencies } from './frequencies';
import { Here, type Refactoring } from './here';
import { inlinePiece } from './inlinePiece';
import { mixWidth } from './mixWidth';
import { namePieces } from './namePiece';
import { sortLines } from './sortLines';
import { swapPorts } from './swapPorts';
import { toShelf } from './toShelf';
import { writeGain } from './writeGain';

export type { Refactoring } from './here';

const ALL: readonly { readonly kind: string; readonly find: (here: Here) => Refactoring[] }[] = [
  { kind: 'refactor.extract.gear', find: namePieces },
  { kind: 'refactor.inline.gear', find: inlinePiece },
  { kind: 'refactor.rewrite.gain', find: writeGain },
  { kind: 'refactor.rewrite.swap', find: swapPorts },
  { kind: 'refactor.rewrite.sort', find: sortLines },
  { kind: 'refactor.rewrite.width', find: mixWidth },
  { kind: FREQUENCIES_KIND, find: frequencies },
  { kind: 'refactor.move.shelf', find: toShelf },
];

export const REFACTORING_KINDS: readonly string[] = ALL.map(({ kind }) => kind);

export function refactorings(
  services: RigEditorServices,
  analysis: Analysis,
  range: Range,
  wanted: (kind: string) => boolean,
): Refactoring[] {
  const all = ALL.filter(({ kind }) => wanted(kind));
  if (all.length === 0) return [];
  const here = new Here(services, analysis, range);
  return here.statements.length === 0 ? [] : all.flatMap(({ find }) => find(here));
}
