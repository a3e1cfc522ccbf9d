/** What a figure comes to in the place where it is written: a gain at its input, a loudness at its microphone, a level in its mix. */
import type { AstNode } from 'langium';
import { decibels } from '#engine';
import type { Source } from '#rig';
import type { Analysis } from '../analysis';
import type * as ast from '../generated/ast';
import { placeText } from './figures';
import { sendText } from './hearing';
import { plain } from './markdown';
import { gainText } from './paths';

/** Empty where it means no more than it says. */
export function meaningOf(analysis: Analysis, quantity: AstNode): string {
  const node = quantity.$container;
  switch (node?.$type) {
    case 'SetGain':
      return gainMeans(analysis, node);
    case 'Typical':
    case 'Peak':
      return loudMeans(analysis, node as ast.Typical | ast.Peak);
    case 'Send':
      return sendMeans(analysis, node as ast.Send);
    case 'At':
      return placeMeans(analysis, node);
    default:
      return '';
  }
}

function gainMeans({ lowered, checked }: Analysis, node: AstNode): string {
  const run = lowered.rig.inputs.find(({ place }) => lowered.marks.markOf(place)?.node === node.$container);
  const line = run && checked?.network.lines.find((each) => each.run === run);
  return checked && line ? gainText(checked, line) : '';
}

/** The first input that a source comes to, as usual or at its loudest. */
function loudMeans({ lowered, checked }: Analysis, node: ast.Typical | ast.Peak): string {
  const owner = node.$container as AstNode & { name?: string };
  const source: Source | undefined = owner.$type === 'Source' ? lowered.rig.sources.get(`source:${owner.name}`) : undefined;
  const joint = source && checked?.network.linesOf(source.id)[0]?.joints[0];
  const arrival = joint && checked?.levels.at(joint);
  const dbu = node.$type === 'Typical' ? arrival?.typicalDbu : arrival?.peakDbu;
  return joint && dbu !== undefined ? `Comes to ${plain(joint.to.piece.label)} with ${decibels(dbu, 'dBu')}.` : '';
}

function sendMeans({ lowered, checked }: Analysis, node: ast.Send): string {
  const levels = checked?.buses.of(`mix:${node.$container.name}`);
  const send = levels?.mix.sends.find(({ place }) => lowered.marks.markOf(place)?.node === node);
  return levels && send ? sendText(levels, send) : '';
}

function placeMeans({ lowered: { rig } }: Analysis, node: AstNode): string {
  const owner = node.$container as (AstNode & { name?: string }) | undefined;
  const at =
    owner?.$type === 'Performer'
      ? rig.performers.get(`performer:${owner.name}`)?.at
      : rig.pieces.get(`${owner?.$type.toLowerCase()}:${owner?.name}`)?.at;
  const said = placeText(at, rig.settings);
  return said && `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}
