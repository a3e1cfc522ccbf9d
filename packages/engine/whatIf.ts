/** What would be found wrong with a line if it were plugged in this way: tried out on the rig as data, with only what it can touch. */
import {
  freshCount,
  freshId,
  type HouseRun,
  type InputRun,
  type Model,
  type Piece,
  type Place,
  type PortRef,
  type Rig,
  type Run,
} from '#rig';
import { type Checked, check } from './check';
import type { Finding } from './find/finding';
import { statementOf } from './solve/ids';
import { runName } from './solve/naming';
import { needsPhantom } from './solve/ports';
import { NEEDS_SPLIT } from './words/problem';
import { adapterRemark, type Remark, remarkOf } from './words/remarks';

/** A step as it is to be tried: gear of the rig's, or a fresh piece of a model. */
export interface Step {
  readonly through: Piece | Model;
  readonly port?: string;
}

export type Taking = InputRun | HouseRun;

/** The rig without one line, which can then be tried in any way. */
export class WhatIf {
  private readonly inputs: readonly InputRun[];
  private readonly house: readonly HouseRun[];
  private readonly before = new Map<string, ReadonlySet<string>>();

  constructor(
    private readonly rig: Rig,
    without: Run | undefined,
  ) {
    this.inputs = rig.inputs.filter((run) => run !== without);
    this.house = rig.house.filter((run) => run !== without);
  }

  /** What a line brings with it that is not wrong without it. Costs a check of the lines around it. */
  tried(run: Taking, steps: readonly Step[]): Remark[] {
    const pieces = new Map(this.rig.pieces);
    const candidate: Taking = { ...run, via: laid(pieces, run, steps) };
    const inputs = this.inputs.filter((each) => this.touches(each, candidate));
    const house = this.house.filter((each) => this.touches(each, candidate));
    const known = this.known(inputs, house, candidate.takes?.id);
    const checked = this.checked(
      pieces,
      candidate.kind === 'input' ? [...inputs, candidate] : inputs,
      candidate.kind === 'house' ? [...house, candidate] : house,
      candidate.takes?.id,
    );
    const said = new Set<string>();
    const remarks = checked.findings.flatMap((finding): Remark[] => {
      if (known.has(keyOf(finding))) return [];
      const own = remarkOf(finding, statementOf(finding.place) === candidate.id);
      const remark = own && this.placed(own, finding.place, candidate);
      if (!remark || said.has(remark.wrong)) return [];
      said.add(remark.wrong);
      return [remark];
    });
    return [...remarks, ...adapters(checked, candidate)];
  }

  /** Whether one line can change what is found of another: the same source, the same gear on the way, or phantom power from the same gear. */
  private touches(run: Taking, candidate: Taking): boolean {
    if (run.takes !== undefined && run.takes.id === candidate.takes?.id) return true;
    if (run.via.some(({ piece }) => candidate.via.some((step) => step.piece === piece))) return true;
    if (run.kind !== 'input' || candidate.kind !== 'input' || run.to.piece !== candidate.to.piece) return false;
    const model = this.rig.pieces.get(run.to.piece)?.model;
    const banks = (ids: readonly string[]) =>
      model?.ports.flatMap(({ id, direction, bank }) => (direction === 'input' && ids.includes(id) ? [bank] : []));
    const here = banks(candidate.to.ports) ?? [];
    return banks(run.to.ports)?.some((bank) => here.includes(bank)) === true || this.isFed(run);
  }

  /** Whether a line counts against what its gear can give of phantom power. */
  private isFed({ takes, via }: Taking): boolean {
    return [takes?.id, ...via.map(({ piece }) => piece)].some((id) =>
      this.rig.pieces.get(id ?? '')?.model.ports.some((port) => port.direction === 'output' && needsPhantom(port)),
    );
  }

  /** What goes wrong with another line is said with its name; that two want one plug is both lines' matter. */
  private placed(remark: Remark, place: Place, candidate: Taking): Remark {
    const id = statementOf(place);
    const other = id === candidate.id ? undefined : [...this.inputs, ...this.house].find((run) => run.id === id);
    if (!other || remark.needs === NEEDS_SPLIT) return remark;
    return { ...remark, wrong: `${runName(this.rig, other)}: ${remark.wrong}`, needs: undefined };
  }

  /** What is wrong already, among the lines that a candidate touches. */
  private known(inputs: readonly InputRun[], house: readonly HouseRun[], source: string | undefined): ReadonlySet<string> {
    const key = [...inputs, ...house].map(({ id }) => id).join();
    let known = this.before.get(key);
    if (!known) {
      known = new Set(this.checked(this.rig.pieces, inputs, house, source).findings.map(keyOf));
      this.before.set(key, known);
    }
    return known;
  }

  private checked(
    pieces: ReadonlyMap<string, Piece>,
    inputs: readonly InputRun[],
    house: readonly HouseRun[],
    source: string | undefined,
  ): Checked {
    const heard = new Set([source, ...[...inputs, ...house].map(({ takes }) => takes?.id)]);
    const sources = new Map([...this.rig.sources].filter(([id]) => heard.has(id)));
    return check({ ...this.rig, pieces, sources, inputs, house, performers: new Map(), mixes: new Map(), outputs: [] });
  }
}

const keyOf = ({ code, place }: Finding) => `${code} ${place}`;

/** Writes steps into a run; fresh pieces are added to `pieces`, one for each channel where the model has no room for all. */
function laid(pieces: Map<string, Piece>, run: Taking, steps: readonly Step[]): PortRef[] {
  const channels = run.kind === 'input' ? run.to.ports.length : 1;
  return steps.map(({ through, port }, index): PortRef => {
    const place = `${run.id}/via.${index}`;
    if ('kind' in through) return { piece: through.id, port, place };
    const count = freshCount(through, channels);
    for (let channel = 0; channel < count; channel++) {
      const id = freshId(place, channel);
      pieces.set(id, { id, kind: 'fresh', label: through.label, model: through, holding: through.holding, for: [], place });
    }
    return { piece: place, port, place };
  });
}

/** Leads of a line whose two ends are of different families. */
function adapters({ leads }: Checked, run: Taking): Remark[] {
  const [first] = leads.flatMap(({ joint, lead }) => (lead?.adapting && joint.runs.includes(run) ? [lead] : []));
  return first ? [adapterRemark(first.ends)] : [];
}
