/** How many of a sheet's boxes are ticked, and a fresh start for the next night. */
import { useState } from 'preact/hooks';

interface TickBarProps {
  /** All of the sheet's. */
  readonly boxes: readonly string[];
  /** Those that are ticked, and those of rows that are gone or say something else now. */
  readonly ticked: readonly string[];
  mark(ticked: readonly string[]): void;
}

export function TickBar({ boxes, ticked, mark }: TickBarProps) {
  const [cleared, setCleared] = useState<readonly string[]>([]);
  const done = boxes.filter((box) => ticked.includes(box)).length;
  const again = ticked.length === 0 && cleared.length > 0;
  const press = () => {
    setCleared(ticked);
    mark(again ? cleared : []);
  };
  return (
    <p class="tick-bar">
      <span>
        {done} of {boxes.length} done
      </span>
      <button type="button" class="small-button" onClick={press}>
        {again ? 'Put ticks back' : 'Clear ticks'}
      </button>
    </p>
  );
}
