/** Sheets and labels as PDF. What makes them is loaded here and nowhere else, for it is large. */
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { Paper } from '#pdf';
import type { LabelPage, Sheet } from '#sheets';
import { refuseRig } from './rigFile';
import { shownAs } from './wanted';
import { unwritable, writeWhole } from './write';

/** All of them as one document. */
export async function pdfToFile(sheets: readonly Sheet[], output: string, paper: Paper): Promise<void> {
  const { pdf } = await import('#pdf');
  await writeWhole(path.resolve(output), await pdf(sheets, { paper }), shownAs(path.resolve(output)));
}

/** Each as a file in a folder, which is made if need be. */
export async function pdfToFolder(sheets: readonly Sheet[], output: string, paper: Paper): Promise<void> {
  const { pdf } = await import('#pdf');
  const folder = path.resolve(output);
  await mkdir(folder, { recursive: true }).catch((problem: unknown) => {
    throw unwritable(problem, shownAs(folder));
  });
  const targets = sheets.map((sheet) => ({ sheet, file: path.join(folder, `${sheet.id}.pdf`) }));
  for (const { file } of targets) await refuseRig(file, 'Name another folder.');
  for (const { sheet, file } of targets) await writeWhole(file, await pdf([sheet], { paper }), shownAs(file));
}

/** `title` is the rig's. */
export async function labelsPdfToFile(title: string, pages: readonly LabelPage[], output: string): Promise<void> {
  const { pdfOfLabels } = await import('#pdf');
  await writeWhole(path.resolve(output), await pdfOfLabels(title, pages), shownAs(path.resolve(output)));
}
