/** The connectors gear has, in the trade's words, and what mates with what. */

/** Sizes: trs and ts are the 6.35 mm jack, mini-trs the 3.5 mm one. */
export const CONNECTORS = {
  xlr: { label: 'XLR', poles: 3, family: 'xlr' },
  trs: { label: '6.35 mm TRS jack', poles: 3, family: 'jack' },
  ts: { label: '6.35 mm TS jack', poles: 2, family: 'jack' },
  combo: { label: 'XLR/jack combo', poles: 3, family: 'combo' },
  'mini-trs': { label: '3.5 mm TRS jack', poles: 3, family: 'mini' },
  'mini-ts': { label: '3.5 mm TS jack', poles: 2, family: 'mini' },
  'mini-xlr': { label: 'mini XLR', poles: 3, family: 'mini-xlr' },
  phono: { label: 'phono', poles: 2, family: 'phono' },
  'speaker-jack': { label: '6.35 mm speaker jack', poles: 2, family: 'jack' },
  'speaker-twist': { label: 'twist-lock speaker', poles: 2, family: 'twist' },
  usb: { label: 'USB', poles: 4, family: 'usb' },
  optical: { label: 'optical', poles: 1, family: 'optical' },
  // For a clock and nothing else, as far as rigs have it.
  bnc: { label: 'BNC', poles: 2, family: 'bnc' },
  coaxial: { label: 'coaxial', poles: 2, family: 'coaxial' },
} as const;

export type Connector = keyof typeof CONNECTORS;

export function isConnector(word: string): word is Connector {
  return Object.hasOwn(CONNECTORS, word);
}
