/** What is wrong with a plug, in the few words that stand beside a name in a list: `needs a pad: 6 dB too hot`. */
import { type Code, decibels, type FiguresOf, type Finding, type Severity, statementOf } from '#engine';

export interface Remark {
  readonly code: Code | 'adapter';
  /** `6 dB too hot` */
  readonly wrong: string;
  /** What would put it right: `a pad`. */
  readonly needs?: string;
  /** How much stands against it: the more, the worse. */
  readonly weight: number;
}

type Told = Pick<Remark, 'wrong' | 'needs'>;

/** A split that is missing is missing wherever the line ends. */
export const NEEDS_SPLIT = 'a split';
export const NO_MATE: Remark = { code: 'connectors/no-mate', wrong: 'nothing joins the two', weight: 100 };

const SEVERE: Readonly<Record<Severity, number>> = { danger: 16, error: 6, warning: 3, note: 1 };

const SHORT: { readonly [C in Code]?: (figures: FiguresOf<C>, own: boolean) => Told } = {
  'levels/mic-on-line': ({ needs }) => ({
    wrong: needs && needs.shortDb > 0 ? `${decibels(needs.shortDb)} too little gain` : 'a microphone into a line input',
    needs: 'a microphone input',
  }),
  'levels/instrument-on-line': () => ({ wrong: 'a pickup into a line input', needs: 'a DI and a microphone input' }),
  'levels/instrument-on-mic': () => ({ wrong: 'an instrument into a microphone input', needs: 'a DI' }),
  'levels/line-on-mic': ({ overDb }) =>
    overDb > 0 ? { wrong: `${decibels(overDb)} too hot`, needs: 'a pad' } : { wrong: 'line level into a microphone input', needs: 'a DI' },
  'levels/speaker-output': () => ({ wrong: 'DANGER: a loudspeaker output' }),
  'levels/gain-short': ({ shortDb }) => ({ wrong: `${decibels(shortDb)} too little gain` }),
  'levels/too-hot': ({ overDb, padDb, padFits }) => ({
    wrong: `${decibels(overDb)} too hot`,
    needs: padDb !== undefined ? 'its own pad' : padFits ? 'a pad' : undefined,
  }),
  'levels/overload': ({ overDb, port, pad }) => ({
    wrong: `${decibels(overDb)} too hot for ${port}`,
    needs: pad ? 'a pad before it' : undefined,
  }),
  'levels/loading': ({ lossDb }) => ({ wrong: `${decibels(lossDb)} lost into its load` }),
  'levels/hiss': ({ snrDb }) => ({ wrong: `hiss: only ${decibels(snrDb)} above the noise` }),
  'levels/split-loss': ({ lossDb }) => ({ wrong: `the split costs ${decibels(lossDb)}` }),
  'levels/low-end': () => ({ wrong: 'its lows are lost' }),
  'levels/top-end': () => ({ wrong: 'its highs are lost in the lead' }),
  'connectors/no-mate': () => ({ wrong: NO_MATE.wrong }),
  'connectors/tail-too-short': () => ({ wrong: 'its lead does not reach', needs: 'an extension' }),
  'connectors/long-unbalanced': ({ neededM }) => ({ wrong: `${Math.round(neededM)} m unbalanced`, needs: 'a DI' }),
  'connectors/stereo-into-balanced': () => ({ wrong: 'stereo into a balanced input' }),
  'connectors/mono-into-stereo': () => ({ wrong: 'not the same in both ears' }),
  'phantom/missing': () => ({ wrong: 'no phantom power here' }),
  'phantom/blocked': ({ by }) => ({ wrong: `${by} stops the phantom power` }),
  'phantom/harmful': () => ({ wrong: 'DANGER: phantom power would reach it', needs: 'a transformer' }),
  'phantom/into-output': () => ({ wrong: 'phantom power would go back into it', needs: 'a transformer' }),
  'phantom/reaches-house': ({ because }) => ({ wrong: `the phantom power${because ? ` of ${because}` : ''} would reach the house` }),
  'phantom/two-supplies': ({ second }) => ({ wrong: `phantom power from ${second} too` }),
  'phantom/not-off': () => ({ wrong: 'phantom power is on at its neighbour' }),
  'phantom/over-budget': () => ({ wrong: 'more phantom power than the gear can give' }),
  'phantom/weak': () => ({ wrong: 'too little phantom power left' }),
  'splits/missing': ({ takers }, own) => ({ wrong: `taken by ${takers[own ? 0 : 1]}`, needs: NEEDS_SPLIT }),
  'splits/over-several': () => ({ wrong: 'one channel on several inputs' }),
  'splits/leg-taken-twice': () => ({ wrong: 'that leg is taken' }),
  'splits/side-left-out': ({ channels }) => ({ wrong: `one of its ${channels.length} sides alone` }),
  'splits/second-piece': () => ({ wrong: 'a second one behind the first' }),
  'splits/nothing-comes-out': () => ({ wrong: 'nothing comes out of it' }),
};

/** What is found while a run is tried; undefined for what is not a plug's fault. */
export function remarkOf(finding: Finding, run: string): Remark | undefined {
  const short = SHORT[finding.code] as ((figures: unknown, own: boolean) => Told) | undefined;
  const told = short?.(finding.figures, statementOf(finding.place) === run);
  return told && { ...told, code: finding.code, weight: SEVERE[finding.severity] };
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
