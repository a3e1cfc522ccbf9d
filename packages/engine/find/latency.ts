/** Who hears themselves too late. */
import type { Fix } from '../cure/fix';
import { buffersS, isSung, type Latency, type LatencyPart, limitS, wedgeM } from '../solve/latency';
import type { Network } from '../solve/network';
import { type Finding, finding } from './finding';
import { madeHere } from './related';

/** Buffers that are worth trying, in samples: powers of two are what drivers offer (common practice, no source). */
const BUFFERS = [2048, 1024, 512, 256, 128, 64, 32];

/** Whose own sound is late: told at the buffer where a smaller one would do, else at the mix. */
export function late(net: Network, all: readonly Latency[]): Finding[] {
  const { bufferSamples, rateHz } = net.rig.settings;
  const worst = all.filter(({ totalS, source }) => totalS > limitS(source)).sort((a, b) => b.totalS - a.totalS);
  const rest = (each: Latency) => each.totalS - (bufferSamples === undefined ? 0 : buffersS(bufferSamples, rateHz));
  const bufferAlone = (each: Latency) => rest(each) <= limitS(each.source);
  const byBuffer = worst.filter((each) => bufferSamples !== undefined && (bufferAlone(each) || rest(each) < each.totalS / 2));
  const others = worst.filter((each) => !byBuffer.includes(each));
  const findings: Finding[] = [];
  const [first] = byBuffer;
  if (first) {
    const curable = byBuffer.filter(bufferAlone);
    const does = (samples: number) => curable.every((each) => rest(each) + buffersS(samples, rateHz) <= limitS(each.source));
    const smaller = curable.length === 0 ? undefined : BUFFERS.find((samples) => samples < (bufferSamples ?? 0) && does(samples));
    const fixes: Fix[] = smaller === undefined ? [] : [{ kind: 'rewrite', place: 'rig/buffer', with: `buffer ${smaller} samples` }];
    findings.push(
      finding('latency/late', 'rig/buffer', told(first, byBuffer, bufferSamples, smaller), {
        about: ids(first),
        related: [madeHere(first.source)],
        fixes,
      }),
    );
  }
  for (const mix of new Set(others.map((each) => each.mix))) {
    const here = others.filter((each) => each.mix === mix);
    const [slowest] = here;
    if (slowest)
      findings.push(
        finding('latency/late', mix.place, told(slowest, here, undefined, undefined), {
          about: ids(slowest),
          related: [madeHere(slowest.source)],
        }),
      );
  }
  return findings;
}

const ids = ({ performer, source, mix }: Latency) => [performer.id, source.id, mix.id];

function told(worst: Latency, all: readonly Latency[], samples: number | undefined, smaller: number | undefined) {
  const people = new Set(all.map(({ performer }) => performer.id));
  const slowest = worst.parts
    .filter(({ what }) => what !== 'buffers')
    .reduce<LatencyPart | undefined>((a, b) => ((b.seconds ?? 0) > (a?.seconds ?? 0) ? b : a), undefined);
  return {
    performer: worst.performer.label,
    source: worst.source.label,
    totalS: worst.totalS,
    wedgeM: wedgeM(worst.totalS),
    limitS: limitS(worst.source),
    sung: isSung(worst.source),
    parts: worst.parts,
    others: people.size - 1,
    samples,
    smaller,
    slowest: slowest?.of ?? '',
  };
}
