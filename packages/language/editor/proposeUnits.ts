/** Which of the units that a figure can be given in is the likeliest where the cursor is, and which figure to begin with. */
import { isInFeet } from '../syntax/feet';
import { outputsOf } from './figures';
import { settingsAt } from './gainToSet';
import type { Scene } from './scene';

/** The order of the others is that of the table of units. Common practice, no source. */
const USUAL: Readonly<Record<string, string>> = {
  'Rate/rate': 'kHz',
  'Rates/rates': 'kHz',
  'SetTime/set': 'min',
  'Latency/latency': 'ms',
  'Power/power': 'h',
  'Highest/highest': 'kHz',
  'Tunes/tunes': 'MHz',
  'Tunes/step': 'kHz',
  'CarrierKind/': 'kHz',
  'GuardDistance/': 'kHz',
  'Avoid/avoid': 'MHz',
  'SoundCheck/check': 'min',
  'Circuit/circuit': 'A',
  'OnFrequency/on': 'MHz',
  'Figure/capacitance': 'nF',
};

/** `figure` is the rule and the word that it stands behind. Undefined where none is likelier than the others. */
export function likelyUnit(figure: string, scene: Scene): string | undefined {
  const { rig, context } = scene;
  const said = context.before.map(({ image }) => image);
  const output = said.lastIndexOf('output') > said.lastIndexOf('input');
  const mode = said.findLast((image) => KINDS.has(image));
  switch (figure) {
    case 'Figure/impedance':
      return output || mode === 'phones' || mode === 'speaker' ? 'ohm' : mode === 'instrument' ? 'Mohm' : 'kohm';
    case 'Figure/max':
      // How loud a microphone can bear it; of all else, how much voltage.
      return output && mode === 'mic' && said.includes('sensitivity') ? 'dB SPL' : 'dBu';
    case 'Figure/sensitivity':
      return mode === 'phones' ? 'dB SPL/mW' : 'mV/Pa';
    case 'Typical/typical':
    case 'Peak/peak':
      return isHeardByMicrophone(scene, said) ? 'dB SPL' : 'dBu';
    case 'At/at':
    case 'Stage/stage':
    case 'Lengths/lengths':
    case 'LeadHad/':
    case 'Tail/tail':
      return lengthUnit(scene);
    case 'Holding/':
    case 'Budget/budget':
      return rig.settings.budget?.currency;
    default:
      return USUAL[figure];
  }
}

/**
 * A number to begin with, where one is usual enough; in the likeliest unit. Common practice, no source. None for a frequency: what may be
 * transmitted is not ours to say.
 */
export function usualNumber(figure: string, scene: Scene): number | undefined {
  const said = scene.context.before.map(({ image }) => image);
  switch (figure) {
    case 'At/at':
      // In the middle; the second figure is how far from the audience.
      return said.at(-1) !== ',' ? 0 : lengthUnit(scene) === 'ft' ? 6 : 2;
    case 'Typical/typical':
      return isHeardByMicrophone(scene, said) ? 100 : 0;
    case 'Peak/peak':
      return isHeardByMicrophone(scene, said) ? 120 : 10;
    case 'InputClause/gain':
      return gainHere(scene) ?? 30;
    case 'Send/':
      return 0;
    case 'Rate/rate':
      return 48;
    case 'SetTime/set':
      return 60;
    default:
      return undefined;
  }
}

/** The gain that the line at the cursor wants. */
function gainHere({ analysis: { checked }, run }: Scene): number | undefined {
  if (!checked || run?.kind !== 'input') return undefined;
  const lines = checked.network.lines.filter((line) => line.run === run);
  return settingsAt(checked, run, lines)[0]?.gainDb;
}

const KINDS: ReadonlySet<string> = new Set(['mic', 'instrument', 'line', 'phones', 'speaker', 'digital', 'radio']);

/** Whether a source is a microphone with a sensitivity; also where its model is not known, as most are. */
function isHeardByMicrophone(scene: Scene, said: readonly string[]): boolean {
  const name = said[0] === 'model' ? said[1] : said[said.indexOf('is') + 1];
  const model = name === undefined ? undefined : scene.model(name.normalize('NFC'));
  const modes = model ? outputsOf(model).flatMap((port) => port.modes) : [];
  return modes.length === 0 || modes.some(({ sensitivityVPerPa }) => sensitivityVPerPa !== undefined);
}

/** Feet in a rig that is written in feet. */
function lengthUnit({ document }: Scene): string {
  return isInFeet(document.textDocument.getText()) ? 'ft' : 'm';
}
