import { CONNECTORS, type Connector } from '#rig';
import { metres } from './phrases';
import { problem } from './problem';

const connector = (c: Connector | undefined) => (c ? CONNECTORS[c].label : 'no connector');

export const CONNECTING = {
  'connectors/no-mate': problem<{ from: string; to: string; run: string; ends: readonly [Connector | undefined, Connector | undefined] }>(
    'error',
    (f) => ({
      what: `Nothing joins ${f.from} (${connector(f.ends[0])}) to ${f.to} (${connector(f.ends[1])}).`,
      why: 'No lead and no adapter carries the signal from the one to the other.',
      cure: 'Take another output or another input, or put the right piece in between.',
    }),
  ),
  'connectors/tail-too-short': problem<{
    from: string;
    to: string;
    run: string;
    fixedTo: 'from' | 'to';
    tailM: number;
    neededM: number;
    extensionM: number;
  }>('warning', (f) => ({
    what: `The lead that is fixed to ${f.fixedTo === 'from' ? f.from : f.to} is ${metres(f.tailM)} long, and ${f.fixedTo === 'from' ? f.to : f.from} is ${metres(f.neededM)} away along the floor.`,
    why: 'It does not reach.',
    cure: `Bring an extension of ${metres(f.extensionM)}, or move the two closer. Run leads along edges, and tape or cover them where people walk.`,
  })),
  'connectors/long-unbalanced': problem<{ from: string; to: string; run: string; neededM: number; limitM: number }>('warning', (f) => ({
    what: `${f.from} to ${f.to} is ${metres(f.neededM)} of unbalanced lead.`,
    why: `Beyond ${metres(f.limitM)} or so an unbalanced lead picks up hum, and a pickup loses its highs.`,
    cure: 'Take a balanced output (XLR) if it has one, or put a DI within reach of a short lead and go on balanced from there.',
  })),
};
