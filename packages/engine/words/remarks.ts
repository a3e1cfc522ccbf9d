/** What is wrong with a plug, in the few words that stand beside a name in a list: `needs a pad: 6 dB too hot`. */
import { CONNECTORS } from '#rig';
import type { Lead } from '../solve/mating';
import { type Code, PROBLEMS } from '.';
import type { Lengths } from './lengths';
import { NOTHING_JOINS, type Problem, type Short } from './problem';
import type { Severity } from './severity';

export interface Remark extends Short {
  readonly code: Code | 'adapter';
  /** How much stands against it: the more, the worse. */
  readonly weight: number;
}

export const NO_MATE: Remark = { code: 'connectors/no-mate', wrong: NOTHING_JOINS, weight: 100 };

const SEVERE: Readonly<Record<Severity, number>> = { danger: 16, error: 6, warning: 3, note: 1 };

/** What is found while a line is tried; undefined for what is not a plug's fault. `own`: it is told at that line itself. */
export function remarkOf(
  { code, figures, inFeet }: Lengths & { readonly code: Code; readonly figures: unknown },
  own: boolean,
): Remark | undefined {
  const { severity, short } = PROBLEMS[code] as Problem<unknown>;
  if (!short) return undefined;
  const { wrong, needs } = short(figures, own, { inFeet });
  return { wrong: severity === 'danger' ? `DANGER: ${wrong}` : wrong, needs, code, weight: SEVERE[severity] };
}

/** `needs a pad: 6 dB too hot`; the worst of several. */
export function remarkText(remarks: readonly Remark[]): string {
  const worst = worstOf(remarks);
  if (!worst) return '';
  return worst.needs ? `needs ${worst.needs}: ${worst.wrong}` : worst.wrong;
}

export function worstOf(remarks: readonly Remark[]): Remark | undefined {
  return remarks.reduce<Remark | undefined>((most, each) => (most && most.weight >= each.weight ? most : each), undefined);
}

export function weightOf(remarks: readonly Remark[]): number {
  return remarks.reduce((sum, { weight }) => sum + weight, 0);
}

/** An adapter is little to bring, but it has to be there. */
const ADAPTER_WEIGHT = 0.5;

const FAMILIES: Readonly<Record<string, string>> = { jack: 'jack', xlr: 'XLR', mini: 'small jack', 'mini-xlr': 'mini XLR', phono: 'phono' };

/** `adapter jack to XLR` */
export function adapterRemark(ends: Lead['ends']): Remark {
  const [from, into] = ends.map(({ connector }) => FAMILIES[CONNECTORS[connector].family] ?? CONNECTORS[connector].label);
  return { code: 'adapter', wrong: `adapter ${from} to ${into}`, weight: ADAPTER_WEIGHT };
}
