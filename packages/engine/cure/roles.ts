/**
 * What a cure puts into a line, by what it does. Cures name the library's box for it; whoever has a thing of their own that does the
 * same, idle in its case or as a model in their files, is offered that first.
 */
import type { Model, Port, Tie } from '#rig';
import { type Network, socket } from '../solve/network';
import type { Fix } from './fix';

/** An input of a box with all that is made of it: a split of sixteen ways has sixteen. */
interface Way {
  readonly input: Port;
  readonly outputs: readonly Port[];
}

interface Role {
  /** The base model of its kind. */
  readonly is: string;
  /** Whether a way of such a box does it. */
  readonly does: (way: Way) => boolean;
  /** The output by which the line goes on, where a box has many. */
  readonly on: (output: Port) => boolean;
}

const tied =
  (how: Tie['how']) =>
  ({ tie }: Port): boolean =>
    tie?.how === how;
const gives = (port: Port, kind: string) => port.modes.some((mode) => mode.kind === kind);
const isCopper = (port: Port) => tied('parallel')(port) && port.modes.length === 0 && port.tie?.padDb === 0 && !port.tie.isolated;
const any = () => true;

function di(how: Tie['how']): Role {
  const on = (output: Port) => tied(how)(output) && gives(output, 'mic');
  return { is: 'di', does: ({ input, outputs }) => gives(input, 'instrument') && outputs.some(on), on };
}

/** By the library's names. */
const ROLES: Readonly<Record<string, Role>> = {
  'passive-di': di('transformer'),
  'active-di': di('active'),
  'y-lead': { is: 'splitter', does: ({ outputs }) => outputs.length >= 2 && outputs.every(isCopper), on: any },
  'transformer-split': {
    is: 'splitter',
    does: ({ outputs }) => outputs.some(isCopper) && outputs.some(tied('transformer')),
    on: tied('transformer'),
  },
  'active-split': { is: 'splitter', does: ({ outputs }) => outputs.length >= 2 && outputs.every(tied('active')), on: any },
  'isolating-transformer': { is: 'splitter', does: ({ outputs }) => outputs.length === 1 && outputs.every(tied('transformer')), on: any },
  'pad-20': { is: 'pad', does: ({ outputs }) => outputs.length === 1 && outputs.every(({ tie }) => (tie?.padDb ?? 0) > 0), on: any },
  'headphone-amp': { is: 'amplifier', does: ({ outputs }) => outputs.some((output) => gives(output, 'phones')), on: any },
  'earphone-extension': { is: 'earphone-extension', does: any, on: any },
};

/** What the outputs of the library's split are called, by what they are made of. */
const LEGS: Readonly<Record<string, Tie['how']>> = { iso: 'transformer', direct: 'parallel', thru: 'parallel' };

/** What of one's own does what a box of the library's does, as either is written: `our-di` or `split.iso3` for `passive-di`. */
export type Own = (written: string) => string | undefined;

/** Gear that lies idle comes before a model, of which there would have to be one more. `models`: asked for only where nothing lies idle. */
export function ownOf(net: Network, models: () => readonly Model[]): Own {
  const known = new Map<string, string | undefined>();
  return (written) => {
    if (!known.has(written)) known.set(written, idleFor(net, written) ?? modelFor(models(), written));
    return known.get(written);
  };
}

/** The same cures, and before them those by things of one's own. */
export function withOwn(fixes: readonly Fix[], ownFor: Own): readonly Fix[] {
  const own = fixes.flatMap((fix) => {
    const [role, ...others] = rolesIn(fix);
    const box = role !== undefined && others.length === 0 ? ownFor(role) : undefined;
    return box === undefined ? [] : [by(fix, box)];
  });
  return own.length > 0 ? [...own, ...fixes] : fixes;
}

/** What a fix puts into a line, as it is written: `transformer-split.iso`. */
function rolesIn(fix: Fix): readonly string[] {
  if (fix.kind === 'several') return fix.fixes.flatMap(rolesIn);
  const written = putIn(fix);
  return written !== undefined && Object.hasOwn(ROLES, written.split('.', 1)[0] as string) ? [written] : [];
}

function putIn(fix: Fix): string | undefined {
  if (fix.kind === 'add-step') return fix.model;
  if (fix.kind === 'replace-step') return fix.with;
  return fix.kind === 'add-input' || fix.kind === 'add-output' ? fix.via : undefined;
}

function by(fix: Fix, own: string): Fix {
  if (fix.kind === 'several') return { ...fix, fixes: fix.fixes.map((each) => by(each, own)) };
  if (rolesIn(fix).length === 0) return fix;
  if (fix.kind === 'add-step') return { ...fix, model: own };
  if (fix.kind === 'replace-step') return { ...fix, with: own };
  return fix.kind === 'add-input' || fix.kind === 'add-output' ? { ...fix, via: own } : fix;
}

function idleFor(net: Network, written: string): string | undefined {
  for (const piece of net.rig.pieces.values()) {
    const { kind, name, holding, model } = piece;
    // A spare stays in its case, and what is the house's is theirs to lend.
    if (kind !== 'gear' || name === undefined || holding?.how === 'theirs' || holding?.spare) continue;
    const idle = ({ input, outputs }: Way) =>
      !net.entering.has(socket(piece, input).key) && outputs.every((output) => !net.leaving.has(socket(piece, output).key));
    const found = goingBy(name, model, written, idle);
    if (found !== undefined) return found;
  }
  return undefined;
}

function modelFor(models: readonly Model[], written: string): string | undefined {
  for (const model of models) {
    if (model.holding?.how === 'theirs' || waysOf(model).length > 1) continue;
    const found = goingBy(model.id, model, written, any);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** How a line is to go through a box that does what another is for. */
function goingBy(name: string, model: Model, written: string, free: (way: Way) => boolean): string | undefined {
  const [asked = '', leg] = written.split('.', 2);
  const role = ROLES[asked];
  if (!role || !(model.lineage.includes(asked) || model.lineage.includes(role.is))) return undefined;
  const ways = waysOf(model);
  const way = ways.find((each) => role.does(each) && free(each));
  if (!way) return undefined;
  if (ways.length === 1 && leg === undefined) return name;
  const how = LEGS[leg ?? ''];
  const output = way.outputs.find(how ? tied(how) : role.on);
  return output && `${name}.${output.id}`;
}

function waysOf({ ports }: Model): Way[] {
  return ports.flatMap((input) =>
    input.direction === 'input'
      ? [{ input, outputs: ports.filter(({ direction, tie }) => direction === 'output' && tie?.inputs.includes(input.id)) }]
      : [],
  );
}
