/** A danger that stands in what can be read is told, whatever else of the same line cannot. */
import { describe, expect, it } from 'vitest';
import { analyseText } from './open';

const rig = (line: string) => `rig "Safe Distance"
performer ada "Ada"
source amp      "Amplifier"  is guitar-amp     by ada
source ribbon   "Ribbon"     is ribbon-mic     by ada
source overhead "Overhead"   is condenser-mic  by ada
source click    "Click"      is click-channel
gear iface  "Interface"  is interface-8-mic
${line}
mix ada  mono  for ada  { overhead 0 dB }
output iface.phones1  carries ada
`;

const SPEAKER = 'input iface.5  takes amp.speaker';
const RIBBON = 'input iface.1  takes overhead\ninput iface.2  takes ribbon';
const CLICK = 'input iface.usb1  takes click\nmix hall  mono  for house  { click 0 dB';

const LINES: readonly (readonly [danger: string, line: string])[] = [
  ...[' gian 20 dB', ' gain 20', ' gain dB 20', ' via', ' via y-laed', ' via y-lead,, pad-20', ' = 3', ' "Amp"', ' phantom onn'].flatMap(
    (slip) => [['levels/speaker-output', SPEAKER + slip] as const, ['phantom/harmful', RIBBON + slip] as const],
  ),
  ['levels/speaker-output', 'input iface 5  takes amp.speaker'],
  ['levels/speaker-output', 'input iface.5, takes amp.speaker'],
  ['levels/speaker-output', 'input iface.5  takes amp .speaker'],
  ['mixes/private-to-house', `${CLICK} overhead }`],
  ['mixes/private-to-house', `${CLICK}  overhaed 0 dB }`],
  ['mixes/private-to-house', `${CLICK}, overhead 0 }`],
];

describe('beside a slip', () => {
  it.each(LINES)('%s is told: %s', async (danger, line) => {
    const codes = (await analyseText(rig(line))).located.map(({ finding }) => finding.code);
    expect(codes).toContain(danger);
    expect(
      codes.some((code) => /^(text|names)\//.test(code)),
      codes.join(', '),
    ).toBe(true);
  });

  it('there is none where it cannot be read what is plugged in', async () => {
    const codes = (await analyseText(rig('input iface.5  tkaes amp.speaker'))).located.map(({ finding }) => finding.code);
    expect(codes).not.toContain('levels/speaker-output');
  });
});
