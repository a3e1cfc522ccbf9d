/** A sheet, or in its place what is wrong with it: what cannot be drawn leaves the page and the other sheets standing. */
import { Component } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Sheet as SheetData } from '#sheets';
import { allBoxes, failedSheet, type Interaction, isEmpty, Sheet } from '#sheets/components';
import { sharing } from '#sheets/sharing';
import { Start } from './Start';
import { Ticked } from './Ticked';

interface DrawnProps {
  readonly sheet: SheetData<string>;
  readonly act: Interaction;
  readonly titled: boolean;
  readonly ticked: readonly string[];
  mark(ticked: readonly string[]): void;
}

interface State {
  /** The sheet that was tried last. */
  readonly sheet?: SheetData<string>;
  readonly problem?: { readonly is: unknown };
  /** It has been laid out whole, so that the room that each table takes is known. */
  readonly settled?: true;
}

export class Drawn extends Component<DrawnProps, State> {
  override state: State = {};

  static override getDerivedStateFromError(is: unknown): Partial<State> {
    return { problem: { is } };
  }

  private frame = 0;

  override componentDidMount(): void {
    this.frame = requestAnimationFrame(() => {
      this.frame = requestAnimationFrame(() => this.setState({ settled: true }));
    });
  }

  override componentWillUnmount(): void {
    cancelAnimationFrame(this.frame);
  }

  /** The next one that comes is tried. */
  static override getDerivedStateFromProps({ sheet }: DrawnProps, state: State): State | null {
    return sheet === state.sheet ? null : { sheet, problem: undefined };
  }

  override render() {
    const { sheet, act } = this.props;
    const { problem, settled } = this.state;
    // What was half drawn goes with the element that it stands in.
    return problem ? (
      <div key="failed">
        <Sheet sheet={failedSheet(sheet, problem.is)} act={act} />
      </div>
    ) : (
      <div key="whole" class={settled && 'settled'}>
        <Whole {...this.props} />
      </div>
    );
  }
}

const HINT = 'Click a row, or press Enter on it, to go to its line.';

function Whole({ sheet: told, act, titled, ticked, mark }: DrawnProps) {
  const before = useRef(told);
  const sheet = useMemo(() => sharing(before.current, told), [told]);
  before.current = sheet;
  const boxes = useMemo(() => allBoxes(sheet), [sheet]);
  const stayed = useStayed(sheet.draft !== undefined);
  return (
    <>
      {canJump(sheet) && <p class="hint">{HINT}</p>}
      {boxes.length > 0 && <Ticked boxes={boxes} ticked={ticked} mark={mark} />}
      <div class={stayed ? undefined : 'just-now'}>
        <Sheet sheet={sheet} act={act} nothing={<Start titled={titled} />} />
      </div>
    </>
  );
}

/** Each statement is wrong until it is whole: what was no draft becomes one on the screen when that has stayed so for as long, in ms. */
const STAYED = 2_000;

/** Whether something has been so since the first drawing, or for a while. */
function useStayed(is: boolean): boolean {
  const [stayed, setStayed] = useState(is);
  useEffect(() => {
    if (!is) setStayed(false);
    const timer = is ? setTimeout(() => setStayed(true), STAYED) : undefined;
    return () => clearTimeout(timer);
  }, [is]);
  return stayed;
}

function canJump(sheet: SheetData<string>): boolean {
  return !isEmpty(sheet) && sheet.blocks.some((block) => block.kind === 'table' && block.rows.some((row) => row.place !== undefined));
}
