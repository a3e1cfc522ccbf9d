/** Names are found through maps kept for each document, in the order that `symbols.ts` gives. */
import {
  type AstNodeDescription,
  AstUtils,
  DefaultLinker,
  DefaultScopeComputation,
  type LangiumDocument,
  type LinkingError,
  type LocalSymbols,
  MultiMap,
  type ReferenceInfo,
  type Scope,
  type ScopeProvider,
  stream,
} from 'langium';
import type { RigServices } from './module';
import type { Declaration, Kind, SymbolTable } from './symbols';

/** What a reference may mean, the likeliest first. */
const MEANINGS: Readonly<Record<string, readonly Kind[]>> = {
  Model: ['Model'],
  Gear: ['Gear'],
  Performer: ['Performer'],
  Source: ['Source'],
  Mix: ['Mix'],
  Takeable: ['Source', 'Mix', 'Gear'],
  Steppable: ['Gear', 'Model'],
  Leavable: ['Performer', 'Source', 'Gear', 'Mix'],
};

export class RigScopeProvider implements ScopeProvider {
  private readonly symbols: SymbolTable;
  private readonly descriptions = new WeakMap<Declaration, AstNodeDescription>();
  private readonly services: RigServices;

  constructor(services: RigServices) {
    this.services = services;
    this.symbols = services.rig.Symbols;
  }

  getScope(context: ReferenceInfo): Scope {
    const document = AstUtils.getDocument(context.container);
    const kinds = MEANINGS[this.services.shared.AstReflection.getReferenceType(context)] ?? [];
    const describe = (declaration: Declaration) => this.describe(declaration);
    return {
      getElement: (name) => {
        const found = this.symbols.meaning(document, kinds, name);
        return found && describe(found);
      },
      getElements: (name) => stream(kinds.flatMap((kind) => this.symbols.find(document, kind, name) ?? []).map(describe)),
      getAllElements: () => stream(kinds.flatMap((kind) => this.symbols.all(document, kind)).map(describe)),
    };
  }

  /** One description for all references to a declaration; its path is seldom asked for, and changes as statements move. */
  private describe(node: Declaration): AstNodeDescription {
    let description = this.descriptions.get(node);
    if (!description) {
      const { AstNodeLocator } = this.services.workspace;
      description = {
        node,
        name: node.name,
        type: node.$type,
        documentUri: AstUtils.getDocument(node).uri,
        get path() {
          return AstNodeLocator.getAstNodePath(node);
        },
      };
      this.descriptions.set(node, description);
    }
    return description;
  }
}

export class RigLinker extends DefaultLinker {
  /** Said in our own words, where a rig is lowered. Names are looked up without scopes, so it is no matter how far a document is built. */
  protected override createLinkingError(info: ReferenceInfo): LinkingError {
    return { info, message: '' };
  }
}

/** Nothing is local to a part of a document, so there is nothing to gather. */
export class RigScopeComputation extends DefaultScopeComputation {
  override async collectLocalSymbols(_document: LangiumDocument): Promise<LocalSymbols> {
    return new MultiMap<never, never>() as unknown as LocalSymbols;
  }
}
