/** Figures in a model that nothing reads where they stand: an input has no level, and an output no gain to set. */
import { CONNECTORS, type Connector, type SignalKind } from '#rig';
import type * as ast from '../generated/ast';

/** The port that a figure stands at, and what else is said there. */
export interface Standing {
  readonly direction: 'input' | 'output';
  readonly connector: Connector | undefined;
  readonly kind: SignalKind;
  readonly figures: readonly ast.Figure[];
}

const AN_INPUT = 'an input';
const AN_OUTPUT = 'an output';
const ANALOGUE = 'a socket that is neither digital nor radio';

/** Where a figure would count; undefined where it does so where it stands. */
export function belongsTo(figure: ast.Figure, { direction, connector, kind, figures }: Standing): string | undefined {
  const analogue = kind !== 'digital' && kind !== 'radio';
  const only = (wanted: 'input' | 'output') => {
    if (direction !== wanted) return wanted === 'input' ? AN_INPUT : AN_OUTPUT;
    return analogue ? undefined : ANALOGUE;
  };
  switch (figure.$type) {
    case 'Impedance':
    case 'Max':
      return analogue ? undefined : ANALOGUE;
    case 'Capacitance':
    case 'Inductance':
    case 'Level':
      return only('output');
    case 'GainRange':
    case 'Noise':
    case 'DynamicRange':
    case 'InputPad':
      return only('input');
    case 'Sensitivity':
      if (kind === 'phones') return direction === 'input' ? undefined : 'the input of earphones';
      return direction === 'output' && kind === 'mic' ? undefined : 'the output of a microphone ("mic")';
    case 'SelfNoise':
      return kind === 'mic' && direction === 'output' && figures.some(({ $type }) => $type === 'Sensitivity')
        ? undefined
        : 'the output of a microphone ("mic") that states its sensitivity';
    case 'Phantom':
      if (figure.how === undefined) return undefined;
      return only(figure.how === 'each' || figure.how === 'shared' ? 'input' : 'output');
    case 'Draws':
      return direction === 'output' && figures.some((each) => each.$type === 'Phantom' && each.how === 'needed')
        ? undefined
        : 'an output with "phantom needed"';
    case 'Balance':
      if (figure.how === 'unbalanced') return analogue ? undefined : ANALOGUE;
      if (connector !== undefined && CONNECTORS[connector].poles < 3) return 'a plug of three contacts';
      return figure.how === 'floating' ? only('output') : analogue ? undefined : ANALOGUE;
    case 'Channels':
      return undefined;
  }
}
