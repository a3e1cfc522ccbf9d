/** Inlay hints behind the lines of a rig: the gain to set, the headroom it leaves, and the leads to bring. */
import { AstUtils, type LangiumDocument } from 'langium';
import type { InlayHintProvider } from 'langium/lsp';
import type { InlayHint, InlayHintLabelPart, InlayHintParams, Position, Range, TextEdit } from 'vscode-languageserver';
import {
  type Arrival,
  type Checked,
  decibels,
  endLabel,
  exampleText,
  inLengthUnit,
  isUnstated,
  type JointLead,
  type Lead,
  type Line,
  lengthText,
  lengthUnit,
  list,
  mustNotBe,
  NOT_STATED,
  SLACK_FACTOR,
  SLACK_M,
  socketName,
  tidy,
} from '#engine';
import { CONNECTORS, type Settings as RigSettings, type Run, type Span } from '#rig';
import { leadLength } from '#sheets';
import { type Setting, settingsAt } from './gainToSet';
import { paragraphs, plain } from './markdown';
import { unstatedText } from './paths';
import type { RigEditorServices } from './services';
import type { Wishes } from './settings';
import { behind } from './statementEnd';

/** More leads on one line than can be read at a glance. */
const MOST_LEADS = 3;

export class RigHintProvider implements InlayHintProvider {
  constructor(private readonly services: RigEditorServices) {}

  getInlayHints(document: LangiumDocument, { range }: Pick<InlayHintParams, 'range'>): InlayHint[] {
    const { hints: wishes } = this.services.editor.Settings.wishes;
    const { checked, lowered } = this.services.rig.Analyser.of(document);
    if (!checked || !Object.values(wishes).includes(true)) return [];
    const hinter = new Hinter(checked, wishes);
    const { inputs, house, outputs } = checked.rig;
    return [...inputs, ...house, ...outputs]
      .flatMap((run) => {
        const node = lowered.marks.markOf(run.place)?.node;
        const statement = node?.$cstNode?.range;
        // A line of the rig that this file is a night of stands in that.
        if (!statement || AstUtils.getDocument(node) !== document || !touches(statement, range)) return [];
        return hinter.of(run, behind(document, statement), statement.end);
      })
      .sort((a, b) => a.position.line - b.position.line || a.position.character - b.position.character);
  }
}

function touches(a: Range, b: Range): boolean {
  return a.start.line <= b.end.line && a.end.line >= b.start.line;
}

class Hinter {
  private readonly lines = new Map<Run, Line[]>();
  private readonly leads: ReadonlyMap<unknown, JointLead>;

  constructor(
    private readonly checked: Checked,
    private readonly wishes: Wishes['hints'],
  ) {
    for (const line of checked.network.lines) {
      const lines = this.lines.get(line.run);
      if (lines) lines.push(line);
      else this.lines.set(line.run, [line]);
    }
    this.leads = new Map(checked.leads.map((each) => [each.joint, each]));
  }

  /** One hint behind a line, of as many parts as there is to say. `end` is where the statement ends. */
  of(run: Run, position: Position, end: Position): InlayHint[] {
    const lines = this.lines.get(run) ?? [];
    const setting = run.kind === 'input' ? lowest(settingsAt(this.checked, run, lines)) : undefined;
    const parts: InlayHintLabelPart[] = [];
    const textEdits: TextEdit[] = [];
    if (setting?.range && !setting.written && this.wishes.gain) {
      const value = `gain ${decibels(setting.gainDb)}`;
      parts.push(part(value, gainTooltip(setting, setting.range, this.checked.rig.settings)));
      textEdits.push({ range: { start: end, end }, newText: ` ${value}` });
    }
    if (setting && this.wishes.headroom) {
      const { headroomDb } = setting;
      const value = headroomDb < 0 ? `peaks ${decibels(-headroomDb)} over` : `headroom ${decibels(headroomDb)}`;
      parts.push(part(value, headroomTooltip(setting)));
    }
    const unstated = run.kind === 'input' ? lines.flatMap((line) => this.checked.levels.of(line) ?? []).find(wantsLevel) : undefined;
    if (unstated && (this.wishes.gain || this.wishes.headroom)) parts.push(part(`level ${NOT_STATED}`, unstatedText(unstated)));
    if (this.wishes.lead) parts.push(...this.leadsOf(run, lines));
    if (parts.length === 0) return [];
    const label = parts.flatMap((each, index) => (index === 0 ? [each] : [{ value: ' · ' }, each]));
    return [{ label, position, paddingLeft: true, ...(textEdits.length > 0 ? { textEdits } : {}) }];
  }

  /** The leads that this line is the first to ask for: what it shares with a line before is not plugged in twice. */
  private leadsOf(run: Run, lines: readonly Line[]): InlayHintLabelPart[] {
    const { settings } = this.checked.rig;
    const words = new Map<string, JointLead[]>();
    for (const joint of lines.flatMap((line) => line.joints)) {
      const each = this.leads.get(joint);
      const text = each && joint.runs[0] === run ? leadWords(each, settings) : undefined;
      if (!each || text === undefined) continue;
      const alike = words.get(text);
      if (!alike) words.set(text, [each]);
      else if (!alike.includes(each)) alike.push(each);
    }
    if (words.size === 0) return [];
    const texts = [...words].map(([text, { length }]) => (length > 1 ? `${length} × ${text}` : text));
    const more = texts.length > MOST_LEADS ? [`${texts.length - MOST_LEADS} more`] : [];
    const tooltip = [...words.values()].flat().map((each) => `- ${leadTooltip(each, settings)}`);
    return [part([...texts.slice(0, MOST_LEADS), ...more].join(' + '), tooltip.join('\n'))];
  }
}

function part(value: string, says: string): InlayHintLabelPart {
  return { value, tooltip: { kind: 'markdown', value: says } };
}

/** Whether a gain or a headroom would stand here, if only a level did. */
function wantsLevel(arrival: Arrival): boolean {
  const { mode, kinds } = arrival;
  return isUnstated(arrival) && mode?.maxDbu !== undefined && kinds.includes(mode.kind);
}

/** Of the channels of a line, which have one gain, the one with the least room. */
function lowest(settings: readonly Setting[]): Setting | undefined {
  return settings.length === 0 ? undefined : settings.reduce((a, b) => (b.headroomDb < a.headroomDb ? b : a));
}

// ---- gain ----------------------------------------------------------------------------------------

function gainTooltip({ arrival, gain }: Setting, range: Span, { headroomDb, marginDb }: RigSettings): string {
  const { typicalDbu, peakDbu, mode } = arrival;
  if (typicalDbu === undefined || peakDbu === undefined || mode?.maxDbu === undefined) return '';
  const short = gain.shortDb > 0.5 ? ` That is ${decibels(gain.shortDb)} more than there is.` : '';
  return paragraphs(
    `**The gain to set for ${plain(arrival.source.label)}**`,
    `Its usual level here is ${decibels(typicalDbu, 'dBu')}, its loudest peak ${decibels(peakDbu, 'dBu')}. This input clips at ${decibels(mode.maxDbu, 'dBu')} with the gain all the way down; the knob goes from ${tidy(range.low, 1)} to ${decibels(range.high)}.`,
    `Room of ${decibels(headroomDb)} above the usual level and of ${decibels(marginDb)} above the peak, the lower gain of the two, rounded down: ${decibels(gain.wantedDb)}.${short}`,
    'A place to start from: listen, and set it again at line check. Double-click to write it into the line.',
  );
}

function headroomTooltip({ arrival, gainDb, range, written, headroomDb }: Setting): string {
  const at = range ? ` at ${decibels(gainDb)} of gain${written ? '' : ', the one to set'}` : '';
  const room = headroomDb < 0 ? `${decibels(-headroomDb)} too loud for this input` : `${decibels(headroomDb)} below where this input clips`;
  const peak = arrival.peakDbu === undefined ? '' : ` (${decibels(arrival.peakDbu, 'dBu')})`;
  return `The loudest peak of ${plain(arrival.source.label)}${peak} is ${room}${at}.`;
}

// ---- leads ---------------------------------------------------------------------------------------

/** `XLR, 6 m`; `XLR female to TRS jack, 3 m`. Nothing where none is to be brought, or a plain lead of a length not known. */
function leadWords({ joint, lead, lengthM, ownM }: JointLead, settings: RigSettings): string | undefined {
  if (!lead || mustNotBe(joint)) return undefined;
  if (lengthM !== undefined) return `${plugs(lead)}, ${leadLength(lengthM, settings)}${ownM === undefined ? '' : ' more'}`;
  return ownM === undefined && lead.adapting ? plugs(lead) : undefined;
}

function plugs({ ends: [from, to] }: Lead): string {
  const words = from.connector === to.connector ? CONNECTORS[from.connector].label : `${endLabel(from)} to ${endLabel(to)}`;
  // A jack without a size is the large one.
  return words.replaceAll('6.35 mm ', '');
}

function leadTooltip({ joint, lead, needsM, lengthM, ownM }: JointLead, settings: RigSettings): string {
  const ends = lead ? ` ${endLabel(lead.ends[0])} there, ${endLabel(lead.ends[1])} here${lead.balanced ? ', balanced' : ''}.` : '';
  const way = `**${plain(socketName(joint.from))} to ${plain(socketName(joint.to))}**:${ends}`;
  if (needsM === undefined || lengthM === undefined)
    return `${way} How long is not known: write where both stand, as in "${exampleText('at 1 m, 2 m', settings)}".`;
  const own = ownM === undefined ? '' : ` Its own lead is ${lengthText(ownM, settings)}.`;
  const lengths = list(
    settings.lengthsM.map((each) => tidy(inLengthUnit(each, settings), 1)),
    'or',
  );
  return `${way} ${lengthText(needsM, settings)} are needed: the way along the edges times ${SLACK_FACTOR}, and ${lengthText(SLACK_M, settings)} of slack.${own} Leads come in ${lengths} ${lengthUnit(settings)}, so ${leadLength(lengthM, settings)}.`;
}
