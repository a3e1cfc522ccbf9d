/**
 * What is never meant for the audience. A source or its model can say so ("private", "public"); where neither does, its
 * name or label tells: common practice, no source.
 */
const FOR_THE_BAND_ALONE = /(^|[^\p{L}])(click|clicks|clicktrack|metronome|talkback|talk-back|cue|cues|count-in)([^\p{L}]|$)/iu;

export function soundsPrivate(name: string, label: string | undefined): boolean {
  return FOR_THE_BAND_ALONE.test(name) || (label !== undefined && FOR_THE_BAND_ALONE.test(label));
}
