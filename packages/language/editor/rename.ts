/** Renaming, with a plain refusal where a new name would not be a name, would be taken, or is not ours to change. */
import { AstUtils, type LangiumDocument } from 'langium';
import type { RenameProvider } from 'langium/lsp';
import {
  LSPErrorCodes,
  type Position,
  type Range,
  type RenameParams,
  ResponseError,
  type TextDocumentPositionParams,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { isLibrary } from '../library';
import type { Declaration, Kind } from '../symbols';
import { isStatementWord } from '../syntax/words';
import type { RigEditorServices } from './services';
import { idsOf, type Occurrence, type Pointed, type PortSite, sitesOf } from './things';

/** What a name of each kind could be taken for where both may be written. */
const CONFUSED: Readonly<Record<Kind, readonly Kind[]>> = {
  Model: ['Model', 'Gear'],
  Gear: ['Gear', 'Model', 'Source', 'Mix'],
  Source: ['Source', 'Gear', 'Mix'],
  Mix: ['Mix', 'Source', 'Gear'],
  Performer: ['Performer'],
};

const CALLED: Readonly<Record<Kind, string>> = {
  Model: 'model',
  Gear: 'piece of gear',
  Performer: 'performer',
  Source: 'source',
  Mix: 'mix',
};

export class RigRenameProvider implements RenameProvider {
  constructor(private readonly services: RigEditorServices) {}

  /** The name that would change, exactly; refuses by an error that the editor shows. */
  prepareRename(document: LangiumDocument, params: TextDocumentPositionParams): Range | undefined {
    const pointed = this.pointed(document, params.position);
    if (!pointed) return undefined;
    this.occurrences(pointed);
    return pointed.range;
  }

  rename(document: LangiumDocument, params: RenameParams): WorkspaceEdit | undefined {
    const pointed = this.pointed(document, params.position);
    if (!pointed) return undefined;
    const name = params.newName.trim().normalize('NFC');
    const { thing } = pointed;
    const port = thing.kind === 'ports';
    this.checkWord(name, port);
    const occurrences = this.occurrences(pointed);
    if (name === (thing.kind === 'declared' ? thing.node.name : thing.ids[0])) return { changes: {} };
    if (thing.kind === 'declared') this.checkFree(name, thing.node, occurrences);
    else this.checkPortFree(name, thing.sites);
    const changes: Record<string, TextEdit[]> = {};
    for (const each of occurrences) {
      const uri = each.document.uri.toString();
      changes[uri] = [...(changes[uri] ?? []), { range: each.range, newText: name }];
    }
    return { changes };
  }

  private pointed(document: LangiumDocument, position: Position): Pointed | undefined {
    return this.services.editor.Things.at(document, position);
  }

  /** All that has to change together. */
  private occurrences({ thing }: Pointed): Occurrence[] {
    if (thing.kind === 'declared') {
      if (isLibrary(AstUtils.getDocument(thing.node).uri)) {
        const { name } = thing.node;
        throw refusal(`${name} belongs to the library: make your own model ("model our-${name} is ${name}") and give it any name.`);
      }
      return this.services.editor.Things.occurrences(thing);
    }
    const sites = this.family(thing.sites);
    const strange = sites.find(({ port }) => isLibrary(AstUtils.getDocument(port).uri));
    if (strange) throw refusal(`${strange.id} is a port of ${strange.model.name}, which belongs to the library: make your own model.`);
    const occurrences = this.services.editor.Things.occurrences({ kind: 'ports', sites, ids: thing.ids });
    const spread = occurrences.find((each) => each.spread);
    if (spread || thing.ids.length > 1) {
      const text = spread ? spread.document.textDocument.getText(spread.range) : thing.ids.join(', ');
      throw refusal(`${text} counts through several ports, so one of them cannot be renamed by itself: change the text by hand.`);
    }
    return occurrences;
  }

  /** A port with those that replace it in other models, and with the other direction where both go by one name. */
  private family(start: readonly PortSite[]): PortSite[] {
    const found = new Map(start.map((site) => [site.written, site]));
    const models = this.services.shared.workspace.LangiumDocuments.all
      .flatMap((document) => this.services.rig.Symbols.of(document).all('Model') as Iterable<Declaration & { $type: 'Model' }>)
      .toArray();
    for (const site of found.values()) {
      for (const model of models) {
        const lineage = sitesOf(model, site.id, 'any');
        const above = model.parent?.ref ? sitesOf(model.parent.ref, site.id, 'any') : [];
        const all = [...lineage, ...above];
        if (!all.some((each) => each.written === site.written)) continue;
        for (const each of all) if (!found.has(each.written)) found.set(each.written, each);
      }
    }
    return [...found.values()];
  }

  // ---- refusals ----------------------------------------------------------------------------------

  private checkWord(name: string, port: boolean): void {
    if (name === '') throw refusal('A name has at least one letter.');
    if (isStatementWord(name)) throw refusal(`"${name}" starts a statement, so it cannot be a name: call it ${name}-1 or my-${name}.`);
    if (port && /^\d+$/.test(name)) return;
    const { tokens, errors } = this.services.parser.Lexer.tokenize(name);
    const [token] = tokens;
    const whole = tokens.length === 1 && errors.length === 0 && token?.image === name;
    if (!whole || !token || !/^[^"\u201C\d+\-\u2212\u2013{}.,:/%]/.test(token.image)) {
      throw refusal(
        `"${name}" is not a name: a name starts with a letter, and goes on with letters, digits, - and _, without spaces. Put anything else into the label.`,
      );
    }
  }

  private checkFree(name: string, node: Declaration, occurrences: readonly Occurrence[]): void {
    const documents = new Set([AstUtils.getDocument(node), ...occurrences.map((each) => each.document)]);
    for (const document of documents) {
      for (const kind of CONFUSED[node.$type]) {
        const there = this.services.rig.Symbols.find(document, kind, name);
        if (!there || there === node) continue;
        const library = isLibrary(AstUtils.getDocument(there).uri);
        throw refusal(`There is already a ${CALLED[kind]} called ${name}${library ? ' in the library' : ''}: choose another name.`);
      }
    }
  }

  private checkPortFree(name: string, sites: readonly PortSite[]): void {
    for (const { model, port } of this.family(sites)) {
      const there =
        sitesOf(model, name, 'any').some((each) => each.port.direction === port.direction) ||
        model.items.some((item) => item.$type === 'Port' && item.ids.some((range) => idsOf(range).includes(name)));
      if (there) throw refusal(`${model.name} already has a port called ${name}: choose another name.`);
    }
  }
}

function refusal(message: string): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestFailed, message);
}
