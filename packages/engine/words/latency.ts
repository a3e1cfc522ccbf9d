import { lengthText } from './lengths';
import { capital, count, list, milliseconds } from './phrases';
import { problem, resting } from './problem';

interface Part {
  readonly of: string;
  readonly seconds?: number;
}

/** `0.5 ms in Expander, 2.7 ms in buffers`, and what no figure is known of. */
export function latencyParts(parts: readonly Part[]): string {
  const known = parts.flatMap(({ of, seconds }) => (seconds === undefined ? [] : [`${milliseconds(seconds)} in ${of}`]));
  const unknown = parts.flatMap(({ of, seconds }) => (seconds === undefined ? [of] : []));
  return [
    list(known),
    unknown.length > 0 ? `not counting ${list(unknown)}, which ${unknown.length === 1 ? 'states' : 'state'} no figure` : '',
  ]
    .filter(Boolean)
    .join(', ');
}

export const LATENCY = resting(['settings'], {
  'latency/late': problem<{
    performer: string;
    source: string;
    totalS: number;
    wedgeM: number;
    limitS: number;
    sung: boolean;
    parts: readonly Part[];
    others: number;
    samples: number | undefined;
    smaller: number | undefined;
    slowest: string;
  }>('warning', (f, lengths) => ({
    what: `${f.performer} hears ${f.source} ${milliseconds(f.totalS)} late, as from a wedge ${lengthText(f.wedgeM, lengths)} away: ${latencyParts(f.parts)}.${f.others > 0 ? ` ${capital(count(f.others, 'other'))} ${f.others === 1 ? 'is' : 'are'} late as well.` : ''}`,
    why: f.sung
      ? `One hears one’s own voice at once through the bone, and the late one on top: from about 1 ms that colours it, and above ${milliseconds(f.limitS)} or so most singers are put off by it.`
      : `From about 1 ms the late sound colours what one hears of oneself directly; above ${milliseconds(f.limitS)} or so it is felt as late, and further on heard as an echo.`,
    cure:
      f.samples === undefined
        ? `The slowest of these is ${f.slowest}: use something quicker there, or a way to the ears without it.`
        : f.smaller === undefined
          ? `Let the interface make the mixes by itself, and leave "buffer" out here.`
          : `Set a buffer of ${f.smaller} samples, if the computer keeps up with it. Or let the interface make the mixes by itself, and leave "buffer" out here.`,
  })),
});
