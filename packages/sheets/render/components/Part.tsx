/** Some of a table's rows that follow one another, drawn together: at once where they are in sight, or else when there is time. */
import { Component } from 'preact';
import { isSameList, type Place } from '#rig';
import { groupAt, stepOf, type TableBlock } from '../../sheet';
import { Entry, hasSameHead } from './Entry';
import type { Interaction } from './interaction';
import { drawLater, drawnNow } from './later';
import type { RowPart } from './parts';

interface PartProps extends Omit<RowPart, 'id'> {
  /** Of its rows, where they have some. */
  readonly boxes: readonly string[];
  readonly block: TableBlock;
  readonly act?: Interaction;
  /** It is in sight, or nearly. */
  readonly isNear: boolean;
}

/** What a reader has done to it, by the rows. */
interface Marks {
  readonly lit: readonly boolean[];
  readonly ticked: readonly boolean[];
}

export class Part extends Component<PartProps> {
  /** As it was drawn last, or will be. */
  private marks: Marks;

  constructor(props: PartProps) {
    super(props);
    this.marks = marksOf(props);
  }

  override shouldComponentUpdate(next: PartProps): boolean {
    const now = this.props;
    const before = this.marks;
    this.marks = marksOf(next);
    // Somebody has done it, and looks.
    if (!isSameList(before.lit, this.marks.lit) || !isSameList(before.ticked, this.marks.ticked)) return true;
    if (saysTheSame(now, next)) return false;
    if (next.isNear) return true;
    drawLater(this, next.rows.length);
    return false;
  }

  override componentWillUnmount(): void {
    drawnNow(this);
  }

  // What is to be done follows from what it has been given last, which its rows may not have been.
  private readonly jump = (place: Place) => this.props.act?.jump(place);
  private readonly tick = (box: string, on: boolean) => this.props.act?.ticks?.set(box, on);

  override render() {
    drawnNow(this);
    const { rows, first, boxes, block, act } = this.props;
    const { lit, ticked } = this.marks;
    return rows.map((row, index) => (
      <Entry
        key={row.key}
        row={row}
        group={groupAt(block.rows, first + index)}
        step={stepOf(block, first + index)}
        box={boxes[index]}
        ticked={ticked[index]}
        lit={lit[index]}
        block={block}
        jump={act && this.jump}
        tick={act?.ticks && this.tick}
      />
    ));
  }
}

function marksOf({ rows, boxes, act }: PartProps): Marks {
  return {
    lit: act ? rows.map(({ about }) => about.length > 0 && act.isLit(about)) : [],
    ticked: act?.ticks ? boxes.map((box) => act.ticks?.has(box) ?? false) : [],
  };
}

function saysTheSame(now: PartProps, next: PartProps): boolean {
  return (
    now.rows === next.rows &&
    groupAt(now.block.rows, now.first) === groupAt(next.block.rows, next.first) &&
    isSameList(now.boxes, next.boxes) &&
    hasSameHead(now.block, next.block) &&
    stepOf(now.block, now.first) === stepOf(next.block, next.first)
  );
}
