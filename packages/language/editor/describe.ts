/** What a thing of the rig is, as a hover shows it: sources, gear, models, ports, performers, mixes. */
import { type Checked, capital, decibels, hertz, type Lengths, list, portList, runName, socket, touching, touchLong } from '#engine';
import type { HouseRun, Mix, Model, Performer, Piece, Port, PortRef, Rig, Source } from '#rig';
import type { Analysis } from '../analysis';
import {
  connectorText,
  holdingText,
  inputsOf,
  kindsText,
  loudText,
  modeTable,
  originText,
  outputsOf,
  placeText,
  portTable,
  tieText,
  unitText,
} from './figures';
import { mixLateText, mixLoudText, performerLateText, portLoudText, sendPeakText } from './hearing';
import { code, paragraphs, plain, table } from './markdown';
import { Occupancy } from './occupancy';
import { endText, pathOfRun, pathsOf } from './paths';
import { suitingText } from './suiting';

function title(label: string, name: string | undefined, what: string): string {
  return `**${plain(label)}**${name === undefined || name === label ? '' : ` ${code(name)}`} · ${what}`;
}

function byLine(items: readonly (string | undefined)[]): string {
  return items.filter(Boolean).join(' · ');
}

export function describeSource(analysis: Analysis, source: Source): string {
  const { rig } = analysis.lowered;
  const { checked } = analysis;
  const piece = rig.pieces.get(source.id);
  const by = source.by && rig.performers.get(source.by)?.label;
  const model = piece?.model;
  const facts = byLine([
    loudText('usual', source.typical ?? model?.typical),
    loudText('loudest', source.peak ?? model?.peak),
    source.need === 'must' ? undefined : `${source.need} be in the ears`,
    source.private ? 'never for the audience' : undefined,
    piece?.onHz === undefined ? undefined : `on ${hertz(piece.onHz)}`,
    piece?.holding && holdingText(piece.holding),
  ]);
  const heard = [...rig.mixes.values()].flatMap((mix) =>
    mix.sends.filter((send) => send.source === source.id).map((send) => `${plain(mix.label)} ${decibels(send.levelDb)}`),
  );
  const ways = checked ? pathsOf(checked, source.id) : '';
  return paragraphs(
    title(source.label, source.name, `source${model ? `, ${plain(model.label)}` : ''}${by ? `, by ${plain(by)}` : ''}`),
    facts,
    ways || (checked ? 'It is plugged in nowhere yet.' : ''),
    heard.length > 0 ? `In the mixes ${heard.join(', ')}.` : checked ? 'In no mix.' : '',
  );
}

export function describeGear(analysis: Analysis, piece: Piece): string {
  const { rig } = analysis.lowered;
  const { model } = piece;
  const facts = byLine([
    placeText(piece.at, rig.settings),
    piece.for.length > 0 ? `for ${list(piece.for.map((id) => plain(rig.performers.get(id)?.label ?? '')))}` : undefined,
    piece.onHz === undefined ? undefined : `on ${hertz(piece.onHz)}`,
    piece.hears &&
      `hears ${code(`${rig.pieces.get(piece.hears.piece)?.name ?? ''}${piece.hears.port === undefined ? '' : `.${piece.hears.port}`}`)}`,
    piece.holding && holdingText(piece.holding),
  ]);
  return paragraphs(
    title(piece.label, piece.name, `${plain(model.label)} ${code(model.id)}`),
    facts,
    analysis.checked && pathsOf(analysis.checked, piece.id),
    portTable(model, rig.settings),
    unitText({ ...model, holding: undefined }),
    originText(model),
  );
}

/** `comment` is what stands above the model in its file. */
export function describeModel(model: Model, comment: string, lengths: Lengths): string {
  const made = model.lineage.slice(1).map(code);
  return paragraphs(
    title(model.label, model.id, made.length > 0 ? `made from ${made.join(', ')}` : 'model'),
    plain(comment),
    portTable(model, lengths) || 'It has no ports of its own: other models are made from it.',
    unitText(model),
    originText(model),
  );
}

/** A port of a real thing: what sits on it, what it can do, what else of its kind is free. */
export function describePort(analysis: Analysis, piece: Piece, port: Port): string {
  const { checked } = analysis;
  const name = piece.name === undefined ? port.id : `${piece.name}.${port.id}`;
  const head = `**${plain(piece.label)} ${port.direction} ${plain(port.id)}** ${code(name)} · ${[connectorText(port), tieText(port)].filter(Boolean).join(' · ') || kindsText(port)}`;
  const model = modeTable(port);
  if (!checked) return paragraphs(head, model);
  const occupancy = new Occupancy(checked);
  const there = occupancy.on(piece, port).map(plain);
  const word = port.direction === 'input' ? 'takes' : 'carries';
  const free = (port.direction === 'input' ? inputsOf : outputsOf)(piece.model).filter(
    (other) => other.id !== port.id && occupancy.isFree(piece, other),
  );
  return paragraphs(
    head,
    there.length > 0 ? `Here it ${word} **${list(there)}**.` : 'Nothing is plugged in.',
    portLoudText(checked, piece, port),
    arrivingText(checked, piece, port),
    suitingText(checked, piece, port),
    model,
    piece.kind !== 'gear' ? '' : free.length > 0 ? `Free besides: ${freeText(free)}.` : `No other ${port.direction} is free.`,
  );
}

/** What to set at an input of ours for what comes to it, what its split costs, and who powers it. */
function arrivingText(checked: Checked, piece: Piece, port: Port): string {
  const { key } = socket(piece, port);
  const lines = checked.network.lines.filter((line) => line.run.kind === 'input' && line.end?.key === key && line.joints.length > 0);
  return lines
    .map((line) => endText(checked, line))
    .filter(Boolean)
    .join('\n');
}

/** `1..2 (mic or line), usb1..usb8 (digital)`. */
function freeText(ports: readonly Port[]): string {
  const kinds = new Map<string, string[]>();
  for (const port of ports) {
    const kind = kindsText(port);
    const ids = kinds.get(kind);
    if (ids) ids.push(port.id);
    else kinds.set(kind, [port.id]);
  }
  return [...kinds].map(([kind, ids]) => `${plain(portList(ids))} (${kind})`).join(', ');
}

/** A port as its model declares it. */
export function describeModelPort(model: Model, port: Port): string {
  const facts = [connectorText(port), tieText(port)].filter(Boolean).join(' · ') || kindsText(port);
  return paragraphs(`**${plain(model.label)} ${port.direction} ${plain(port.id)}** · ${facts}`, modeTable(port), originText(model));
}

export function describePerformer(analysis: Analysis, performer: Performer): string {
  const { rig } = analysis.lowered;
  const sources = [...rig.sources.values()].filter((source) => source.by === performer.id);
  const packs = [...rig.pieces.values()].filter((piece) => piece.for.includes(performer.id));
  const mixes = [...rig.mixes.values()].filter((mix) => mix.for.includes(performer.id));
  const plays = list(sources.map((source) => plain(source.label)));
  const hears = mixes.map((mix) => `${plain(mix.label)} (${widthText(mix)}), ${wayOut(rig, mix) ?? 'which no output carries'}`);
  const wears = list(packs.map((piece) => packText(rig, piece)));
  return paragraphs(
    title(performer.label, performer.name, `performer${performer.at ? `, ${placeText(performer.at, rig.settings)}` : ''}`),
    plays && `Plays ${plays}.`,
    hears.length > 0 ? `Hears ${hears.join('; ')}.` : 'Has no mix to hear.',
    wears && `Wears ${wears}.`,
    analysis.checked && performerLateText(analysis.checked, performer),
    performer.ears && `Earphones: ${plain(performer.ears.label)}.`,
  );
}

function packText(rig: Rig, piece: Piece): string {
  const hears = piece.hears && rig.pieces.get(piece.hears.piece);
  if (!hears) return plain(piece.label);
  return `${plain(piece.label)}, hears ${plain(hears.label)}${piece.hears?.port === undefined ? '' : ` ${plain(piece.hears.port)}`}`;
}

function widthText(mix: Mix): string {
  return mix.stereo ? 'stereo' : 'mono';
}

/** `by Interface output 1 and Transmitter left`; undefined where no output carries it. */
function wayOut(rig: Rig, mix: Mix): string | undefined {
  const stepText = (step: PortRef) => [rig.pieces.get(step.piece)?.label, step.port].filter(Boolean).join(' ');
  const ways = rig.outputs
    .filter((run) => run.carries === mix.id)
    .map((run) => list([runName(rig, run), ...run.via.map(stepText)].map(plain)));
  return ways.length === 0 ? undefined : `by ${ways.join('; by ')}`;
}

export function describeMix(analysis: Analysis, mix: Mix): string {
  const { rig } = analysis.lowered;
  const { checked } = analysis;
  const levels = checked?.buses.of(mix.id);
  const who = mix.house ? 'the house' : list(mix.for.map((id) => plain(rig.performers.get(id)?.label ?? ''))) || 'nobody yet';
  const sends = mix.sends.map((send) => [
    plain(rig.sources.get(send.source)?.label ?? ''),
    send.channel ?? '',
    decibels(send.levelDb),
    panText(send.panPercent),
    sendPeakText(levels, send),
  ]);
  const way = wayOut(rig, mix);
  const house = rig.house.filter((run) => run.takes?.kind === 'mix' && run.takes.id === mix.id).map((run) => runName(rig, run));
  return paragraphs(
    title(mix.label, mix.name, `${widthText(mix)} mix for ${who}`),
    sends.length === 0
      ? 'Nothing is in it.'
      : table(
          [
            { head: 'source' },
            { head: 'channel' },
            { head: 'level', align: 'right' },
            { head: 'side' },
            { head: 'loudest', align: 'right' },
          ],
          sends,
        ),
    way === undefined
      ? 'It does not leave: no output carries it.'
      : `It leaves ${way}${house.length > 0 ? `, to ${list(house.map(plain))}` : ''}.`,
    levels && mixLoudText(levels),
    checked && mixLateText(checked, mix),
  );
}

/** A line of the house's: what it is, what our rig does to it, and the way of its signal. */
export function describeHouse(analysis: Analysis, run: HouseRun): string {
  const { checked } = analysis;
  const head = `**${plain(capital(runName(analysis.lowered.rig, run)))}**${run.label === '' ? '' : ` · ${plain(run.label)}`}`;
  if (!checked) return head;
  const touched = checked.impact.of(run);
  return paragraphs(
    head,
    ...(touched ? touchLong(touching(checked.network, checked.supplies, touched)).map(plain) : []),
    pathOfRun(checked, run),
  );
}

function panText(percent: number): string {
  return percent === 0 ? '' : `${Math.abs(percent)} % ${percent < 0 ? 'left' : 'right'}`;
}
