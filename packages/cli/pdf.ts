/** Sheets and labels as PDF. What makes them is loaded here and nowhere else, for it is large. */
import path from 'node:path';
import type { Paper } from '#pdf';
import type { LabelPage, Sheet } from '#sheets';
import { writeToFolder } from './folder';
import { shownAs } from './wanted';
import { writeWhole } from './write';

/** All of them as one document: sheets, what changes of one rig or of several, or a plan. */
export async function pdfToFile(sheets: readonly Sheet<string>[], output: string, paper: Paper): Promise<void> {
  const { pdf } = await import('#pdf');
  await writeWhole(path.resolve(output), await pdf(sheets, { paper }), shownAs(path.resolve(output)));
}

/** Each as a file in a folder, which is made if need be. */
export async function pdfToFolder(sheets: readonly Sheet[], output: string, paper: Paper): Promise<void> {
  const { pdf } = await import('#pdf');
  await writeToFolder(
    output,
    sheets.map((sheet) => ({ name: `${sheet.id}.pdf`, text: () => pdf([sheet], { paper }) })),
  );
}

/** `title` is the rig's. */
export async function labelsPdfToFile(title: string, pages: readonly LabelPage[], output: string): Promise<void> {
  const { pdfOfLabels } = await import('#pdf');
  await writeWhole(path.resolve(output), await pdfOfLabels(title, pages), shownAs(path.resolve(output)));
}
