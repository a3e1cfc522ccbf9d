/** Models as data, whether or not anything of the rig is one. */
import { WorkspaceCache } from 'langium';
import type { Model } from '#rig';
import type * as ast from '../generated/ast';
import { Context } from '../lowering/context';
import { Models } from '../lowering/models';
import type { RigEditorServices } from './services';

export class Shelf {
  /** Of the library, which never changes. */
  private readonly library = new WeakMap<ast.Model, Model>();
  private readonly known: WorkspaceCache<ast.Model, Model>;

  constructor(services: RigEditorServices) {
    this.known = new WorkspaceCache(services.shared);
  }

  of(model: ast.Model): Model {
    return this.known.get(model, () => new Models(new Context(), this.library, (each) => each.parent?.ref).lower(model));
  }
}
