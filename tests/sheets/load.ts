/** Rigs from this folder and from others, as sheets. */
import { dirname, join } from 'node:path';
import { URI } from 'langium';
import { NodeFileSystem } from 'langium/node';
import type { Checked } from '#engine';
import { type Analysis, foundBy, RigLoader } from '#language';
import { type PatchList, patchList, patchSheetOf, type RenderOptions, renderSheet, type SheetFormat } from '#sheets';

const disk = NodeFileSystem.fileSystemProvider();
export const TOUR = join(import.meta.dirname, '../checks/tour.rig');

export function here(name: string): string {
  return join(import.meta.dirname, name);
}

export async function analyse(path: string): Promise<Analysis & { readonly checked: Checked }> {
  const loader = new RigLoader(disk, URI.file(dirname(path)));
  return whole(loader.services.rig.Analyser.of(await loader.load(URI.file(path))), path);
}

/** A text that is not on disk, as if it lay in the folder of the tour. */
export async function analyseText(text: string): Promise<Analysis & { readonly checked: Checked }> {
  const loader = new RigLoader(disk, URI.file(dirname(TOUR)));
  return whole(loader.services.rig.Analyser.of(await loader.loadText(text, URI.file(join(dirname(TOUR), 'typed.rig')))), text);
}

function whole(analysis: Analysis, what: string): Analysis & { readonly checked: Checked } {
  const { checked } = analysis;
  if (!checked) throw new Error(`no rig in ${what}`);
  return { ...analysis, checked };
}

export function sheetOf(analysis: Analysis & { readonly checked: Checked }): PatchList {
  return patchList(analysis.checked, foundBy(analysis));
}

/** A patch list as it is rendered. */
export function render(list: PatchList, format: SheetFormat, options?: RenderOptions): string {
  return renderSheet(patchSheetOf(list), format, options);
}
