/** How many of a sheet's boxes are ticked, and a button. */
import { doneWords } from './doneWords';

interface TickBarProps {
  readonly done: number;
  readonly of: number;
  readonly button?: string;
  press?(): void;
  /** Until a script shows it. */
  readonly hidden?: boolean;
}

export function TickBar({ done, of, button = 'Clear ticks', press, hidden }: TickBarProps) {
  return (
    <p class="tick-bar" hidden={hidden}>
      <span role="status">{doneWords(done, of)}</span>
      <button type="button" class="small-button" onClick={press}>
        {button}
      </button>
    </p>
  );
}
