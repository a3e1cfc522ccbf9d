/** What may be had for a plan: models with a price, and what the house brings. */
import { DocumentState, type LangiumDocument } from 'langium';
import type { Offer } from '#plan';
import type { Model } from '#rig';
import type * as ast from './generated/ast';
import { SHOP } from './library';
import { Context } from './lowering/context';
import { Models } from './lowering/models';
import type { RigServices } from './module';

export interface Offers {
  readonly offers: readonly Offer[];
  /** The rig names no price: those of the shop that ships stand in, which are invented. */
  readonly invented: boolean;
}

const shops = new WeakMap<RigServices, LangiumDocument<ast.RigFile>>();

/** Of the models that a document can see, those that can be had: its own and those it uses; of the library, what the house brings. */
export function offersOf(services: RigServices, document: LangiumDocument): Offers {
  const seen = offered(services, document);
  const priced = seen.filter(({ price }) => price !== undefined);
  if (priced.length > 0) return { offers: seen, invented: false };
  return { offers: [...seen, ...offered(services, shopOf(services)).filter(({ price }) => price !== undefined)], invented: true };
}

function shopOf(services: RigServices): LangiumDocument<ast.RigFile> {
  const known = shops.get(services);
  if (known) return known;
  const { LangiumDocumentFactory } = services.shared.workspace;
  const shop = LangiumDocumentFactory.fromString<ast.RigFile>(SHOP.text, SHOP.uri);
  shop.state = DocumentState.ComputedScopes;
  shops.set(services, shop);
  return shop;
}

function offered(services: RigServices, document: LangiumDocument): Offer[] {
  const lowered = new Map<ast.Model, Model>();
  const models = new Models(new Context(), services.rig.Analyser.libraryModels, (model) => model.parent?.ref);
  const modelOf = (node: ast.Model): Model => {
    const there = lowered.get(node) ?? models.lower(node);
    lowered.set(node, there);
    return there;
  };
  return services.rig.Symbols.all(document, 'Model').flatMap((declared): Offer[] => {
    const node = declared as ast.Model;
    const model = modelOf(node);
    const { holding } = model;
    if (model.ports.length === 0 || !holding || !['buy', 'hire', 'theirs'].includes(holding.how)) return [];
    const parent = node.parent?.ref;
    const said = parent && modelOf(parent);
    // A model that only says what another costs is that other one.
    const plain = said && JSON.stringify(said.ports) === JSON.stringify(model.ports) && holding.how !== 'theirs';
    return [{ model: plain ? said : model, how: holding.how, price: holding.price }];
  });
}
