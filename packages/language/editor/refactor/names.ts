/** Names for what has none yet. */
import type { Declaration, Kind } from '../../symbols';
import { isStatementWord } from '../../syntax/words';
import type { RigEditorServices } from '../services';

const KINDS: readonly Kind[] = ['Model', 'Gear', 'Performer', 'Source', 'Mix'];

/** A name like the one that is wanted, which nothing in any file has, so that it can be taken for nothing else. */
export function freeName(services: RigEditorServices, wanted: string): string {
  const taken = (name: string) =>
    isStatementWord(name) ||
    services.shared.workspace.LangiumDocuments.all.some((document) =>
      KINDS.some((kind) => services.rig.Symbols.of(document).names(kind).has(name)),
    );
  let name = wanted;
  for (let count = 2; taken(name); count++) name = `${wanted}-${count}`;
  return name;
}

/** What a kind of gear is called for short: the `di` of `passive-di`, the `split` of `transformer-split`; as a name and as a label. */
export function shortOf(model: Declaration & { $type: 'Model' }): { name: string; label: string } {
  const words = model.name.split('-').filter((word) => !/^\d+$/.test(word));
  const last = words.at(-1) ?? model.name;
  // A lead is called for what it does.
  const name = last === 'lead' ? words.join('-') : last;
  const label = model.label?.split(',')[0]?.trim().split(/\s+/).at(-1);
  return { name, label: label || name };
}
