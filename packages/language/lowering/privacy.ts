import type { Model, Source } from '#rig';
import type { Private } from '../generated/ast';

/**
 * What is never meant for the audience. A source or its model can say so ("private", "public"); where neither does, its
 * name or label tells: common practice, no source.
 */
const FOR_THE_BAND_ALONE = words('talkback|talk-back|cues?');
const CLICK = words('clicks?|clicktrack|metronome|count[ -]?ins?|count[ -]?offs?');

function words(these: string): RegExp {
  return new RegExp(`(?<!\\p{L})(${these})(?!\\p{L})`, 'iu');
}

export function soundsPrivate(name: string, label: string | undefined): boolean {
  return [name, label ?? ''].some((called) => FOR_THE_BAND_ALONE.test(called) || isClick(called));
}

/** By what it is called. "Count" is one by itself, and not as a word among others. */
export function isClick(called: string): boolean {
  return CLICK.test(called) || called.toLowerCase() === 'count';
}

type Privacy = Pick<Source, 'private' | 'privateOutputs' | 'soundsPrivate'>;

/** `written`: what its own line says, and `named` of which of its outputs. */
export function privacyOf(
  { name, label }: { readonly name: string; readonly label?: string },
  written: Pick<Private, 'how' | 'outputs'> | undefined,
  named: readonly string[],
  model: Model | undefined,
): Privacy {
  // A slip in the name of one output is not all of them.
  if (written && written.outputs.length > 0 && named.length === 0) return { private: false };
  const outputs = model?.ports.filter(({ direction }) => direction === 'output') ?? [];
  const ofModel = outputs.flatMap((port) => (port.private ? port.id : []));
  const said = written ? written.how === 'private' : (model?.private ?? (ofModel.length > 0 || undefined));
  // Outputs that are no channels of their own carry the same as the others.
  const channels = outputs.flatMap((port) => (port.separate ? port.id : []));
  if (said === undefined && soundsPrivate(name, label)) {
    // A bell can be called so as well; the one channel of what is played back is what it is called.
    const isSure = model?.lineage.includes('playback') && channels.length < 2;
    return { private: true, ...(isSure ? {} : { soundsPrivate: true }) };
  }
  if (said === undefined) return { private: false };
  const some = written || model?.private ? named : ofModel;
  const isPart = said && some.length > 0 && some.every((id) => channels.includes(id)) && channels.some((id) => !some.includes(id));
  return isPart ? { private: true, privateOutputs: some } : { private: said };
}
