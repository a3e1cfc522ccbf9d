/** What fuzzing has found: texts that once made the editor hang, stumble or say nonsense, looked at in every way. */
import { it } from 'vitest';
import { randomFrom } from '../generate';
import { Looker } from './look';

const FOUND: Readonly<Record<string, string>> = {
  'completion never ended in a text that starts with an empty line': '\n\n  gear',
  'neither did a selection in a comment there': '\n# one\n# two\n',
  'a hover of a model whose power is still being typed': 'model box is interface {\n  input 1 trs\n  power\n}\n',
  'a hover of a port of a model whose origin is': 'model box is interface {\n  input 1 trs { line }\n  origin\n}\n',
  'a completion that would have replaced the end of the line above': 'rig""3/\n1m\n/',
  'a word that JavaScript knows before what does not fit': 'mix a { \u00a5__proto__ loops }\nmix b { \u00a5constructor loops }\n',
  'a hover of a level beyond all measure':
    'rig "x"\nmix a { e 40501 dB }\nsource v is dynamic-mic peak 9999999 dB SPL typical 999999 dBu\n',
  'a hover of a sensitivity that is none': 'model m { output out xlr mic sensitivity 0 mV/Pa }\n',
  'a figure whose number runs into its unit, which formatting sets apart': 'model c "" is dynamic-mic { peak 9o }\n',
  'and one with its unit on the next line': 'model c "" is dynamic-mic {\n  peak 9\nkilo\n}\n',
  'a model moved to a shelf from the first line': 'model u',
  'a model moved to a shelf with the comments that the `use` was put between': '#\n\n#\nmodel l is playback {}\n',
};

it.each(Object.entries(FOUND))('%s', { timeout: 60_000 }, async (_, text) => {
  await new Looker({}).look(text, randomFrom(1), { thorough: true });
});
