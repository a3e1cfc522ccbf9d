/** What comes by a switch: one source at a time, and whoever reads of one has to know of the others. */
import { arrives, list, signalLabel, wholePath } from '#engine';
import type { HouseRun, InputRun } from '#rig';
import { alike } from './alike';
import type { Context } from './context';
import { unique } from './draft';

/** The sources, by id, that a switch on the way of a line lets through, its own among them; nothing where there is no switch. */
function switchedWith({ checked: { network }, linesOf }: Context, run: InputRun | HouseRun): string[] {
  const line = linesOf(run.id)[0];
  const path = arrives(line) ? wholePath(network, line) : [];
  const signals = path.flatMap(({ from: { piece, port } }) =>
    port.tie?.how === 'switch'
      ? port.tie.inputs
          .flatMap((input) => network.entering.get(`${piece.id}.${input}`) ?? [])
          .flatMap((joint) => network.linesThrough(joint).flatMap(({ signal }) => signal ?? []))
      : [],
  );
  return unique(signals);
}

/** `Lute or Bouzouki, by a switch`; nothing where no switch brings another. `told` are those that stand beside it already. */
export function bySwitch(context: Context, run: InputRun | HouseRun, told: readonly string[] = []): string | undefined {
  const others = switchedWith(context, run).filter((id) => id === run.takes?.id || !told.includes(id));
  if (others.length < 2) return undefined;
  return `${list(alike(others.map((id) => signalLabel(context.checked.rig, id))), 'or')}, by a switch`;
}
