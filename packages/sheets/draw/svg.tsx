/**
 * A drawing as SVG: in a page, with the page's colours and type, or as a file that stands alone. Numbers are rounded to two
 * decimals, so that the same drawing gives the same bytes on every machine.
 */
import type { JSX } from 'preact';
import { render } from 'preact-render-to-string';
import type { Place } from '#rig';
import type { Box, Drawing, Path, Role, Shape, Words } from '../drawing';
import type { Interaction } from '../render/components/interaction';
import { HEAD_HALF, headLength } from './arrow';
import { isMeasured, widthOf } from './words';

interface SvgProps {
  readonly drawing: Drawing;
  /** What the drawing says, for those who cannot see it. */
  readonly description: string;
  readonly act?: Interaction;
}

/** How the roles are painted. */
type Paint = (role: Role) => string;

/** In a page: its custom properties. They are presentation attributes, which a page's policy on styles does not forbid. */
const ofPage: Paint = (role) => `var(--${role})`;

/** In a file: on white paper, told apart by how dark they are. Contrast on white (WCAG 2): accent 5.2, warning 6.1, danger 8.2, lines 3.2. */
const FILE_COLOURS: Readonly<Record<Role, string>> = {
  ink: '#16191c',
  muted: '#566068',
  line: '#87929a',
  accent: '#0f7b6c',
  tint: '#eaf1ef',
  paper: '#ffffff',
  warning: '#8a5700',
  danger: '#9b1c1c',
};
const onPaper: Paint = (role) => FILE_COLOURS[role];

/** The type that words were measured in comes first; in any other they are given as much room. */
const FILE_FONTS = "'DejaVu Sans Condensed', 'DejaVu Sans', 'Segoe UI', 'Helvetica Neue', Arial, sans-serif";

/** A thin line is hard to hit: around it this much in mm counts as well. */
const REACH_MM = 2;
const LINE_MM = 0.25;
const DASHES_MM = [1.6, 1.1];

/** Of the smallest words on a screen, in its pixels of 1/96 in: smaller is hard to read (common practice, no source). */
const READ_PX = 8;
const PX_PER_MM = 96 / 25.4;

/** As narrow as a screen may make it, in mm; never wider than it is on paper. */
function leastWidth({ width, shapes }: Drawing): number {
  const smallest = shapes.reduce((least, shape) => (shape.kind === 'words' ? Math.min(least, shape.size) : least), Infinity);
  return width * Math.min(1, READ_PX / (smallest * PX_PER_MM));
}

/**
 * A drawing in a page, `drawing.width` mm wide on paper and no wider than the page. It is one picture with its description;
 * with `act`, what stands for a statement can be reached and pressed: one stop for the whole, arrow keys from one to the next.
 */
export function Svg({ drawing, description, act }: SvgProps) {
  const { width, height } = drawing;
  const parts = gathered(drawing.shapes);
  const first = parts.find(({ label, place }) => place !== undefined && label !== undefined);
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      class="drawing"
      viewBox={`0 0 ${short(width)} ${short(height)}`}
      width={`${short(width)}mm`}
      style={{ '--least': `${short(leastWidth(drawing))}mm` }}
      direction="ltr"
      font-family="var(--sans)"
      role={act ? 'group' : 'img'}
      aria-label={description}
      onKeyDown={act && step}
    >
      {parts.map((part, index) => (
        <PartOf key={index} part={part} paint={ofPage} act={act} stop={part === first} />
      ))}
    </svg>
  );
}

/** A file of its own, in UTF-8. Whatever the labels hold, it is well-formed XML with nothing in it that runs or loads. */
export function svgFile(drawing: Drawing, title: string, description: string): string {
  const { width, height } = drawing;
  const picture = render(
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${short(width)} ${short(height)}`}
      width={`${short(width)}mm`}
      height={`${short(height)}mm`}
      direction="ltr"
      font-family={FILE_FONTS}
      role="img"
      aria-labelledby="title description"
    >
      <title id="title">{legal(title)}</title>
      <desc id="description">{legal(description)}</desc>
      <rect width={short(width)} height={short(height)} fill={onPaper('paper')} />
      {gathered(drawing.shapes).map((part, index) => (
        <PartOf key={index} part={part} paint={onPaper} />
      ))}
    </svg>,
  );
  // The three characters may not stand in text as they are (XML 1.0, 2.4); nothing else here can make them.
  return `<?xml version="1.0" encoding="UTF-8"?>\n${picture.replaceAll(']]>', ']]&gt;')}\n`;
}

/** Without the characters that no XML file may hold (XML 1.0, 2.2): most control characters, and halves of a pair. */
function legal(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for.
  return text.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Cs}/gu, '\ufffd');
}

// ---- parts -----------------------------------------------------------------------------------------

/** Shapes one after another that stand for the same thing: they are pressed as one. */
interface Part {
  readonly place?: Place;
  readonly label?: string;
  readonly shapes: readonly Shape[];
}

function gathered(shapes: readonly Shape[]): Part[] {
  const parts: { place?: Place; label?: string; shapes: Shape[] }[] = [];
  for (const shape of shapes) {
    const last = parts.at(-1);
    if (last && last.place === shape.place && shape.place !== undefined) last.shapes.push(shape);
    else parts.push({ place: shape.place, shapes: [shape] });
  }
  return parts.map((part) => ({ ...part, label: labelOf(part.shapes) }));
}

/** What the shapes say themselves, before what is written in them. */
function labelOf(shapes: readonly Shape[]): string | undefined {
  const told = [...new Set(shapes.flatMap((shape) => (shape.kind !== 'words' && shape.label ? [shape.label] : [])))];
  const written = shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.label ?? shape.text] : []));
  return (told.length > 0 ? told.join('; ') : written.join(' ')) || undefined;
}

interface PartProps {
  readonly part: Part;
  readonly paint: Paint;
  readonly act?: Interaction;
  /** The keyboard comes in here. */
  readonly stop?: boolean;
}

function PartOf({ part, paint, act, stop = false }: PartProps) {
  const { place, label, shapes } = part;
  const drawn = shapes.map((shape, index) => <Drawn key={index} shape={shape} paint={paint} />);
  const tip = label !== undefined && shapes.some((shape) => shape.label !== undefined) && <title>{legal(label)}</title>;
  const still = (
    <g>
      {tip}
      {drawn}
    </g>
  );
  if (place === undefined || !act) return still;
  const lit = act.isLit([place]);
  const reach = shapes.map((shape, index) =>
    shape.kind === 'path' && shape.fill === undefined ? (
      <path key={index} d={along(shape.points, shape.closed)} fill="none" stroke="transparent" stroke-width={REACH_MM} />
    ) : null,
  );
  // Whoever speaks to it says what is written there, so that stands in its name (WCAG 2.5.3).
  const shown = shapes.flatMap((shape) => (shape.kind === 'words' ? [shape.text] : [])).join(' ');
  // What has no name of its own is there for the pointer only.
  const named =
    label === undefined
      ? {}
      : {
          role: 'button' as const,
          tabindex: stop ? 0 : -1,
          'aria-label': label.includes(shown) ? label : `${shown}: ${label}`,
          'aria-current': lit ? ('true' as const) : undefined,
        };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: with a name it is a button; the drawing hears its keys.
    <g class={lit ? 'jump lit' : 'jump'} onClick={() => act.jump(place)} {...named}>
      {tip}
      {reach}
      {/* A space between them: words one after another are words apart, to whoever has them read out. */}
      {drawn.flatMap((each) => [each, ' '])}
    </g>
  );
}

/** Arrow keys, Home and End go from one to the next; Enter and the space bar press it. */
function step(event: JSX.TargetedKeyboardEvent<SVGSVGElement>) {
  const all = [...event.currentTarget.querySelectorAll<SVGGElement>('g[role="button"]')];
  const at = all.indexOf(event.target as SVGGElement);
  if (at < 0) return;
  const next: Readonly<Record<string, number>> = {
    ArrowRight: at + 1,
    ArrowDown: at + 1,
    ArrowLeft: at - 1,
    ArrowUp: at - 1,
    Home: 0,
    End: all.length - 1,
  };
  if (event.key === 'Enter' || event.key === ' ') all[at]?.dispatchEvent(new MouseEvent('click', { bubbles: true }));
  else if (next[event.key] === undefined) return;
  else {
    const wanted = all[next[event.key] ?? at];
    if (wanted) {
      all[at]?.setAttribute('tabindex', '-1');
      wanted.setAttribute('tabindex', '0');
      wanted.focus();
    }
  }
  event.preventDefault();
}

// ---- shapes ----------------------------------------------------------------------------------------

function Drawn({ shape, paint }: { readonly shape: Shape; readonly paint: Paint }) {
  switch (shape.kind) {
    case 'box':
      return (
        <rect
          x={short(shape.x)}
          y={short(shape.y)}
          width={short(shape.width)}
          height={short(shape.height)}
          rx={shape.radius === undefined ? undefined : short(shape.radius)}
          {...inked(shape, paint)}
        />
      );
    case 'dot':
      return <circle cx={short(shape.x)} cy={short(shape.y)} r={short(shape.radius)} {...inked(shape, paint)} />;
    case 'path':
      return <Line path={shape} paint={paint} />;
    case 'words':
      return <Text words={shape} paint={paint} />;
  }
}

function Text({ words, paint }: { readonly words: Words; readonly paint: Paint }) {
  return (
    <text
      x={short(words.x)}
      y={short(words.y)}
      font-size={short(words.size)}
      font-weight={words.bold ? 600 : undefined}
      text-anchor={words.anchor === 'start' ? undefined : words.anchor}
      // In whatever type it is shown, it takes the room that it was measured for.
      {...(isMeasured(words.text) && { textLength: short(widthOf(words.text, words.size, words.bold)), lengthAdjust: 'spacingAndGlyphs' })}
      fill={paint(words.role ?? 'ink')}
    >
      {legal(words.text)}
    </text>
  );
}

function Line({ path, paint }: { readonly path: Path; readonly paint: Paint }) {
  const head = path.arrow && !path.closed ? headOf(path) : undefined;
  const points = head ? [...path.points.slice(0, -1), head.base] : path.points;
  return (
    <>
      <path d={along(points, path.closed)} stroke-linejoin="round" {...inked(path, paint)} />
      {head && <path d={along(head.corners, true)} fill={paint(path.stroke ?? 'ink')} />}
    </>
  );
}

type Point = readonly [number, number];

/** A filled triangle whose tip is the last point; the line ends in its base, so that it does not stick out at the tip. */
function headOf({ points, strokeWidth = LINE_MM }: Path): { base: Point; corners: Point[] } | undefined {
  const tip = points.at(-1);
  const before = points.findLast((point) => tip && (point[0] !== tip[0] || point[1] !== tip[1]));
  if (!tip || !before) return undefined;
  const far = Math.hypot(tip[0] - before[0], tip[1] - before[1]);
  const length = Math.min(headLength(strokeWidth), far);
  const [dx, dy] = [(tip[0] - before[0]) / far, (tip[1] - before[1]) / far];
  const base: Point = [tip[0] - dx * length, tip[1] - dy * length];
  const half = length * HEAD_HALF;
  return { base, corners: [tip, [base[0] - dy * half, base[1] + dx * half], [base[0] + dy * half, base[1] - dx * half]] };
}

type Inked = Pick<Box, 'fill' | 'stroke' | 'strokeWidth' | 'dashed'>;

function inked({ fill, stroke, strokeWidth = LINE_MM, dashed }: Inked, paint: Paint) {
  return {
    fill: fill ? paint(fill) : 'none',
    stroke: stroke && paint(stroke),
    'stroke-width': stroke && short(strokeWidth),
    'stroke-dasharray': stroke && dashed ? DASHES_MM.join(' ') : undefined,
  };
}

function along(points: readonly Point[], closed = false): string {
  return points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('') + (closed ? 'Z' : '');
}

/** Two decimals, and never minus nought. What is no number is nought: a picture with one shape out of place is still a picture. */
function short(value: number): number {
  return Number.isFinite(value) ? Math.round(value * 100) / 100 + 0 : 0;
}
