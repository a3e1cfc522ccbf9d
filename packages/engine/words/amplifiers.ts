import { problem } from './problem';

export const AMPLIFIERS = {
  'amplifiers/no-loudspeaker': problem<{ source: string; amplifier: string; into: string; lines: readonly string[] }>(
    'danger',
    (f) => ({
      what: `${f.amplifier} is an amplifier’s loudspeaker output; it goes into ${f.into}, and no loudspeaker is plugged in behind it.`,
      why: 'DANGER: a valve amplifier without its loudspeaker can destroy itself within minutes, and catch fire. A DI is no load.',
      cure: `Plug the loudspeaker into the thru of that DI before the amplifier is switched on, and write it down: ${f.lines.map((line) => `"${line}"`).join(', ')}. It has to suit the amplifier, in ohms and in watts. If in doubt, ask a qualified technician.`,
    }),
    { brief: 'amplifier without a loudspeaker', whatever: true },
  ),
};
