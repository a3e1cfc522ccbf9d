/** A rig of so many lines and mixes, with labels of forty characters; made, so that it can be of any size. */
export function big(lines: number, mixes: number): string {
  const upTo = (count: number) => Array.from({ length: count }, (_, index) => index);
  const label = (what: string, index: number) => `${what} ${index + 1} whose name is as long as it can be`.slice(0, 40);
  const boxes = upTo(Math.ceil(lines / 8));
  return [
    'rig "A very large band with a very long title"',
    ...upTo(mixes).map((index) => `performer p${index} "${label('Performer', index)}"`),
    ...upTo(lines).map(
      (index) => `source s${index} "${label('Microphone', index)}" is dynamic-mic by p${index % mixes} typical ${80 + (index % 40)} dB SPL`,
    ),
    ...boxes.map((box) => `gear iface${box} "${label('Interface', box)}" is interface-8-mic`),
    ...upTo(lines).map(
      (index) => `input iface${Math.floor(index / 8)}.${(index % 8) + 1} takes s${index}${index % 3 === 0 ? ' gain 20 dB' : ''}`,
    ),
    ...upTo(mixes).map((mix) => {
      const stereo = mix % 2 === 0;
      const sends = upTo(lines).map(
        (index) => `  s${index} ${-((index * 7 + mix) % 40)} dB${stereo && index % 3 === 0 ? ` left ${(index * 9) % 101} %` : ''}`,
      );
      return `mix m${mix} "${label('Mix', mix)}" ${stereo ? 'stereo' : 'mono'} for p${mix} {\n${sends.join('\n')}\n}`;
    }),
    ...upTo(Math.min(mixes, boxes.length)).map((mix) => `output iface${mix}.${mix % 2 === 0 ? '1..2' : '3'} carries m${mix}`),
    '',
  ].join('\n');
}
