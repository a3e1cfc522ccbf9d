/**
 * A line tried out: written into a rig of the few lines that it touches, and checked. What the engine finds wrong decides; nothing here
 * knows what a microphone needs.
 */
import { type Checked, check, type Finding, statementOf } from '#engine';
import type { HouseRun, InputRun, OutputRun, Piece, Rig } from '#rig';

/** What a line brings, as far as a plan weighs it. Whole numbers: decibels and metres in tenths. */
export interface Verdict {
  /** What forbids it: the first danger or error. */
  readonly blocked?: Finding;
  /** What would be found wrong and does not forbid it. */
  readonly warnings: readonly Finding[];
  /** How wrong that is: ten for each, and the decibels that are lost of the sound. */
  readonly wrong: number;
  /** Lines of the house's that would die with our power or our plug; that go into something of ours first; that metal joins to our ground. */
  readonly dependent: number;
  readonly replugged: number;
  readonly metal: number;
  /** Gain short, too hot, and headroom missing, added up. */
  readonly levels: number;
  readonly leads: number;
  readonly length: number;
  /** Amperes that the device's own phantom supply gives for it. */
  readonly drawsA: number;
  /** It needs phantom power from the input that it lands on. */
  readonly needsPhantom: boolean;
}

/** What a line alone can do nothing about, or what other parts of a plan see to. */
const ELSEWHERE = /^(mixes|latency|stage|rig|house\/not-there|splits\/needless)(\/|$)/;
/** Of a mix on its way to the ears, what is sent and from where is not the way's matter. */
const OF_SENDS =
  /^(mixes\/(not-patched|empty|half-sent|without-self|loud-send|sent-twice|pan-in-mono|clips|too-hot|no-mix)|latency|stage|rig)/;
/** Weighed on its own: what hangs on us, and what metal joins. */
const WEIGHED = /^(house\/dependent$|ground\/)/;

const keyOf = ({ code, place }: Finding) => `${code} ${place}`;

interface Weight {
  readonly checked: Checked;
  readonly dependent: number;
  readonly metal: number;
  readonly leads: number;
  readonly length: number;
}

function weigh(rig: Rig): Weight {
  const checked = check(rig);
  const real = checked.leads.filter(({ lead }) => lead !== undefined);
  return {
    checked,
    dependent: checked.impact.lines.filter(({ how }) => how === 'dependent').length,
    metal: rig.settings.sharedMains ? 0 : checked.metalPaths.length,
    leads: real.length,
    length: real.reduce((sum, { lengthM, ownM }) => sum + (lengthM ?? 0) + (ownM ?? 0), 0),
  };
}

/** What names a rig without the line that is tried: the one that it is, and how it looks. */
export interface Without {
  readonly key: string;
  /** The same for rigs in which the engine sees the same, but for names. */
  readonly kind: string;
}

/** Rigs without the line that is tried, each checked once. */
export class Trials {
  private readonly before = new Map<string, Weight>();
  /** How many rigs have been checked, for measurements. */
  count = 0;

  private weighed(rig: Rig): Weight {
    this.count += 1;
    return weigh(rig);
  }

  private known({ key, kind }: Without, counts: (finding: Finding) => boolean, rig: () => Rig): Weight {
    const there = this.before.get(key) ?? this.before.get(kind);
    if (there) return there;
    const weight = this.weighed(rig());
    // Where nothing is found, no finding names what another rig of the kind calls otherwise.
    this.before.set(weight.checked.findings.some(counts) ? key : kind, weight);
    return weight;
  }

  /**
   * Input lines with the lines of the house's that take the same source. `own` are the ids of all of them; `without` names the rig without them.
   */
  line(rig: Rig, lines: readonly InputRun[], own: ReadonlySet<string>, without: Without): Verdict {
    const ours = new Set(lines.map(({ id }) => id));
    const counts = ({ code }: Finding) => !ELSEWHERE.test(code);
    const base = this.known(without, counts, () => ({ ...rig, inputs: rig.inputs.filter(({ id }) => !ours.has(id)) }));
    const weight = this.weighed(rig);
    const there = new Set(base.checked.findings.map(keyOf));
    const found = weight.checked.findings.filter(
      (finding) => counts(finding) && (own.has(statementOf(finding.place)) || !there.has(keyOf(finding))),
    );
    const { supplies, levels, network, rig: tried } = weight.checked;
    let tenths = 0;
    for (const line of network.lines) {
      const gain = ours.has(line.run.id) ? levels.of(line)?.gain : undefined;
      if (gain) tenths += Math.round(10 * (gain.shortDb + gain.hotDb + Math.max(0, tried.settings.marginDb - gain.headroomDb)));
    }
    const fed = supplies.needy.filter(({ supplier }) => supplier && ours.has(supplier.line.run.id));
    return {
      ...verdictOf(found, weight, base),
      levels: tenths,
      replugged: weight.checked.impact.replugged.length - base.checked.impact.replugged.length,
      drawsA: fed.reduce((sum, { drawsA }) => sum + (drawsA ?? 0.01), 0),
      needsPhantom: fed.length > 0,
    };
  }

  /** Lines that carry a mix to somebody's ears or to the house. */
  way(rig: Rig, lines: readonly OutputRun[], packs: readonly Piece[], house: readonly HouseRun[], without: Without): Verdict {
    const ours = new Set([...lines, ...house].map(({ id }) => id));
    const mine = new Set(packs.map(({ id }) => id));
    const counts = ({ code }: Finding) => !OF_SENDS.test(code) && code !== 'mixes/unheard';
    const base = this.known(without, counts, () => ({
      ...rig,
      outputs: rig.outputs.filter(({ id }) => !ours.has(id)),
      house: rig.house.filter(({ id }) => !ours.has(id)),
      pieces: new Map([...rig.pieces].filter(([id]) => !mine.has(id))),
    }));
    const weight = this.weighed(rig);
    const there = new Set(base.checked.findings.map(keyOf));
    const found = weight.checked.findings.filter((finding) => counts(finding) && !there.has(keyOf(finding)));
    return { ...verdictOf(found, weight, base), levels: 0, replugged: 0, drawsA: 0, needsPhantom: false };
  }
}

/** Anything found wrong is as bad as so many decibels of a sound. */
export const A_WARNING = 10;

function lossDb(figures: object): number {
  return 'lossDb' in figures && typeof figures.lossDb === 'number' && Number.isFinite(figures.lossDb) ? figures.lossDb : 0;
}

function verdictOf(found: readonly Finding[], weight: Weight, base: Weight) {
  const grave = ({ severity }: Finding) => severity === 'danger' || severity === 'error';
  const warnings = found.filter(({ severity, code }) => severity === 'warning' && !WEIGHED.test(code));
  return {
    blocked: found.find(({ severity }) => severity === 'danger') ?? found.find(grave),
    warnings,
    wrong: warnings.reduce((sum, { figures }) => sum + A_WARNING + Math.round(Math.max(0, lossDb(figures))), 0),
    dependent: Math.max(0, weight.dependent - base.dependent),
    metal: Math.max(0, weight.metal - base.metal),
    leads: Math.max(0, weight.leads - base.leads),
    length: Math.max(0, Math.round(10 * (weight.length - base.length))),
  };
}
