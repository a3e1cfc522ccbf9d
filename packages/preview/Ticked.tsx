/** How many of a sheet's boxes are ticked, and a fresh start for the next night. */
import { useState } from 'preact/hooks';
import { TickBar } from '#sheets/components';

interface TickedProps {
  /** All of the sheet's. */
  readonly boxes: readonly string[];
  /** Those that are ticked, and those of rows that are gone or say something else now. */
  readonly ticked: readonly string[];
  mark(ticked: readonly string[]): void;
}

export function Ticked({ boxes, ticked, mark }: TickedProps) {
  const [cleared, setCleared] = useState<readonly string[]>([]);
  const marks = new Set(ticked);
  const done = boxes.filter((box) => marks.has(box)).length;
  const again = ticked.length === 0 && cleared.length > 0;
  const press = () => {
    setCleared(ticked);
    mark(again ? cleared : []);
  };
  return <TickBar done={done} of={boxes.length} button={again ? 'Put ticks back' : undefined} press={press} />;
}
