/** What a drawing stands in: scrolled where it is too wide for the page; on a screen with an editor behind it, as large as one likes. */
import type { JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { Svg } from '../../draw/svg';
import type { DrawingBlock } from '../../sheet';
import type { Interaction, Zooms } from './interaction';

interface FrameProps {
  readonly block: DrawingBlock;
  readonly act?: Interaction;
}

export function Frame({ block, act }: FrameProps) {
  if (act?.zooms) return <Zoomed block={block} act={act} zooms={act.zooms} />;
  return (
    // biome-ignore lint/a11y/useSemanticElements: it is no part of a form.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what is scrolled can be scrolled by the keyboard (WCAG 2.1.1).
    <div class="frame" role="group" aria-label={`Drawing: ${block.title}`} tabIndex={0}>
      <Svg drawing={block.drawing} description={block.description} act={act} />
    </div>
  );
}

const STEP = 1.25;
const LEAST = 0.25;
const MOST = 8;
/** So many pixels of a wheel make it e times as large; a notch of a mouse's wheel is 100 to 120. */
const WHEEL_PX = 400;

/** A point of the drawing, as parts of its width and height, and where on the screen it is to stay. */
interface Held {
  readonly part: readonly [number, number];
  readonly x: number;
  readonly y: number;
}

function Zoomed({ block, act, zooms }: { readonly block: DrawingBlock; readonly act: Interaction; readonly zooms: Zooms }) {
  const frame = useRef<HTMLDivElement>(null);
  const held = useRef<Held>();
  const zoom = zooms.of(block.id);

  useLayoutEffect(() => {
    if (frame.current && held.current) putBack(frame.current, held.current);
    held.current = undefined;
  }, [zoom]);

  /** The point at (x, y) of the window stays where it is, or else the middle of what is seen. */
  const set = (to: number, at?: { readonly x: number; readonly y: number }) => {
    if (frame.current) held.current = hold(frame.current, at);
    zooms.set(block.id, Math.min(MOST, Math.max(LEAST, to)));
  };
  const larger = () => set(zoom * STEP);
  const smaller = () => set(zoom / STEP);
  const fit = () => set(frame.current ? Math.min(1, zoom * partSeen(frame.current)) : 1);
  const byKey = (event: JSX.TargetedKeyboardEvent<HTMLElement>) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const to = { '+': larger, '=': larger, '-': smaller, '0': fit }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    to();
  };
  // A pinch on a touch pad comes as a wheel with the control key, too.
  const byWheel = (event: JSX.TargetedWheelEvent<HTMLElement>) => {
    if (!event.ctrlKey && !event.metaKey) return;
    event.preventDefault();
    const px = Math.max(-200, Math.min(200, event.deltaMode === 0 ? event.deltaY : event.deltaY * 30));
    set(zoom * Math.exp(-px / WHEEL_PX), { x: event.clientX, y: event.clientY });
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it hears the keys of what is in it.
    <div onKeyDown={byKey}>
      {/* biome-ignore lint/a11y/useSemanticElements: it is no part of a form. */}
      <div class="zoom" role="group" aria-label={`Size of the drawing: ${block.title}`}>
        <button type="button" class="small-button" title="Smaller (−)" aria-label="Smaller" onClick={smaller}>
          −
        </button>
        <span class="zoom-now">{Math.round(zoom * 100)} %</span>
        <button type="button" class="small-button" title="Larger (+)" aria-label="Larger" onClick={larger}>
          +
        </button>
        <button type="button" class="small-button" title="Fit the width (0)" onClick={fit}>
          Fit
        </button>
      </div>
      {/* biome-ignore lint/a11y/useSemanticElements: it is no part of a form. */}
      <div
        ref={frame}
        class={zoom > 1 ? 'frame zoomed' : 'frame'}
        role="group"
        aria-label={`Drawing: ${block.title}`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what is scrolled can be scrolled by the keyboard (WCAG 2.1.1).
        tabIndex={0}
        style={{ '--zoom': zoom, '--width': `${block.drawing.width}mm` }}
        onWheel={byWheel}
      >
        <Svg drawing={block.drawing} description={block.description} act={act} />
      </div>
    </div>
  );
}

/** How much of the drawing's width there is room for; more than 1 where there is more than enough. */
function partSeen(frame: HTMLElement): number {
  const width = frame.firstElementChild?.getBoundingClientRect().width;
  return width ? frame.clientWidth / width : 1;
}

function hold(frame: HTMLElement, at?: { readonly x: number; readonly y: number }): Held | undefined {
  const drawn = frame.firstElementChild?.getBoundingClientRect();
  if (!drawn || drawn.width === 0 || drawn.height === 0) return undefined;
  const { left, right, top, bottom } = frame.getBoundingClientRect();
  const x = at?.x ?? (left + right) / 2;
  const y = at?.y ?? (Math.max(0, top) + Math.min(window.innerHeight, bottom)) / 2;
  return { part: [(x - drawn.left) / drawn.width, (y - drawn.top) / drawn.height], x, y };
}

/** By scrolling the frame, and the page as far as that is not enough. */
function putBack(frame: HTMLElement, { part: [across, down], x, y }: Held): void {
  const off = () => {
    const { left, top, width, height } = (frame.firstElementChild as Element).getBoundingClientRect();
    return [left + across * width - x, top + down * height - y] as const;
  };
  const [dx, dy] = off();
  frame.scrollLeft += dx;
  frame.scrollTop += dy;
  window.scrollBy(0, off()[1]);
}
