/** Cures, which the engine gives as what they do, as edits of text. */
import { type AstNode, AstUtils, type CstNode, GrammarUtils, type LangiumDocument } from 'langium';
import type { Position, TextEdit } from 'vscode-languageserver';
import { a, capital, count, decibels, type Fix, hertz, list, runName, signalLabel, tidy } from '#engine';
import type { Place, Run } from '#rig';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import { LABEL, Layout } from '../layout';
import { isLibrary } from '../library';
import { frequencyEdit } from '../writeFrequencies';
import type { RigEditorServices } from './services';
import { isDeclaration } from './things';

export interface Cure {
  readonly title: string;
  /** Edits by the address of their file. */
  readonly changes: Readonly<Record<string, readonly TextEdit[]>>;
}

interface Draft {
  readonly title: string;
  readonly node: AstNode;
  readonly edits: readonly TextEdit[];
}

export class Curing {
  private readonly runs: ReadonlyMap<Place, Run>;
  private readonly bands: ReadonlySet<LangiumDocument>;

  constructor(
    private readonly services: RigEditorServices,
    private readonly analysis: Analysis,
  ) {
    const { rig } = analysis.lowered;
    this.bands = new Set(services.rig.Symbols.bands(analysis.document).map(({ document }) => document));
    this.runs = new Map([...rig.inputs, ...rig.house, ...rig.outputs].map((run) => [run.id, run]));
  }

  /** The edits of a cure. Undefined where it cannot be carried out: in the library, or where the text is too broken. */
  cure(fix: Fix): Cure | undefined {
    const drafts = fix.kind === 'several' ? fix.fixes.map((each) => this.draft(each)) : [this.draft(fix)];
    const changes: Record<string, TextEdit[]> = {};
    for (const draft of drafts) {
      if (!draft) return undefined;
      const document = AstUtils.getDocument(draft.node);
      if (isLibrary(document.uri)) return undefined;
      // A line of the band's own rig holds for its other nights as well: it is mended there.
      if (this.bands.has(document)) return undefined;
      // Comments are never taken away.
      if (draft.edits.some(({ range }) => document.textDocument.getText(range).includes('#'))) return undefined;
      const uri = document.uri.toString();
      changes[uri] = apart([...(changes[uri] ?? []), ...draft.edits]);
    }
    const together = fix.kind === 'several' ? this.together(fix.fixes) : undefined;
    return { title: together ?? titleOf(fix, drafts as Draft[]), changes };
  }

  private draft(fix: Fix): Draft | undefined {
    switch (fix.kind) {
      case 'add-step':
        return this.addStep(fix.run, fix.model, fix.where);
      case 'replace-step':
        return this.replaceStep(fix.step, fix.with);
      case 'remove-step':
        return this.removeStep(fix.step);
      case 'move':
        return this.move(fix.run, fix.port, fix.gear);
      case 'swap':
        return this.swap(fix.run, fix.other, fix.ports);
      case 'set-gain':
        return this.setGain(fix.run, fix.gainDb);
      case 'set-pad':
        return this.setPad(fix.run);
      case 'set-phantom':
        return this.setPhantom(fix.run, fix.to);
      case 'set-frequency':
        return this.setFrequency(fix.piece, fix.hz);
      case 'set-model':
        return this.setModel(fix.piece, fix.model);
      case 'add-input':
        return this.add('Input', `Plug ${this.plugLabel(fix.source)} into ${fix.port}${this.through(fix.via)}`, [
          ['', `input ${fix.port}`],
          ['takes', `takes ${fix.source}`],
          ...this.viaPart(fix.via),
        ]);
      case 'add-output':
        return this.add('Output', `Carry ${this.mixLabel(fix.mix)} on ${fix.port}${this.through(fix.via)}`, [
          ['', `output ${fix.port}`],
          ['carries', `carries ${fix.mix}`],
          ...this.viaPart(fix.via),
        ]);
      case 'add-house':
        return this.add('House', `Tell the house: line ${fix.number} takes ${this.takenLabel(fix.takes)} (ask which line is free)`, [
          ['', `house ${fix.number}`],
          ['takes', `takes ${fix.takes}`],
          ...this.viaPart(fix.via),
        ]);
      case 'add-gear':
        return this.add('Gear', `Add ${a(this.modelLabel(fix.model))}`, [
          ['', `gear ${fix.name}`],
          [LABEL, `"${fix.label.replace(/["\u201C\u201D]/g, '')}"`],
          ['is', `is ${fix.model}`],
        ]);
      case 'set-privacy':
        return this.setPrivacy(fix.source, fix.to);
      case 'add-pack':
        return this.addPack(fix.performer, fix.transmitter, fix.side);
      case 'add-mix':
        return this.addMix(fix.name, fix.performer, fix.sends);
      case 'add-listener':
        return this.addListener(fix.mix, fix.performer);
      case 'set-width':
        return this.setWidth(fix.mix, fix.width);
      case 'remove-send':
        return this.removeSend(fix.send);
      case 'add-send':
        return this.addSend(fix.mix, fix.source, fix.levelDb ?? 0);
      case 'set-send':
        return this.setSend(fix.send, fix.levelDb);
      case 'remove': {
        const node = this.nodeOf(fix.statement);
        return node?.$cstNode && this.without(node, `Delete ${this.statementName(fix.statement)}`);
      }
      case 'rewrite':
        return this.rewrite(fix.place, fix.with);
      case 'several':
        return undefined;
    }
  }

  // ---- steps -------------------------------------------------------------------------------------

  private addStep(place: Place, model: string, where: 'first' | 'last'): Draft | undefined {
    const node = this.runNode(place);
    if (!node) return undefined;
    const title = `Put ${this.pieceLabel(model)} into ${this.runLabel(place)}`;
    const layout = Layout.of(node);
    const steps = viaOf(node)?.steps ?? [];
    const step = where === 'first' ? steps[0] : steps.at(-1);
    const there = step?.$cstNode;
    if (there) {
      const edit =
        where === 'first' ? layout.edit(there.offset, there.offset, `${model}, `) : layout.edit(there.end, there.end, `, ${model}`);
      return { title, node, edits: [edit] };
    }
    const after = node.$type === 'Output' ? part(node, 'mix') : part(node, 'taken');
    return after && { title, node, edits: [layout.append(node, after.end, 'via', `via ${model}`)] };
  }

  private replaceStep(place: Place, written: string): Draft | undefined {
    const node = this.nodeOf(place);
    const cst = node?.$cstNode;
    if (!node || !cst || node.$type !== 'Step') return undefined;
    return { title: `Go through ${written} instead of ${cst.text}`, node, edits: [Layout.of(node).replace(cst.offset, cst.end, written)] };
  }

  private removeStep(place: Place): Draft | undefined {
    const node = this.nodeOf(place);
    const cst = node?.$cstNode;
    if (!node || !cst || node.$type !== 'Step') return undefined;
    const via = node.$container as ast.Via;
    const layout = Layout.of(node);
    const index = via.steps.indexOf(node as ast.Step);
    const title = `Take ${this.stepLabel(node as ast.Step)} out of ${this.runLabel(place.slice(0, place.lastIndexOf('/')))}`;
    const before = via.steps[index - 1]?.$cstNode;
    const next = via.steps[index + 1]?.$cstNode;
    if (before) return { title, node, edits: [layout.edit(before.end, cst.end, '')] };
    if (next) return { title, node, edits: [layout.edit(cst.offset, next.offset, '')] };
    return via.$cstNode && { title, node, edits: [layout.remove(via.$cstNode.offset, via.$cstNode.end)] };
  }

  // ---- ports -------------------------------------------------------------------------------------

  private move(place: Place, port: string, gear: string | undefined): Draft | undefined {
    const node = this.runNode(place);
    const run = this.runs.get(place);
    if (!node || node.$type === 'House' || !run || run.kind === 'house') return undefined;
    const edit = this.putOn(node, port, gear);
    const here = run.kind === 'input' ? run.to.piece : run.from.piece;
    const piece = this.analysis.lowered.rig.pieces.get(gear === undefined ? here : `gear:${gear}`);
    const socket = `${piece?.label ?? ''} ${run.kind} ${port}`;
    const nowhere = (run.kind === 'input' ? run.to : run.from).ports.includes('');
    const title = !nowhere
      ? `Move ${this.signal(run)} to ${socket}`
      : run.kind === 'input'
        ? `Plug ${this.signal(run)} into ${socket}`
        : `Carry ${this.signal(run)} on ${socket}`;
    return edit && { title, node, edits: [edit] };
  }

  private putOn(node: ast.Input | ast.Output, port: string, gear?: string): TextEdit | undefined {
    const first = part(node.port, 'first');
    const last = part(node.port, 'last') ?? first;
    const whole = node.port?.$cstNode;
    // Nothing stands behind the dot yet.
    if (!first && whole?.text.endsWith('.')) {
      const layout = Layout.of(node);
      return gear === undefined ? layout.edit(whole.end, whole.end, port) : layout.edit(whole.offset, whole.end, `${gear}.${port}`);
    }
    const start = gear === undefined ? first : part(node.port, 'gear');
    return start && last && Layout.of(node).replace(start.offset, last.end, gear === undefined ? port : `${gear}.${port}`);
  }

  private swap(place: Place, otherPlace: Place, ports: readonly [string, string]): Draft | undefined {
    const [one, other] = [this.runNode(place), this.runNode(otherPlace)];
    const [run, otherRun] = [this.runs.get(place), this.runs.get(otherPlace)];
    if (!one || !other || !run || !otherRun || one.$type === 'House' || other.$type === 'House') return undefined;
    const edits = [this.putOn(one, ports[1]), this.putOn(other, ports[0])];
    if (!edits[0] || !edits[1]) return undefined;
    return { title: `Swap ${this.signal(run)} and ${this.signal(otherRun)}`, node: one, edits: [edits[0], edits[1]] };
  }

  private setGain(place: Place, gainDb: number): Draft | undefined {
    const node = this.runNode(place);
    if (node?.$type !== 'Input') return undefined;
    const title = `Set the gain to ${decibels(gainDb)}`;
    const written = `${tidy(gainDb, 1)} dB`;
    const there = node.clauses.find((clause): clause is ast.SetGain => clause.$type === 'SetGain')?.quantity?.$cstNode;
    if (there) return { title, node, edits: [Layout.of(node).replace(there.offset, there.end, written)] };
    return this.addClause(node, title, 'gain', `gain ${written}`);
  }

  private setPad(place: Place): Draft | undefined {
    const node = this.runNode(place);
    return node?.$type === 'Input' ? this.addClause(node, `Switch in the pad of ${this.runLabel(place)}`, 'pad', 'pad') : undefined;
  }

  private setPhantom(place: Place, to: 'on' | 'off'): Draft | undefined {
    const node = this.runNode(place);
    if (node?.$type !== 'Input') return undefined;
    const title = `Switch phantom power ${to} at ${this.runLabel(place)}`;
    const there = node.clauses.find((clause): clause is ast.SetPhantom => clause.$type === 'SetPhantom')?.$cstNode;
    if (there) return { title, node, edits: [Layout.of(node).replace(there.offset, there.end, `phantom ${to}`)] };
    return this.addClause(node, title, 'phantom', `phantom ${to}`);
  }

  private addClause(node: ast.Input, title: string, word: string, text: string): Draft | undefined {
    const end = node.clauses.at(-1)?.$cstNode?.end ?? part(node, 'taken')?.end;
    return end === undefined ? undefined : { title, node, edits: [Layout.of(node).append(node, end, word, text)] };
  }

  private setFrequency(place: Place, hz: number): Draft | undefined {
    const node = this.nodeOf(place);
    const edit = frequencyEdit(node, hz);
    const label = this.analysis.lowered.rig.pieces.get(place)?.label ?? '';
    return node && edit && { title: `Set ${label} to ${hertz(hz)}`, node, edits: [edit] };
  }

  private setPrivacy(place: Place, to: 'public'): Draft | undefined {
    const node = this.nodeOf(place);
    const end = node?.$cstNode?.end;
    if (node?.$type !== 'Source' || end === undefined) return undefined;
    const { name, label = name } = node as ast.Source;
    return { title: `Say that ${label} is meant for the audience`, node, edits: [Layout.of(node).append(node as ast.Source, end, to, to)] };
  }

  private setModel(place: Place, model: string): Draft | undefined {
    const node = this.nodeOf(place);
    const cst = node && part(node, 'model');
    if (!node || !cst) return undefined;
    const label = this.analysis.lowered.rig.pieces.get(place)?.label ?? '';
    return { title: `Make ${label} ${a(this.modelLabel(model))}`, node, edits: [Layout.of(node).replace(cst.offset, cst.end, model)] };
  }

  // ---- new statements ----------------------------------------------------------------------------

  private add(type: Parameters<Layout['add']>[0], title: string, parts: readonly (readonly [string, string])[]): Draft {
    const file = this.analysis.document.parseResult.value;
    const layout = new Layout(this.analysis.document.textDocument, file);
    return {
      title,
      node: file,
      edits: [
        layout.add(
          type,
          parts.map(([word, text]) => ({ word, text })),
        ),
      ],
    };
  }

  private addMix(name: string, performer: string, sends: readonly string[]): Draft {
    const inside = sends.length === 0 ? '{ }' : `{ ${sends.map((source) => `${source} 0 dB`).join('  ')} }`;
    return this.add('Mix', `Add a mix for ${this.performerLabel(performer)}`, [
      ['', `mix ${name}`],
      ['mono', 'mono'],
      ['for', `for ${performer}`],
      ['{', inside],
    ]);
  }

  private addPack(performer: string, transmitter: string, side: string | undefined): Draft {
    const { pieces } = this.analysis.lowered.rig;
    let name = `pack-${performer}`;
    for (let count = 2; pieces.has(`gear:${name}`); count++) name = `pack-${performer}-${count}`;
    return this.add(
      'Gear',
      `Give ${this.performerLabel(performer)} a pack that hears ${transmitter}${side === undefined ? '' : `.${side}`}`,
      [
        ['', `gear ${name}`],
        [LABEL, `"${this.performerLabel(performer).replace(/["\u201C\u201D]/g, '')}'s pack"`],
        ['is', 'is belt-pack'],
        ['for', `for ${performer}`],
        ['hears', `hears ${transmitter}${side === undefined ? '' : `.${side}`}`],
      ],
    );
  }

  private viaPart(via: string | undefined): [string, string][] {
    return via === undefined ? [] : [['via', `via ${via}`]];
  }

  private through(via: string | undefined): string {
    if (via === undefined) return '';
    return ` through ${this.pieceLabel(via)}`;
  }

  // ---- mixes -------------------------------------------------------------------------------------

  private addListener(place: Place, performer: string): Draft | undefined {
    const node = this.nodeOf(place) as ast.Mix | undefined;
    if (node?.$type !== 'Mix') return undefined;
    const title = `Let ${this.performerLabel(performer)} hear ${node.label ?? node.name}`;
    const layout = Layout.of(node);
    const last = node.performers.at(-1)?.$refNode;
    if (last) return { title, node, edits: [layout.replace(last.offset, last.end, `${last.text}, ${performer}`)] };
    const after = part(node, 'width') ?? part(node, 'label') ?? part(node, 'name');
    return after && { title, node, edits: [layout.append(node, after.end, 'for', `for ${performer}`)] };
  }

  private setWidth(place: Place, width: 'mono' | 'stereo'): Draft | undefined {
    const node = this.nodeOf(place) as ast.Mix | undefined;
    if (node?.$type !== 'Mix') return undefined;
    const title = `Make ${node.label ?? node.name} ${width}`;
    const layout = Layout.of(node);
    const there = part(node, 'width');
    if (there) return { title, node, edits: [layout.replace(there.offset, there.end, width)] };
    const after = part(node, 'label') ?? part(node, 'name');
    return after && { title, node, edits: [layout.append(node, after.end, width === 'mono' ? 'stereo' : 'mono', width)] };
  }

  private removeSend(place: Place): Draft | undefined {
    const node = this.nodeOf(place) as ast.Send | undefined;
    if (node?.$type !== 'Send') return undefined;
    const source = node.source?.ref;
    const mix = node.$container;
    return this.without(node, `Take ${source?.label ?? node.source?.$refText ?? 'it'} out of ${mix.label ?? mix.name}`);
  }

  private addSend(place: Place, written: string, levelDb: number): Draft | undefined {
    const node = this.nodeOf(place) as ast.Mix | undefined;
    if (node?.$type !== 'Mix') return undefined;
    const [name = '', channel] = written.split('.');
    const label = [this.sourceLabel(name), channel].filter(Boolean).join(' ');
    const title = `Put ${label} into ${node.label ?? node.name}`;
    const layout = Layout.of(node);
    const send = `${written} ${decibels(levelDb)}`;
    const after = node.sends.at(-1)?.$cstNode ?? part(node, 'open');
    if (after) return { title, node, edits: [layout.edit(after.end, after.end, `  ${send}`)] };
    const end = node.$cstNode?.end;
    return end === undefined ? undefined : { title, node, edits: [layout.append(node, end, '{', `{ ${send} }`)] };
  }

  private setSend(place: Place, levelDb: number): Draft | undefined {
    const node = this.nodeOf(place) as ast.Send | undefined;
    if (node?.$type !== 'Send') return undefined;
    const there = node.level?.$cstNode;
    const title = `Set ${node.source?.ref?.label ?? node.source?.$refText ?? 'it'} to ${decibels(levelDb)} in ${node.$container.label ?? node.$container.name}`;
    return there && { title, node, edits: [Layout.of(node).replace(there.offset, there.end, decibels(levelDb))] };
  }

  /** All sends of a mix by as much: one sentence instead of one for each. */
  private together(fixes: readonly Fix[]): string | undefined {
    if (fixes.length > 1 && fixes.every(({ kind }) => kind === 'set-frequency'))
      return `Choose clear frequencies: move ${count(fixes.length, 'set')}`;
    const { mixes } = this.analysis.lowered.rig;
    const steps = fixes.map((fix) => {
      if (fix.kind !== 'set-send') return undefined;
      const mix = mixes.get(fix.send.slice(0, fix.send.lastIndexOf('/')));
      const send = mix?.sends.find(({ place }) => place === fix.send);
      return mix && send && { mix, downDb: send.levelDb - fix.levelDb };
    });
    const [first] = steps;
    const alike = first && steps.every((step) => step?.mix === first.mix && Math.abs(step.downDb - first.downDb) < 1e-6);
    if (!alike || steps.length !== first.mix.sends.length) return undefined;
    return `Turn all of ${first.mix.label} down by ${decibels(first.downDb)}`;
  }

  // ---- text --------------------------------------------------------------------------------------

  private without(node: AstNode, title: string): Draft | undefined {
    const cst = node.$cstNode;
    return cst && { title, node, edits: [Layout.of(node).remove(cst.offset, cst.end)] };
  }

  private rewrite(place: Place, written: string): Draft | undefined {
    const spot = this.analysis.spotOf(place);
    const document = spot && this.services.shared.workspace.LangiumDocuments.all.find((each) => each.uri.toString() === spot.uri);
    if (!spot || !document) return undefined;
    const node = document.parseResult.value;
    const layout = new Layout(document.textDocument, node as ast.RigFile);
    const [start, end] = [document.textDocument.offsetAt(spot.range.start), document.textDocument.offsetAt(spot.range.end)];
    if (written === '') return { title: `Delete ${quote(layout.text.slice(start, end))}`, node, edits: [layout.remove(start, end)] };
    const mark = this.analysis.lowered.marks.markOf(place);
    const there = mark?.node;
    const title =
      there?.$type === 'Taken'
        ? `Take ${written}`
        : there && isDeclaration(there) && mark?.property === 'name'
          ? `Call the ${there.$type.toLowerCase()} ${written}`
          : `Write ${list(written.split(/\r?\n\s*/).map(quote))}`;
    return { title, node, edits: [layout.replace(start, end, written)] };
  }

  // ---- words -------------------------------------------------------------------------------------

  private nodeOf(place: Place): AstNode | undefined {
    return this.analysis.lowered.marks.markOf(place)?.node;
  }

  private runNode(place: Place): ast.Input | ast.House | ast.Output | undefined {
    const node = this.nodeOf(place);
    return node?.$type === 'Input' || node?.$type === 'House' || node?.$type === 'Output'
      ? (node as ast.Input | ast.House | ast.Output)
      : undefined;
  }

  private runLabel(place: Place): string {
    const run = this.runs.get(place);
    return run ? runName(this.analysis.lowered.rig, run) : 'this line';
  }

  private statementName(place: Place): string {
    const mix = this.analysis.lowered.rig.mixes.get(place);
    return mix ? `the mix ${mix.label}` : this.runs.has(place) ? this.runLabel(place) : 'this';
  }

  private signal(run: Run): string {
    return signalLabel(this.analysis.lowered.rig, run.kind === 'output' ? run.carries : run.takes?.id) || 'it';
  }

  private stepLabel(step: ast.Step): string {
    const target = step.target?.ref;
    const label = target?.label ?? step.target?.$refText ?? 'it';
    return target?.$type === 'Model' ? `the ${label}` : label;
  }

  /** Gear by its label, with its port; else one of a model. */
  private pieceLabel(written: string): string {
    const [name, port] = written.split('.');
    const gear = this.analysis.lowered.rig.pieces.get(`gear:${name}`);
    return gear ? [gear.label, port].filter(Boolean).join(' ') : a(this.modelLabel(written));
  }

  private modelLabel(name: string): string {
    const node = this.services.rig.Symbols.find(this.analysis.document, 'Model', name.split('.')[0] as string);
    // What it is, without its sizes: "Pad", of "Pad, 20 dB".
    return node?.label?.split(',')[0] ?? name;
  }

  private sourceLabel(name: string): string {
    const { sources, pieces } = this.analysis.lowered.rig;
    return (sources.get(`source:${name}`) ?? pieces.get(`gear:${name}`))?.label ?? name;
  }

  /** Of a source, or of one of its channels: `Keys right`. */
  private plugLabel(written: string): string {
    const [name = '', channel] = written.split('.');
    return this.analysis.lowered.rig.sources.has(`source:${name}`)
      ? [this.sourceLabel(name), channel].filter(Boolean).join(' ')
      : this.sourceLabel(written);
  }

  /** Of a mix, or of a channel of a source: `keys.right`. */
  private takenLabel(written: string): string {
    const [name = '', channel] = written.split('.');
    return channel === undefined ? this.mixLabel(name) : `${this.sourceLabel(name)} ${channel}`;
  }

  private mixLabel(name: string): string {
    return this.analysis.lowered.rig.mixes.get(`mix:${name}`)?.label ?? name;
  }

  private performerLabel(name: string): string {
    return this.analysis.lowered.rig.performers.get(`performer:${name}`)?.label ?? name;
  }
}

function titleOf(fix: Fix, drafts: readonly Draft[]): string {
  const kinds = fix.kind === 'several' ? fix.fixes.map((each) => each.kind).join() : '';
  if (kinds === 'move,add-step') return `${drafts[0]?.title}, through ${drafts[1]?.title.replace(/^Put (.*) into .*$/, '$1')}`;
  if (kinds === 'add-gear,add-step,add-step') return `${drafts[0]?.title.replace(/^Add an? /, 'Let both lines go through one ')}`;
  if (kinds === 'add-listener,rewrite,remove') return `${drafts[0]?.title} instead of a mix of their own`;
  if (fix.kind === 'several' && fix.fixes.length > 1) {
    const [word, ...others] = new Set(fix.fixes.map((each) => (each.kind === 'rewrite' ? each.with : '')));
    if (word && others.length === 0) return `Write ${quote(word)} in ${fix.fixes.length === 2 ? 'both' : `all ${fix.fixes.length}`} places`;
  }
  const titles = [...new Set(drafts.map(({ title }) => title))];
  if (fix.kind === 'several' && fix.fixes.every((each) => each.kind === 'remove-send') && titles.length > 1) {
    return `${(titles[0] as string).replace(/ out of .*$/, '')} out of ${list(titles.map((title) => title.replace(/^.* out of /, '')))}`;
  }
  return capital(list(titles.map((title, index) => (index === 0 ? title : title.charAt(0).toLowerCase() + title.slice(1)))));
}

/** What keeps its columns reaches over the gap behind it, which another edit may take away. */
function apart(edits: readonly TextEdit[]): TextEdit[] {
  const after = (a: Position, b: Position) => a.line - b.line || a.character - b.character;
  const sorted = edits.toSorted((a, b) => after(a.range.start, b.range.start));
  return sorted.map((edit, index) => {
    const next = sorted[index + 1]?.range.start;
    if (!next || after(edit.range.end, next) <= 0) return edit;
    return { range: { start: edit.range.start, end: next }, newText: edit.newText.trimEnd() };
  });
}

function viaOf(node: ast.Input | ast.House | ast.Output): ast.Via | undefined {
  return node.$type === 'Input' ? node.clauses.find((clause): clause is ast.Via => clause.$type === 'Via') : node.via;
}

function part(node: AstNode | undefined, property: string): CstNode | undefined {
  return GrammarUtils.findNodeForProperty(node?.$cstNode, property);
}

function quote(text: string): string {
  return text.includes('"') ? text : `"${text}"`;
}
