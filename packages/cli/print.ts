/** Printing: to whom, how wide and in which colours. */
import { styleText } from 'node:util';
import { UNUSABLE, type Unusable } from './exit';
import type { Style } from './report/text';
import { visible } from './report/visible';

/** Of what is no terminal: fits a log and a narrow window. */
const USUAL_WIDTH = 100;
const NARROWEST = 40;

/** Colours only for a terminal that has them, unless NO_COLOR or FORCE_COLOR says otherwise. Node makes them from 20.12 on. */
export function style(): Style {
  const { stdout } = process;
  const forced = process.env.FORCE_COLOR;
  const colour = forced !== undefined && !stdout.isTTY ? forced !== '0' && forced !== 'false' : stdout.isTTY && stdout.hasColors();
  const able = typeof styleText === 'function';
  return { colour: able && colour, width: Math.max(NARROWEST, stdout.isTTY ? stdout.columns || USUAL_WIDTH : USUAL_WIDTH) };
}

/** As many columns as the terminal has; nothing where there is none, or it does not say. */
export function terminalWidth(): { readonly width?: number } {
  const { isTTY, columns } = process.stdout;
  return isTTY && columns ? { width: columns } : {};
}

/** Resolves when the text is on its way. */
export function print(text: string): Promise<void> {
  return new Promise((resolve) => process.stdout.write(text, () => resolve()));
}

/** Tells the person at the terminal what could not be done; standard output stays what others read. */
export function tell({ what, cure }: Pick<Unusable, 'what' | 'cure'>): void {
  process.stderr.write(`earloom: ${visible(`${what} ${cure}`.trim())}\n`);
}

/** A reader that has seen enough (`| head`) is no mistake: the rest is not printed. A full disk is one. */
export function watchOutput(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (problem: NodeJS.ErrnoException) => {
      if (problem.code === 'EPIPE') process.exit();
      if (stream === process.stdout) tell({ what: `The output cannot be written (${problem.code}).`, cure: 'It is not whole.' });
      process.exit(UNUSABLE);
    });
  }
}
