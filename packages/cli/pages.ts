/** The page of each code, which ships beside the command line as one file. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';

/** By code; none where they are not beside it. */
export async function pagesOfCodes(): Promise<Readonly<Record<string, string>>> {
  const text = await readFile(path.join(__dirname, 'mistakes.json'), 'utf8').catch(() => '{}');
  return JSON.parse(text) as Record<string, string>;
}
