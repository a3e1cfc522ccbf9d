/**
 * From syntax trees to the rig as plain data. Never fails: what cannot be understood is left out and reported, and the
 * rest makes as much of a rig as it can.
 */
import { type AstNode, AstUtils, type LangiumDocument, type Reference, UriUtils } from 'langium';
import type { Finding } from '#engine';
import {
  type Avoided,
  DEFAULT_SETTINGS,
  type Dimension,
  freshCount,
  freshId,
  type Guard,
  type HouseRun,
  type InputRun,
  LENGTHS_IN_FEET,
  type LeadHad,
  type Mix,
  type Model,
  type OutputRun,
  type Performer,
  type Piece,
  type PortRef,
  type Position,
  type Rig,
  type Send,
  type Settings,
  type Source,
  type Taken,
  voltsOfDbu,
} from '#rig';
import type * as ast from '../generated/ast';
import type { Scans } from '../scans';
import { type Declaration, type Kind, type Symbols, type SymbolTable, scansOf, usedUri } from '../symbols';
import { isInFeet } from '../syntax/feet';
import { numberOf } from '../syntax/values';
import type { Workspace } from '../workspace';
import { A_LEAD, Context, FROM_THE_STAGE, type Naming, NOT_NEGATIVE, OF_A_STAGE, POSITIVE, RADIO, SAMPLE_RATE } from './context';
import { houseNumber, ordinals, runIds } from './identity';
import type { Mark, SourceMap } from './marks';
import { connectorOf, holding, loudnessOf, Models, outputsNamed } from './models';
import { NightOf, saysInstead } from './night';
import { spread } from './ports';
import { privacyOf } from './privacy';
import { scansIn } from './scans';
import { type Taped, Tapes } from './tapes';

export interface Lowered {
  readonly rig: Rig;
  readonly marks: SourceMap;
  /** About the text, its names and its figures; in this document and in those it uses. */
  readonly findings: readonly Finding[];
  /** Whether the document is a rig at all, or only lends its gear to others. */
  readonly isRig: boolean;
  /** Models in its files, the library's left out, whether or not anything is one. Made when somebody asks. */
  readonly ownModels: () => readonly Model[];
  /** What its statements came to, for the next time. */
  readonly taped: Taped;
}

/** A box weighs as much as so many ports: it has some of its own, with a lead at each end. */
const PORTS_A_BOX = 16;

/** More gear in one line than anybody plugs together; keeps a slip from making a line without end. */
const MOST_STEPS = 64;

/** Of a statement, in a message. */
const MOST_QUOTED = 40;

/**
 * `context` gathers the findings and the places; `sharedModels` keeps library models from one time to the next, `taped` what the
 * document’s own statements came to the last time.
 */
export function lower(
  document: LangiumDocument<ast.RigFile>,
  table: SymbolTable,
  workspace: Workspace,
  scans: Scans,
  sharedModels: WeakMap<ast.Model, Model>,
  context: Context,
  taped: Taped = new Map(),
): Lowered {
  return new Lowering(document, table, workspace, scans, sharedModels, context, taped).run();
}

/** A longer list is no help. */
const MOST_INSTEAD = 6;

/** What a statement comes to. */
type Made =
  | readonly ['performers', Performer]
  | readonly ['pieces', Piece]
  | readonly ['sources', Source]
  | readonly ['mixes', Mix]
  | readonly ['inputs', InputRun]
  | readonly ['house', HouseRun]
  | readonly ['outputs', OutputRun];

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

class Lowering {
  private readonly models: Models;
  private readonly tapes: Tapes;
  private readonly naming: Naming = {
    known: (kinds) => this.names(kinds),
    labelled: (label, kinds) => this.labelled(label, kinds),
    elsewhere: (name, kinds) => this.elsewhere(name, kinds),
  };
  /** What the statement comes to that is being lowered. */
  private making: Made[] = [];
  private readonly pieces = new Map<string, Piece>();
  private readonly performers = new Map<string, Performer>();
  private readonly sources = new Map<string, Source>();
  private readonly mixes = new Map<string, Mix>();
  private readonly inputs: InputRun[] = [];
  private readonly house: HouseRun[] = [];
  private readonly outputs: OutputRun[] = [];
  private readonly closure: readonly Symbols[];
  private readonly night: NightOf;
  private houseAt: Position | undefined;
  private houseModel: ast.Model | undefined;
  private noHouse: 'none' | 'ours' | undefined;

  constructor(
    private readonly document: LangiumDocument<ast.RigFile>,
    private readonly table: SymbolTable,
    private readonly workspace: Workspace,
    private readonly scans: Scans,
    private readonly sharedModels: WeakMap<ast.Model, Model>,
    private readonly context: Context,
    taped: Taped,
  ) {
    this.closure = table.closure(document);
    this.night = new NightOf(document, table);
    this.tapes = new Tapes(
      context,
      taped,
      (node, kinds, name) => table.meaning(AstUtils.getDocument(node), kinds, name),
      (model) => this.models.lower(model),
    );
    this.models = new Models(
      context,
      sharedModels,
      (model) => this.parentOf(model),
      (model, of, work) => this.tapes.once(model, of, work),
    );
  }

  run(): Lowered {
    const statements = this.document.parseResult.value.statements ?? [];
    const headers = statements.filter((statement): statement is ast.Header => statement.$type === 'Header');
    this.twins();
    this.acrossFiles();
    this.acrossNights();
    const settings = this.settings(headers, this.bandHeader());
    for (const symbols of this.table.lending(this.document)) this.declarations(symbols);
    this.houseFacts(this.night.house);
    const runs = runIds(this.night.statements);
    for (const [statement, id] of runs) this.runStatement(statement, id);
    this.nothingInstead();
    const label = headers[0]?.label ?? this.bandHeader()?.label;
    this.context.marks.set('rig', { node: headers[0] ?? this.document.parseResult.value });
    const { pieces, performers, sources, mixes, inputs, house, outputs } = this;
    const { noHouse } = this;
    const night = this.night.differs((run) => this.labelOfRun(runs.get(run)));
    const rig: Rig = { label, night, settings, pieces, performers, sources, mixes, inputs, house, outputs, noHouse, place: 'rig' };
    const lines = inputs.length + house.length + outputs.length + mixes.size;
    return {
      rig,
      marks: this.context.marks,
      findings: this.context.findings,
      isRig: headers.length > 0 || lines > 0,
      ownModels: this.ownModels(),
      taped: this.tapes.kept,
    };
  }

  /** What is wrong with them is told by the file that they stand in. */
  private ownModels(): () => readonly Model[] {
    let known: readonly Model[] | undefined;
    return () => {
      const models = new Models(
        new Context(),
        this.sharedModels,
        (model) => model.parent?.ref,
        (model, of, work) => this.tapes.had(model, of, work),
      );
      known ??= this.closure.flatMap((symbols) => [...symbols.all('Model')].map((model) => models.lower(model as ast.Model)));
      return known;
    };
  }

  // ---- the whole ---------------------------------------------------------------------------------

  private bandHeader(): ast.Header | undefined {
    const all = this.night.bands.flatMap(({ document }) => document.parseResult.value.statements ?? []);
    return all.find((statement): statement is ast.Header => statement.$type === 'Header');
  }

  /** `instead` with nothing there that it could be instead of. */
  private nothingInstead(): void {
    for (const node of this.night.needless) {
      const [head = ''] = node.$cstNode?.text.split(/\s+(?=takes|carries|is|mono|stereo|own|for|"|\{)/, 1) ?? [];
      const what = head.replace(/#.*/g, '').replace(/\s+/g, ' ').trim().slice(0, MOST_QUOTED);
      this.context.report('use/nothing-instead', { node }, { what, night: this.night.bands.length > 0 });
    }
  }

  private labelOfRun(id: string | undefined): string {
    const run = [...this.inputs, ...this.house, ...this.outputs].find((each) => each.id === id);
    if (!run) return '';
    if (run.kind === 'house') return `house ${run.number}`;
    const end = run.kind === 'input' ? run.to : run.from;
    return `${this.pieces.get(end.piece)?.label ?? ''} ${run.kind} ${end.ports.join(', ')}`.trim();
  }

  /** What the file does not say of the whole itself is as in the rig that it is a night of. */
  private settings([first, ...more]: readonly ast.Header[], band: ast.Header | undefined): Settings {
    for (const second of more) {
      this.context.report('rig/two-titles', { node: second }, { first: first?.label });
    }
    const settings: Mutable<Settings> = { ...DEFAULT_SETTINGS };
    const { context } = this;
    const own = first?.clauses ?? [];
    const said = new Set(own.map(({ $type }) => $type));
    const all = [...own, ...(band?.clauses.filter(({ $type }) => !said.has($type)) ?? [])];
    // Of these there may be many.
    const avoided = all.filter((clause): clause is ast.Avoid => clause.$type === 'Avoid');
    const contacts = all.filter((clause): clause is ast.Contact => clause.$type === 'Contact');
    const many: ReadonlySet<string> = new Set(['Avoid', 'Scan', 'Contact']);
    const clauses = context.clauses<ast.HeaderClause, ast.HeaderClause['$type']>(
      'rig',
      all.filter(({ $type }) => !many.has($type)),
    );
    const figure = (clause: { quantity: ast.Quantity } | undefined, what: string, dimension: Dimension, rule = POSITIVE) =>
      clause && context.quantity(clause.quantity, what, [dimension], rule);
    settings.region = clauses.Region?.name;
    settings.country = clauses.Country?.name;
    settings.date = clauses.Day?.text || undefined;
    settings.venue = clauses.Venue?.text || undefined;
    settings.contacts = contacts.flatMap(({ text }) => text || []);
    settings.licensed = clauses.Licensed !== undefined;
    settings.rateHz = figure(clauses.Rate, 'sample rate', 'frequency', SAMPLE_RATE) ?? settings.rateHz;
    if (clauses.Rate) settings.rateSaid = true;
    settings.bufferSamples = figure(clauses.BufferSize, 'buffer', 'samples');
    settings.setS = figure(clauses.SetTime, 'time', 'time');
    settings.checkS = figure(clauses.SoundCheck, 'time', 'time');
    settings.listeningDbSpl = figure(clauses.Listening, 'usual level in the ears', 'sound-level');
    settings.circuit = this.circuit(clauses.Circuit);
    settings.leads = this.leads(clauses.LeadsHad);
    settings.guard = this.guard(clauses.Guard);
    const avoidedOnce = ordinals();
    settings.avoid = avoided.flatMap((clause): Avoided[] => {
      const range = context.range(clause.range, 'range to avoid', 'frequency');
      if (!range) return [];
      const place = context.marks.set(avoidedOnce(`rig/avoid.${range.low}..${range.high}`), { node: clause });
      return [{ ...range, label: clause.label, place }];
    });
    settings.scans = scansIn(context, scansOf({ clauses: all }), this.scans, this.workspace);
    settings.headroomDb = figure(clauses.Headroom, 'headroom', 'relative-level', NOT_NEGATIVE) ?? settings.headroomDb;
    settings.marginDb = figure(clauses.Margin, 'margin', 'relative-level', NOT_NEGATIVE) ?? settings.marginDb;
    const budget = clauses.Budget && context.measure(clauses.Budget.quantity, 'budget', ['money'], NOT_NEGATIVE);
    settings.budget = budget && { amount: budget.value, currency: budget.unit };
    const width = clauses.Stage && context.quantity(clauses.Stage.width, 'width of a stage', ['length'], OF_A_STAGE);
    const depth = clauses.Stage && context.quantity(clauses.Stage.depth, 'depth of a stage', ['length'], OF_A_STAGE);
    if (width !== undefined && depth !== undefined) settings.stageM = { width, depth };
    const lengths = clauses.Lengths?.lengths.flatMap((each) => context.quantity(each, 'length', ['length'], A_LEAD) ?? []) ?? [];
    settings.sharedMains = clauses.Mains !== undefined;
    if (clauses.Budget) context.marks.set('rig/budget', { node: clauses.Budget });
    if (clauses.Rate) context.marks.set('rig/rate', { node: clauses.Rate });
    if (clauses.Region) context.marks.set('rig/region', { node: clauses.Region });
    if (clauses.Country) context.marks.set('rig/country', { node: clauses.Country });
    if (clauses.Circuit) context.marks.set('rig/circuit', { node: clauses.Circuit });
    if (clauses.Listening) context.marks.set('rig/listening', { node: clauses.Listening });
    if (clauses.BufferSize) context.marks.set('rig/buffer', { node: clauses.BufferSize });
    if (isInFeet(...[this.document, ...this.night.bands.map(({ document }) => document)].map((each) => each.textDocument.getText()))) {
      settings.inFeet = true;
      settings.lengthsM = LENGTHS_IN_FEET;
    }
    if (lengths.length > 0) settings.lengthsM = [...new Set(lengths)].sort((a, b) => a - b);
    return settings;
  }

  private guard(clause: ast.Guard | undefined): Guard {
    const guard: Mutable<Guard> = { ...DEFAULT_SETTINGS.guard };
    for (const { of, distance } of clause?.distances ?? []) {
      const hz = this.context.quantity(distance, 'distance of frequencies', ['frequency'], NOT_NEGATIVE);
      if (hz !== undefined) guard[GUARDS[of]] = hz;
    }
    return guard;
  }

  private leads(clause: ast.LeadsHad | undefined): Settings['leads'] {
    return clause?.had.flatMap((node): LeadHad[] => {
      const { from, to, length } = node;
      const count = this.context.counting(node, 'count', node.count, 'number of leads');
      const lengthM = this.context.quantity(length, 'length', ['length'], A_LEAD);
      const first = from === undefined ? undefined : connectorOf(this.context, from, { node, property: 'from' });
      const second = to === undefined ? first : connectorOf(this.context, to, { node, property: 'to' });
      return first && second && lengthM !== undefined && count !== undefined ? [{ count, plugs: [first, second], lengthM }] : [];
    });
  }

  private circuit(clause: ast.Circuit | undefined): Settings['circuit'] {
    if (!clause) return undefined;
    const currentA = this.context.quantity(clause.current, 'current', ['current'], POSITIVE);
    const dbu = this.context.quantity(clause.voltage, 'mains voltage', ['voltage-level']);
    return currentA === undefined || dbu === undefined ? undefined : { currentA, voltageV: voltsOfDbu(dbu) };
  }

  /** Names that are declared twice, and names that `takes` could mean in two ways. */
  private twins(): void {
    const own = this.closure[0];
    if (!own) return;
    for (const twin of own.twins) {
      this.context.report(
        'names/duplicate',
        { node: twin, property: 'name' },
        { what: KIND_WORDS[twin.$type], name: twin.name },
        {
          related: this.relatedTo(own.get(twin.$type, twin.name), 'the first'),
        },
      );
    }
    const pairs: [Kind, Kind][] = [
      ['Source', 'Mix'],
      ['Source', 'Gear'],
      ['Mix', 'Gear'],
    ];
    for (const [first, second] of pairs) {
      for (const node of own.all(second)) {
        const { name } = node;
        const other = own.get(first, name);
        if (!other || isForEars(node) || isForEars(other)) continue;
        this.context.report(
          'names/two-meanings',
          { node, property: 'name' },
          { name, kinds: [KIND_WORDS[first], KIND_WORDS[second]] },
          { related: this.relatedTo(other, `the ${KIND_WORDS[first]}`) },
        );
      }
    }
  }

  /** Names that two files of this rig declare: told at the nearer, or, where that is not this file, at the `use` that leads to the farther. */
  private acrossFiles(): void {
    const nearest = new Map<string, Symbols>();
    const here = UriUtils.dirname(this.document.uri);
    const pathOf = ({ document }: Symbols) => (document === this.document ? undefined : UriUtils.relative(here, document.uri));
    for (const { symbols, kind, name } of this.table.clashes(this.document)) {
      const key = `${kind} ${name}`;
      const nearer = nearest.get(key);
      if (!nearer) {
        nearest.set(key, symbols);
        continue;
      }
      const [near, far] = [nearer.get(kind, name), symbols.get(kind, name)];
      const path = pathOf(nearer);
      const uses = this.closure[0]?.uses ?? [];
      const use = uses.find((each) => usedUri(each)?.toString() === symbols.document.uri.toString()) ?? uses[0];
      const at = path === undefined ? near : use;
      // "instead" says so, and what is left out is not there.
      if (!at || (near && saysInstead(near)) || this.night.isLeftOut(far)) continue;
      this.context.report(
        'names/elsewhere-too',
        { node: at, property: path === undefined ? 'name' : 'path' },
        { what: KIND_WORDS[kind], name, nearer: path, farther: pathOf(symbols) ?? '' },
        {
          related: [
            ...(path === undefined ? [] : this.relatedTo(near, 'the one that is taken', 'nearer')),
            ...this.relatedTo(far, 'the one that is left out', `farther ${symbols.document.uri}`),
          ],
        },
      );
    }
  }

  /** A mix is lent to a night of the same band alone. */
  private acrossNights(): void {
    for (const node of this.closure[0]?.all('Mix') ?? []) {
      const mix = node as ast.Mix;
      const far = mix.instead ? undefined : this.night.hidden('Mix', mix.name);
      const uri = far && AstUtils.getDocument(far).uri;
      if (!far || !uri) continue;
      this.context.report(
        'names/elsewhere-too',
        { node: mix, property: 'name' },
        { what: 'mix', name: mix.name, nearer: undefined, farther: UriUtils.relative(UriUtils.dirname(this.document.uri), uri) },
        { related: this.relatedTo(far, 'the one that is left out', `farther ${uri}`) },
      );
    }
  }

  /** `which` tells apart those of the same name. */
  private relatedTo(node: AstNode | undefined, says: string, which = 'first') {
    const place = `declared:${which}:${node?.$type}.${(node as { name?: string } | undefined)?.name}`;
    return node ? [{ place: this.context.marks.set(place, { node, property: 'name' }), says }] : [];
  }

  /** Lowers a statement, or takes what it came to the last time. What is left out on some night hangs on more than it names. */
  private statement(node: AstNode, of: readonly unknown[], work: () => void): void {
    const made = this.night.isPlain ? this.tapes.once(node, of, () => this.lowered(work)) : this.lowered(work);
    for (const each of made) this.add(each);
  }

  private lowered(work: () => void): readonly Made[] {
    this.making = [];
    work();
    return this.making;
  }

  private add([kind, each]: Made): void {
    if (kind === 'inputs') this.inputs.push(each);
    else if (kind === 'house') this.house.push(each);
    else if (kind === 'outputs') this.outputs.push(each);
    else if (kind === 'pieces') this.pieces.set(each.id, each);
    else if (kind === 'sources') this.sources.set(each.id, each);
    else if (kind === 'mixes') this.mixes.set(each.id, each);
    else this.performers.set(each.id, each);
  }

  // ---- declarations ------------------------------------------------------------------------------

  private declarations(symbols: Symbols): void {
    const own = symbols === this.closure[0];
    for (const node of symbols.all('Performer'))
      this.declared(node, `performer:${node.name}`, this.performers, (id) => this.performer(node as ast.Performer, id));
    if (own) for (const model of symbols.all('Model')) this.models.lower(model as ast.Model);
    for (const node of symbols.all('Gear')) this.declared(node, `gear:${node.name}`, this.pieces, (id) => this.gear(node as ast.Gear, id));
    for (const node of symbols.all('Source'))
      this.declared(node, `source:${node.name}`, this.sources, (id) => this.source(node as ast.Source, id));
    if (!own && !this.night.bands.includes(symbols)) return;
    for (const node of symbols.all('Mix')) this.declared(node, `mix:${node.name}`, this.mixes, (id) => this.mix(node as ast.Mix, id));
  }

  /** The first of a name, where it is there on this night. */
  private declared(node: Declaration, id: string, known: ReadonlyMap<string, unknown>, lower: (id: string) => void): void {
    if (!known.has(id) && !this.night.isLeftOut(node)) this.statement(node, [], () => lower(id));
  }

  private performer(node: ast.Performer, id: string): void {
    const place = this.context.marks.set(id, { node, property: 'name' });
    const clauses = this.context.clauses<ast.PerformerClause, ast.PerformerClause['$type']>('performer', node.clauses);
    const ears = clauses.Ears && this.modelOf(clauses.Ears.model, clauses.Ears, 'model');
    this.making.push([
      'performers',
      {
        id,
        name: node.name,
        label: node.label ?? node.name,
        at: this.position(clauses.At),
        ears: ears && this.models.lower(ears),
        place,
      },
    ]);
  }

  private gear(node: ast.Gear, id: string): void {
    const place = this.context.marks.set(id, { node, property: 'name' });
    this.context.marks.set(`${id}/model`, { node, property: 'model' });
    const clauses = this.context.clauses<ast.GearClause, ast.GearClause['$type']>('gear', node.clauses);
    const model = this.modelOf(node.model, node, 'model');
    const hears = clauses.Hears && this.hears(clauses.Hears, id);
    const performers = clauses.ForWhom ? this.performersOf(clauses.ForWhom) : [];
    if (!model) return;
    const lowered = this.models.lower(model);
    this.needsPorts(lowered, { node, property: 'model' }, 'piece of gear');
    this.making.push([
      'pieces',
      {
        id,
        kind: 'gear',
        name: node.name,
        label: node.label ?? node.name,
        model: lowered,
        at: this.position(clauses.At),
        holding: holding(this.context, clauses) ?? lowered.holding,
        for: performers,
        ...this.frequency(clauses.OnFrequency, id),
        hears,
        place,
      },
    ]);
  }

  private frequency(clause: ast.OnFrequency | undefined, id: string): Pick<Piece, 'onHz' | 'onUnread'> {
    if (!clause) return {};
    this.context.marks.set(`${id}/on`, { node: clause });
    const onHz = this.context.quantity(clause.quantity, 'frequency', ['frequency'], RADIO);
    return onHz === undefined ? { onUnread: true } : { onHz };
  }

  private hears(clause: ast.Hears, gear: string): PortRef | undefined {
    const place = this.context.marks.set(`${gear}/hears`, { node: clause });
    const transmitter = this.resolve(clause.gear, clause, 'gear', 'Gear');
    return transmitter && { piece: `gear:${transmitter.name}`, port: clause.port, place };
  }

  private source(node: ast.Source, id: string): void {
    const { context } = this;
    const place = context.marks.set(id, { node, property: 'name' });
    context.marks.set(`${id}/model`, { node, property: 'model' });
    const clauses = context.clauses<ast.SourceClause, ast.SourceClause['$type']>('source', node.clauses);
    const by = clauses.By && this.resolve(clauses.By.performer, clauses.By, 'performer', 'Performer');
    const model = this.modelOf(node.model, node, 'model');
    const lowered = model && this.models.lower(model);
    if (lowered) this.needsPorts(lowered, { node, property: 'model' }, 'source', 'output');
    const instead = node.instead.flatMap((reference) => {
      const other = this.modelOf(reference, node, 'instead');
      return other ? [this.models.lower(other)] : [];
    });
    context.marks.set(`${id}/instead`, { node, property: 'instead' });
    const label = node.label ?? node.name;
    const named = clauses.Private ? outputsNamed(context, clauses.Private, lowered?.ports ?? [], label) : [];
    this.making.push([
      'sources',
      {
        id,
        name: node.name,
        label,
        by: by && `performer:${by.name}`,
        typical: clauses.Typical && loudnessOf(context, clauses.Typical, lowered?.ports ?? []),
        peak: clauses.Peak && loudnessOf(context, clauses.Peak, lowered?.ports ?? []),
        lowestHz: clauses.Lowest && context.quantity(clauses.Lowest.quantity, 'lowest note', ['frequency'], POSITIVE),
        highestHz: clauses.Highest && context.quantity(clauses.Highest.quantity, 'highest frequency', ['frequency'], POSITIVE),
        need: clauses.Need?.how ?? 'must',
        ...(instead.length > 0 ? { instead } : {}),
        ...privacyOf(node, clauses.Private, named, lowered),
        place,
      },
    ]);
    const owned = holding(context, clauses) ?? lowered?.holding;
    if (lowered)
      this.making.push([
        'pieces',
        {
          id,
          kind: 'source',
          name: node.name,
          label,
          model: lowered,
          at: this.position(clauses.At),
          holding: owned,
          for: [],
          ...this.frequency(clauses.OnFrequency, id),
          place,
        },
      ]);
  }

  private mix(node: ast.Mix, id: string): void {
    const { context } = this;
    const place = context.marks.set(id, { node, property: 'name' });
    const sent = ordinals();
    const sends: Send[] = node.sends.flatMap((send) => {
      const source = this.resolve(send.source, send, 'source', 'Source', 'source');
      const levelDb = context.quantity(send.level, 'level', ['relative-level']);
      if (!source) return [];
      const what = [source.name, send.channel].filter(Boolean).join('.');
      const mark = context.marks.set(sent(`${id}/send.${what}`), { node: send });
      context.marks.set(`${mark}/source`, { node: send, property: 'source' });
      return [{ source: `source:${source.name}`, channel: send.channel, levelDb: levelDb ?? 0, panPercent: this.pan(send), place: mark }];
    });
    this.making.push([
      'mixes',
      {
        id,
        name: node.name,
        label: node.label ?? node.name,
        stereo: node.width === 'stereo',
        for: this.performersOf(node),
        house: node.house,
        sends,
        place,
      },
    ]);
  }

  private pan(send: ast.Send): number {
    if (!send.side || send.amount?.value === undefined) return 0;
    const percent = numberOf(send.amount.value);
    if (percent >= 0 && percent <= 100) return send.side === 'left' ? -percent : percent;
    this.context.report(
      'units/impossible',
      { node: send.amount },
      { written: `${send.amount.value} %`, what: 'position', rule: 'from 0 % (the middle) to 100 %' },
    );
    return 0;
  }

  private performersOf(node: { performers: Reference<ast.Performer>[] } & AstNode): string[] {
    return node.performers.flatMap((reference, index) => {
      const performer = this.resolve(reference, node, 'performer', 'Performer', 'performers', index);
      return performer ? [`performer:${performer.name}`] : [];
    });
  }

  private position(clause: ast.At | undefined): Position | undefined {
    if (!clause) return undefined;
    const x = this.context.quantity(clause.x, 'distance', ['length'], FROM_THE_STAGE);
    const y = this.context.quantity(clause.y, 'distance', ['length'], FROM_THE_STAGE);
    return x === undefined || y === undefined ? undefined : { x, y };
  }

  // ---- runs --------------------------------------------------------------------------------------

  private runStatement(statement: ast.Statement, id: string): void {
    if (statement.$type === 'Input') this.statement(statement, [id], () => this.input(statement, id));
    else if (statement.$type === 'Output') this.statement(statement, [id], () => this.output(statement, id));
    else if (statement.$type === 'House' && statement.number !== undefined) {
      const { number } = statement;
      const box = `box:${houseNumber(number)}`;
      const model = this.houseBox();
      // Of two lines of one number the first brings the box.
      const isThere = !model || this.pieces.has(box);
      const label = this.labelTaken(statement.taken);
      const of = [id, model, isThere, this.houseAt?.x, this.houseAt?.y, label];
      this.statement(statement, of, () => this.houseLine(statement, id, number, label, isThere ? undefined : model));
    }
  }

  private input(node: ast.Input, id: string): void {
    const { context } = this;
    const place = context.marks.set(id, { node });
    const to = this.gearPort(node.port, id, node.taken !== undefined);
    const takes = this.taken(node.taken, id, node);
    if (!to) return;
    const others = node.clauses.filter((clause) => clause.$type !== 'Via');
    const clauses = context.clauses<ast.InputClause, ast.InputClause['$type']>('input', others);
    const vias = node.clauses.filter((clause): clause is ast.Via => clause.$type === 'Via');
    const via = this.steps(vias, id, 'input', to.ports.length);
    const gainDb = clauses.SetGain && context.quantity(clauses.SetGain.quantity, 'gain', ['relative-level']);
    if (clauses.SetGain) context.marks.set(`${id}/gain`, { node: clauses.SetGain });
    if (clauses.SetPad) context.marks.set(`${id}/pad`, { node: clauses.SetPad });
    if (clauses.SetPhantom) context.marks.set(`${id}/phantom`, { node: clauses.SetPhantom });
    const phantom = clauses.SetPhantom?.how;
    this.making.push(['inputs', { kind: 'input', id, to, takes, via, gainDb, pad: clauses.SetPad !== undefined, phantom, place }]);
  }

  private houseFacts(statements: readonly ast.Statement[]): void {
    const facts = statements.flatMap((statement) => (statement.$type === 'House' ? statement.facts : []));
    const clauses = this.context.clauses<ast.HouseFact, ast.HouseFact['$type']>('house', facts);
    this.houseAt = this.position(clauses.At);
    this.noHouse = clauses.HouseWhose?.whose;
    if (clauses.HouseWhose) this.context.marks.set('house', { node: clauses.HouseWhose });
    this.houseModel = clauses.HouseIs && this.modelOf(clauses.HouseIs.model, clauses.HouseIs, 'model');
  }

  /** What the ends of the house's lines are. */
  private houseBox(): Model | undefined {
    const box = this.houseModel ?? (this.table.libraryModel('stage-box') as ast.Model | undefined);
    return box && this.models.lower(box);
  }

  private labelTaken(node: ast.Taken | undefined): string | undefined {
    const taken = node?.target?.ref;
    if (taken?.$type === 'Source') return this.sources.get(`source:${taken.name}`)?.label;
    return taken?.$type === 'Mix' ? this.mixes.get(`mix:${taken.name}`)?.label : undefined;
  }

  /** `box` is what is there at its end, where no other line has brought it. */
  private houseLine(node: ast.House, id: string, written: string, labelTaken: string | undefined, box: Model | undefined): void {
    const { context } = this;
    const place = context.marks.set(id, { node });
    const number = houseNumber(written);
    context.counting(node, 'number', written, 'line of the house');
    const takes = this.taken(node.taken, id, node);
    const via = this.steps(node.via ? [node.via] : [], id, 'house');
    const piece = `box:${number}`;
    if (box) {
      const label = `house ${number}`;
      const { holding } = box;
      this.making.push(['pieces', { id: piece, kind: 'house', label, model: box, at: this.houseAt, holding, for: [], place }]);
    }
    const label = node.label ?? (takes && labelTaken) ?? '';
    this.making.push(['house', { kind: 'house', id, number, label, piece, ownMic: node.own, takes, via, place }]);
  }

  private output(node: ast.Output, id: string): void {
    const { context } = this;
    const place = context.marks.set(id, { node });
    const from = this.gearPort(node.port, id, node.mix !== undefined);
    const mix = this.resolve(node.mix, node, 'mix', 'Mix', 'mix');
    context.marks.set(`${id}/carries`, { node, property: 'mix' });
    if (!from) return;
    this.making.push([
      'outputs',
      {
        kind: 'output',
        id,
        from,
        carries: mix && `mix:${mix.name}`,
        via: this.steps(node.via ? [node.via] : [], id, 'output', from.ports.length),
        place,
      },
    ]);
  }

  /** `goesOn`: behind it stands what is plugged in there, so that a port that is not said is all that is missing. It is '' then. */
  private gearPort(node: ast.GearPort | undefined, run: string, goesOn: boolean): InputRun['to'] | undefined {
    if (!node?.gear) return undefined;
    const place = this.context.marks.set(`${run}/port`, { node });
    const gear = this.resolve(node.gear, node, 'gear', 'Gear', 'gear');
    const unsaid = goesOn && node.first === undefined && node.$cstNode?.text.endsWith('.');
    const ports = unsaid ? [''] : spread(this.context, node, node.first, node.last);
    return { piece: gear ? `gear:${gear.name}` : '', ports, place };
  }

  private taken(node: ast.Taken | undefined, run: string, statement: AstNode): Taken | undefined {
    if (!node?.target) {
      this.context.marks.set(`${run}/takes`, { node: statement });
      return undefined;
    }
    const place = this.context.marks.set(`${run}/takes`, { node });
    const kinds: Kind[] = ['Source', 'Mix', 'Gear'];
    const target = this.context.resolve(node.target, { node, property: 'target' }, 'source or mix', kinds, this.naming);
    if (!target || !this.present(target, node)) return undefined;
    const kind = target.$type === 'Source' ? 'source' : target.$type === 'Mix' ? 'mix' : 'gear';
    return { kind, id: `${kind}:${target.name}`, port: node.port, place };
  }

  /** What a line goes through: all that its "via" says, and a second one goes on. `channels` is how many ports the run ends on or starts from. */
  private steps(vias: readonly ast.Via[], run: string, statement: string, channels = 1): PortRef[] {
    const { context } = this;
    this.joined(vias, statement);
    const steps = vias.flatMap((via) => via.steps);
    const beyond = steps[MOST_STEPS];
    if (beyond) context.report('text/too-deep', { node: beyond }, { limit: MOST_STEPS, what: 'This "via"' });
    return steps.slice(0, MOST_STEPS).flatMap((step, index) => {
      const place = this.context.marks.set(`${run}/via.${index}`, { node: step });
      const kinds: Kind[] = ['Gear', 'Model'];
      const target = this.context.resolve(step.target, { node: step, property: 'target' }, 'gear or model', kinds, this.naming);
      if (!target || !this.present(target, step)) return [];
      if (target.$type === 'Gear') return [{ piece: `gear:${target.name}`, port: step.port, place }];
      const model = this.models.lower(target);
      this.needsPorts(model, { node: step, property: 'target' }, 'piece in a line');
      const wanted = freshCount(model, channels);
      const count = wanted === 1 || context.mayMake((wanted - 1) * PORTS_A_BOX, { node: step }) ? wanted : 1;
      for (let index = 0; index < count; index++) {
        const id = freshId(place, index);
        this.making.push(['pieces', { id, kind: 'fresh', label: model.label, model, holding: model.holding, for: [], place }]);
      }
      return [{ piece: place, port: step.port, place }];
    });
  }

  /** A second "via" is told: between the steps of a line stand commas. */
  private joined(vias: readonly ast.Via[], statement: string): void {
    const [first, ...more] = vias;
    const again = first && (first.again[0] !== undefined ? { node: first, property: 'again' } : more[0] && { node: more[0] });
    if (!again) return;
    const written = vias.flatMap(({ steps }) => steps.map((step) => step.$cstNode?.text ?? ''));
    const joined = `via ${written.join(', ')}`;
    const fixes = [{ at: { node: first }, with: joined }, ...more.map((via) => ({ at: { node: via }, with: '' }))];
    this.context.report('text/clause-twice', again, { clause: 'via', before: 'via', statement, joined }, { fixes, together: true });
  }

  // ---- names -------------------------------------------------------------------------------------

  private parentOf(model: ast.Model): ast.Model | undefined {
    return model.parent && this.modelOf(model.parent, model, 'parent');
  }

  private modelOf(reference: Reference<ast.Model> | undefined, node: AstNode, property: string): ast.Model | undefined {
    return this.context.resolve(reference, { node, property }, 'model', ['Model'], this.naming);
  }

  /** What is made of a model that only says what kind of thing it is cannot be plugged in. */
  private needsPorts(model: Model, mark: Mark, of: string, lacks: 'output' | 'port' = 'port'): void {
    const fits = ({ ports }: Model) => ports.some(({ direction }) => lacks === 'port' || direction === lacks);
    if (fits(model)) return;
    const kinds = this.table.all(this.document, 'Model').map((declared) => this.models.lower(declared as ast.Model));
    const instead = kinds.filter((each) => each.lineage.indexOf(model.id) > 0 && fits(each)).map(({ id }) => id);
    const named = instead.slice(0, MOST_INSTEAD);
    this.context.report(
      'models/no-ports',
      mark,
      { model: model.id, of, lacks, instead: named },
      { fixes: named.map((each) => ({ with: each })) },
    );
  }

  private resolve<K extends keyof KindNodes>(
    reference: Reference<KindNodes[K]> | undefined,
    node: AstNode,
    what: string,
    kind: K,
    property?: string,
    index?: number,
  ): KindNodes[K] | undefined {
    const mark = { node, property: property ?? what, index };
    const found = this.context.resolve(reference, mark, what, [kind], this.naming) as KindNodes[K] | undefined;
    return this.present(found, node);
  }

  /** What is left out on this night is not there; who names it all the same in this file is told. */
  private present<N extends AstNode>(found: N | undefined, by: AstNode): N | undefined {
    if (!found || !this.night.isLeftOut(found)) return found;
    const { name } = found as unknown as Declaration;
    const replaced = this.closure[0]?.get(found.$type as Kind, name);
    if (replaced) return replaced as unknown as N;
    if (AstUtils.getDocument(by) === this.document) this.context.report('use/left-out', { node: by }, { name });
    return undefined;
  }

  private names(kinds: readonly Kind[]): string[] {
    return kinds.flatMap((kind) => this.table.all(this.document, kind).map((declaration) => declaration.name));
  }

  /** In whatever capitals, with or without spaces and hyphens. */
  private labelled(written: string, kinds: readonly Kind[]): string[] {
    const wanted = lettersOf(written);
    const isCalledSo = ({ label = '' }: Declaration) => label.length >= wanted.length && lettersOf(label) === wanted;
    const called = wanted === '' ? [] : kinds.flatMap((kind) => this.table.all(this.document, kind)).filter(isCalledSo);
    return [...new Set(called.map(({ name }) => name))].slice(0, MOST_INSTEAD);
  }

  /** Another file of the workspace that has a name which nothing here uses. A whole rig is not for others to use. */
  private elsewhere(name: string, kinds: readonly Kind[]): string | undefined {
    const mayLend = ({ document: { uri }, title }: Symbols) => title === undefined && this.workspace.mayUse(uri, this.document.uri);
    return this.table.elsewhere(this.document, name, kinds, mayLend);
  }
}

function lettersOf(words: string): string {
  return words.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, '');
}

interface KindNodes {
  Model: ast.Model;
  Gear: ast.Gear;
  Performer: ast.Performer;
  Source: ast.Source;
  Mix: ast.Mix;
}

const GUARDS = { carriers: 'carriersHz', pairs: 'pairsHz', triples: 'triplesHz', fifths: 'fifthHz' } as const;

const KIND_WORDS: Readonly<Record<Kind, string>> = { Model: 'model', Gear: 'gear', Performer: 'performer', Source: 'source', Mix: 'mix' };

/** A mix that no line takes, whatever it is called: it goes to those whom it is for. */
function isForEars(node: AstNode): boolean {
  return node.$type === 'Mix' && !(node as ast.Mix).house && (node as ast.Mix).performers.length > 0;
}
