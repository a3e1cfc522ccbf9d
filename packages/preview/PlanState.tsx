/** Above a plan: that it is being made, that it is of an earlier text, why it could not be made; or that it can be written. */
import type { Sheet } from '#sheets';
import type { PlanNow } from './messages';

interface PlanStateProps {
  readonly plan: PlanNow;
  readonly sheet: Sheet<string> | undefined;
  write(): void;
}

export function PlanState({ plan: { making, problem }, sheet, write }: PlanStateProps) {
  if (problem !== undefined)
    return (
      <p class="hint" role="status">
        The rig could not be planned: {problem}
      </p>
    );
  if (making)
    return (
      <p class={sheet ? 'hint earlier' : 'hint'} role="status">
        {sheet ? 'Planning anew … What stands here is the plan of the text before it was changed.' : 'Planning …'}
      </p>
    );
  if (!sheet || !hasChanges(sheet)) return null;
  return (
    <p class="hint">
      <button type="button" class="write" onClick={write}>
        Write into the Rig…
      </button>{' '}
      Shows it as a difference first, with its changes to tick.
    </p>
  );
}

function hasChanges({ blocks }: Sheet<string>): boolean {
  return blocks.some((block) => block.kind === 'table' && block.id === 'changes' && block.rows.length > 0);
}
