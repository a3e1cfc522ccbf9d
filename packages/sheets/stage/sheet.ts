/** The stage from above: who and what stands where, and how the leads lie. */
import { type Checked, count, exampleText, type Finding, inLengthUnit, lengthText, lengthUnit, tidy } from '#engine';
import type { Position } from '#rig';
import type { Drawing } from '../drawing';
import { facts, titleOf } from '../shared/facts';
import { placeDigits } from '../shared/figures';
import type { Caution } from '../shared/model';
import { CAUTIONS } from '../shared/titles';
import { type Block, SHEET_NAMES, type Sheet, type TableBlock, type TableRow } from '../sheet';
import { PLAN_TOP, picture } from './picture';
import { type Plan, planOf } from './plan';
import { type Floor, floorOf } from './routes';
import { type Thing, thingsOf, withWords } from './things';

/** Shows no findings: those about places stand at the leads. Pure, and never throws; what has no place is listed. */
export function stageSheet(checked: Checked, _findings: readonly Finding[] = checked.findings): Sheet {
  const { settings } = checked.rig;
  const things = thingsOf(checked);
  const places = things.flatMap(({ at }) => at ?? []);
  const plan = planOf(settings, places, PLAN_TOP);
  const people = things.filter(({ kind }) => kind === 'person').flatMap(({ at }) => at ?? []);
  const floor = floorOf(checked, people, plan.stage, plan.held);
  const blocks: Block[] = [];
  if (places.length > 0 || plan.said) blocks.push(drawn(picture(things, plan, floor), things, plan, floor));
  if (things.length > 0) blocks.push(table(things, plan));
  if (floor.ways.length > 0) blocks.push({ kind: 'cautions', id: 'cautions', title: CAUTIONS, cautions: [trip(floor)] });
  return { id: 'stage', name: SHEET_NAMES.stage, title: titleOf(checked.rig), facts: facts(settings), dense: true, blocks };
}

function drawn(drawing: Drawing, things: readonly Thing[], plan: Plan, { ways, crossings }: Floor): Block {
  const people = things.filter(({ kind, at }) => kind === 'person' && at).length;
  const { stage, said, lengths } = plan;
  const length = (m: number) => lengthText(m, lengths);
  const size = said
    ? `${length(stage.right - stage.left)} wide and ${length(stage.back - stage.front)} deep`
    : 'of a size that is not said';
  const leads =
    ways.length === 0
      ? ''
      : ` Leads lie along the edges and at right angles${crossings.length === 0 ? '' : `; they cross somebody’s way in ${count(crossings.length, 'place')}`}.`;
  return {
    kind: 'drawing',
    id: 'plan',
    title: 'From above',
    remark: said
      ? undefined
      : `The stage is drawn as large as things stand apart: write its size at the top of the rig, "${exampleText('stage 8 m by 5 m', lengths)}".`,
    drawing,
    description: `A stage ${size}, from above, with the audience at the bottom, and ${count(people, 'person', 'people')} on it. The performers’ left is on the right of the drawing.${leads} The table has all places in ${lengths.inFeet ? 'feet' : 'metres'}.`,
  };
}

function table(things: readonly Thing[], plan: Plan): TableBlock {
  return {
    kind: 'table',
    id: 'places',
    title: 'Who and what stands where',
    remark:
      'Left and right are the performers’, who face the audience. Across is from the middle of the stage, back is from its front edge.',
    empty: 'Nobody and nothing is on the stage yet.',
    columns: [
      { title: 'No.', number: true },
      { title: 'Who or what', names: true },
      { title: 'What it is' },
      { title: 'There too' },
      { title: 'Across' },
      { title: 'Back', unit: lengthUnit(plan.lengths), number: true },
      ...(plan.said ? [{ title: 'From the nearer side' }] : []),
    ],
    rows: things.map((thing, index): TableRow => {
      const { key, place, about, label, is, at } = thing;
      return {
        key,
        place,
        about,
        unfinished: !at,
        findings: [],
        cells: [
          at ? index + 1 : undefined,
          label,
          is,
          withWords(thing) || undefined,
          at ? across(at.x, plan) : 'place not said',
          at ? Number(tidy(inLengthUnit(at.y, plan.lengths), placeDigits(plan.lengths))) : undefined,
          ...(plan.said ? [at && fromSide(at, plan)] : []),
        ],
      };
    }),
  };
}

function across(x: number, plan: Plan): string {
  const far = placeText(Math.abs(x), plan);
  if (Number.parseFloat(far) === 0) return 'in the middle';
  return `${far} to the ${x > 0 ? 'left' : 'right'}`;
}

/** `1.5 m from the left`, `0.5 m off the stage, left`. */
function fromSide({ x }: Position, plan: Plan): string {
  const { stage } = plan;
  const side = x > 0 ? 'left' : 'right';
  const far = (x > 0 ? stage.right : -stage.left) - Math.abs(x);
  return far < 0 ? `${placeText(-far, plan)} off the stage, ${side}` : `${placeText(far, plan)} from the ${side}`;
}

function placeText(m: number, { lengths }: Plan): string {
  return lengthText(m, lengths, placeDigits(lengths));
}

function trip({ crossings }: Floor): Caution {
  const where =
    crossings.length === 0
      ? 'As drawn, no lead crosses anybody’s straight way to the nearer side of the stage.'
      : `As drawn, leads cross somebody’s straight way to the nearer side of the stage in ${count(crossings.length, 'place')}, marked with two bars: tape them flat along their whole width of the way, or cover them with a ramp made for it.`;
  return {
    subject: 'Leads underfoot',
    text: `${where} Where people really walk, only the room shows: look before you lay. Leads go along edges, and never across doors and ways out. The rules of the venue come first.`,
  };
}
