/** What is known of the rig around a statement that is being written. */
import type { IToken } from 'chevrotain';
import { AstUtils, type LangiumDocument } from 'langium';
import { type Demand, findPort, outAfter, outAt, outOf, type Remark, type Step, type Taking, WhatIf } from '#engine';
import type { InputRun, Model, Piece, Port, Rig, Run, Taken } from '#rig';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import type { CursorContext } from './context';
import { Occupancy } from './occupancy';
import type { RigEditorServices } from './services';

export interface Written {
  readonly name: string;
  readonly port?: string;
}

export class Scene {
  readonly analysis: Analysis;
  readonly rig: Rig;
  /** Undefined in a file that is no rig by itself. */
  readonly occupancy: Occupancy | undefined;
  /** What the statement at the cursor amounts to so far. */
  readonly run: Run | undefined;
  private readonly whatIf: WhatIf;

  constructor(
    readonly services: RigEditorServices,
    readonly document: LangiumDocument,
    readonly context: CursorContext,
  ) {
    this.analysis = services.rig.Analyser.of(document);
    const { checked, lowered } = this.analysis;
    this.rig = lowered.rig;
    const runs: readonly Run[] = [...this.rig.inputs, ...this.rig.house, ...this.rig.outputs];
    // At the start of a line the statement before is not the one that is being written.
    this.run = context.firstOnLine
      ? undefined
      : runs.find((run) => {
          const node = lowered.marks.markOf(run.place)?.node;
          return node?.$cstNode?.offset === context.statementAt && AstUtils.getDocument(node) === document;
        });
    this.occupancy = checked && new Occupancy(checked, this.run);
    this.whatIf = new WhatIf(this.rig, this.run);
  }

  isFree(piece: Piece, port: Port): boolean {
    return this.occupancy?.isFree(piece, port) ?? true;
  }

  // ---- names -------------------------------------------------------------------------------------

  piece(name: string): Piece | undefined {
    return this.rig.pieces.get(`gear:${name}`);
  }

  model(name: string): Model | undefined {
    const node = this.services.rig.Symbols.find(this.document, 'Model', name);
    return node?.$type === 'Model' ? this.services.editor.Shelf.of(node) : undefined;
  }

  modelNodes(): ast.Model[] {
    return this.services.rig.Symbols.all(this.document, 'Model') as ast.Model[];
  }

  /** The model of gear, or the model, that a step names. */
  steppable(name: string): Model | undefined {
    return this.piece(name)?.model ?? this.model(name);
  }

  // ---- the statement -----------------------------------------------------------------------------

  /** The name, and the port if any, behind a word of the statement; on either side of the cursor, but not at it. */
  behind(word: string): Written | undefined {
    const { before, after } = this.context;
    return namedAfter(before, word) ?? namedAfter(after, word);
  }

  /** The gear and port that an input or an output is about. */
  end(): { piece: Piece; port?: Port } | undefined {
    const { before, statement } = this.context;
    const piece = this.piece(before[1]?.image ?? '');
    const id = before[2]?.image === '.' ? before[3]?.image : undefined;
    return piece && { piece, port: id === undefined ? undefined : findPort(piece, id, statement === 'output' ? 'output' : 'input') };
  }

  /** What arrives behind the steps that are finished before the cursor. Empty where nothing is known. */
  arrivingHere(): Demand[] {
    return this.follow(this.stepsBefore());
  }

  /** What arrives at the end of the run, with all its steps. */
  arrivingAtEnd(): Demand[] {
    return this.follow([...this.stepsBefore(), ...this.stepsBehind()]);
  }

  /** The steps of the statement that are finished before the cursor, and those behind it. */
  stepsBefore(): Written[] {
    return stepsOf(this.context.before, true);
  }

  stepsBehind(): Written[] {
    const { before, after } = this.context;
    if (after.some((token) => token.image === 'via')) return stepsOf(after, false);
    const inVia = before.some((token) => token.image === 'via');
    const comma = after[0]?.image === '.' ? 2 : 0;
    return inVia && after[comma]?.image === ',' ? listOf(after, comma + 1, false) : [];
  }

  // ---- what would come of it ---------------------------------------------------------------------

  /** The line at the cursor as it would be with this in it. Undefined where what it takes, or where it ends, is not known. */
  line({ ends, source = this.takenSource() }: { ends?: InputRun['to']; source?: Taken }): Taking | undefined {
    const { run } = this;
    if (!source) return undefined;
    if (run?.kind === 'house') return { ...run, ownMic: false, takes: source };
    const to = ends ?? this.ends();
    if (this.context.statement !== 'input' || !to) return undefined;
    const own = run?.kind === 'input' ? run : undefined;
    const id = own?.id ?? NEW_LINE;
    // The gain is set to what the line wants once it is known.
    return { kind: 'input', id, to, takes: source, via: [], pad: own?.pad ?? false, phantom: own?.phantom, place: id };
  }

  /** What would be wrong with a line that goes through these steps; undefined where one of them is not known. */
  tried(line: Taking, steps: readonly (Written | Step)[]): Remark[] | undefined {
    const known = steps.map((step) => ('through' in step ? step : this.step(step)));
    return known.every((step) => step !== undefined) ? this.whatIf.tried(line, known) : undefined;
  }

  private step({ name, port }: Written): Step | undefined {
    const through = this.piece(name) ?? this.model(name);
    return through && { through, port };
  }

  private takenSource(): Taken | undefined {
    const taken = this.behind('takes');
    const id = `source:${taken?.name}`;
    return this.rig.sources.has(id) ? { kind: 'source', id, port: taken?.port, place: `${NEW_LINE}/takes` } : undefined;
  }

  private ends(): InputRun['to'] | undefined {
    if (this.run?.kind === 'input' && this.run.to.ports.length > 0) return this.run.to;
    const end = this.end();
    return end?.port && { piece: end.piece.id, ports: [end.port.id], place: NEW_LINE };
  }

  private follow(steps: readonly Written[]): Demand[] {
    let arriving = this.starting();
    for (const { name, port } of steps) {
      const model = this.steppable(name);
      if (!model) return [];
      arriving = outAfter(arriving, model, port);
    }
    return arriving;
  }

  private starting(): Demand[] {
    if (this.context.statement === 'output') {
      const port = this.end()?.port;
      return port ? [outAt(port)] : [];
    }
    const taken = this.behind('takes');
    const model = taken && (this.rig.pieces.get(`source:${taken.name}`) ?? this.piece(taken.name))?.model;
    return model ? outOf(model, taken.port) : [];
  }
}

/** The place of a line that is not in the rig yet. */
const NEW_LINE = 'input:new';

function namedAfter(tokens: readonly IToken[], word: string): Written | undefined {
  const at = tokens.findIndex((token) => token.image === word);
  const name = at < 0 ? undefined : tokens[at + 1]?.image;
  if (name === undefined) return undefined;
  return { name: name.normalize('NFC'), port: tokens[at + 2]?.image === '.' ? tokens[at + 3]?.image : undefined };
}

/** The steps of a `via`. Those before the cursor are finished by a comma. */
function stepsOf(tokens: readonly IToken[], finished: boolean): Written[] {
  const at = tokens.findLastIndex((token) => token.image === 'via');
  return at < 0 ? [] : listOf(tokens, at + 1, finished);
}

function listOf(tokens: readonly IToken[], from: number, finished: boolean): Written[] {
  const steps: Written[] = [];
  for (let index = from; index < tokens.length; ) {
    const name = tokens[index]?.image.normalize('NFC') ?? '';
    const port = tokens[index + 1]?.image === '.' ? tokens[index + 2]?.image : undefined;
    const next = index + (tokens[index + 1]?.image === '.' ? 3 : 1);
    const comma = tokens[next]?.image === ',';
    if (comma || !finished) steps.push({ name, port });
    if (!comma) break;
    index = next + 1;
  }
  return steps;
}
