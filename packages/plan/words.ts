/** A plan in words. The only place where they are made, so that editor, sheet and command line say the same. */
import { capital, count, type Fix, type Lengths, lengthText, list, onText, portList, say, signalLabel, tidy } from '#engine';
import type { Piece, Rig } from '#rig';
import type { Affording } from './affording';
import type { AimName } from './aims';
import type { Block } from './devices';
import { portText } from './fixes';
import type { Step } from './frontier';
import { type LineChoice, modelsOf } from './lines';
import type { Plan } from './plan';
import type { Purchase } from './purchases';
import type { LeftOut, Reason } from './reasons';
import type { Untuned } from './tune';

/** `12.50 EUR`, from hundredths; `80 EUR`, or `80.00 EUR` where it stands under the other. */
export function moneyText(cents: number, currency: string, hundredths = cents % 100 !== 0): string {
  const amount = cents / 100;
  return `${hundredths ? amount.toFixed(2) : tidy(amount, 0)} ${currency}`;
}

/** What a line elsewhere would cost, by the aim that it would miss first. */
const WORSE: Readonly<Record<AimName, (by: number, currency: string, lengths: Lengths) => string>> = {
  must: (by) => `another ${count(by, 'must')} would find no place`.replace('another one must', 'another must'),
  should: (by) => `${count(by, 'line')} that should be heard would find no place`,
  could: (by) => `${count(by, 'line')} that could be heard would find no place`,
  width: () => 'a stereo mix would have to be mono',
  dependent: (by) => `${count(by, 'more line')} of the house’s would go silent with our power or our plug`,
  replugged: (by) => `${count(by, 'more line')} of the house’s would have to be re-plugged`,
  metal: (by) => `metal would join us to the house in ${count(by, 'more place')}`,
  warnings: () => 'more would be found wrong',
  money: (by, currency) => `it would cost ${moneyText(by, currency)} more`,
  levels: (by) => `the level would suit less, by ${tidy(by / 10, 1)} dB`,
  changes: () => 'more of what is written would change',
  leads: (by) => `it would take ${count(by, 'more lead')}`,
  length: (by, _currency, lengths) => `the leads would be ${lengthText(by / 10, lengths)} longer`,
  order: () => 'nothing would be better',
};

/** Why a line is where it is: `Only Interface 1..8 take it. Interface usb1..usb16: no plug fits.` */
export function reasonText(plan: Plan, { block }: LineChoice, reason: Reason): string {
  const { refused, better, crowded, equally } = reason;
  const parts: string[] = [];
  if (better)
    parts.push(`${capital(elsewhere(better.than))}, ${WORSE[better.aim](better.by, plan.money.currency, plan.after.rig.settings)}.`);
  else if (crowded && equally.length === 0) parts.push('What else would take it is taken by lines that have no other place.');
  else if (equally.length === 0)
    parts.push(block && block.ports.length > 1 ? `Only ${blocksText([block])} take it.` : 'Nothing else takes it.');
  const [first] = refused;
  if (first && !better) parts.push(`${blocksText(first.blocks)}: ${say(first.finding).what}`);
  if (equally.length > 0) parts.push(`As good: ${list(equally.map(placeText), 'or')}.`);
  return parts.join(' ');
}

function elsewhere(choice: LineChoice): string {
  return `on ${placeText(choice)}`;
}

function placeText({ wanted, block, way }: LineChoice): string {
  const through = way.steps.map(({ stock }) => stock.model.label);
  const where = block ? blocksText([block]) : 'as it is';
  const models = modelsOf(wanted);
  const by = models.length > 1 ? [`by ${article(nounOf(models[way.model]?.label ?? ''))}`] : [];
  return [where, ...by, ...(through.length > 0 ? [`through ${list(through.map((label) => article(nounOf(label))))}`] : [])].join(' ');
}

/** A label within a sentence: `Y-lead`, `headphone amplifier`. */
function nounOf(label: string): string {
  return /^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label;
}

const article = (noun: string) => `${/^[aeiou]/i.test(noun) ? 'an' : 'a'} ${noun}`;

/** `Interface 1..4 and 5..8`. */
export function blocksText(blocks: readonly Block[]): string {
  const byDevice = new Map<string, string[]>();
  for (const { device, ports } of blocks) {
    const label = device.piece.label;
    byDevice.set(label, [...(byDevice.get(label) ?? []), ...ports.map(({ id }) => id)]);
  }
  return list([...byDevice].map(([label, ports]) => `${label} ${portList(ports)}`));
}

const NO_INPUT = 'Nothing has a free input for it: write a piece of gear that has, such as "gear iface is interface-8 owned".';
const NO_MIXER = 'Nothing makes a mix: write a piece of gear that does, such as "gear iface is interface-8 owned".';

function makesMixes({ assembled: { rig } }: Plan): boolean {
  return [...rig.pieces.values()].some(({ model }) => model.mixes !== undefined);
}

/** The input of the finding is one that was tried: whoever reads has none there. */
function unsplitText(id: string, { before: { rig }, money: { currency } }: Plan): string | undefined {
  const theirs = rig.house.find(({ takes }) => takes?.id === id);
  return (
    theirs &&
    `House ${theirs.number} takes it as well, and nothing splits it: write a split that you have, such as "gear ${rig.sources.get(id)?.name}-split is transformer-split owned", or what one costs, such as "model our-split is transformer-split { buy 30 ${currency} }".`
  );
}

export function leftOutText({ kind, id, need, reason }: LeftOut, plan: Plan): string {
  const [first, ...more] = reason.refused;
  if (reason.crowded && !plan.proven) return TOO_SHORT;
  if (reason.unaffordable) return unaffordableText(reason.unaffordable, plan);
  if (kind === 'source') {
    const unsplit = first?.finding.code === 'splits/missing' ? unsplitText(id, plan) : undefined;
    if (!reason.crowded && unsplit) return `No way in. ${unsplit}`;
    if (!reason.crowded && first)
      return `No way in. ${blocksText(first.blocks)}: ${say(first.finding).what}${more.length > 0 ? ' And so on.' : ''}`;
    if (!reason.crowded) return makesMixes(plan) ? NO_INPUT : NO_MIXER;
    return need === 'must'
      ? 'Every input that takes it is needed by another must.'
      : `It ${need} be heard, and every input that takes it is needed by others.`;
  }
  if (kind === 'listener' && reason.mixers?.length) return noMixText(reason.mixers);
  if (kind === 'listener')
    return reason.crowded
      ? 'Every output or amplifier is needed by others.'
      : makesMixes(plan)
        ? 'There is nothing to hear it by: an amplifier, or a transmitter with a pack.'
        : NO_MIXER;
  if (plan.before.rig.noHouse === 'none')
    return 'The rig says that there is no house. Where you play over your own loudspeakers, write "house ours".';
  return reason.crowded ? 'Every output is needed by others.' : 'There is no output that the house could take it from.';
}

const TOO_SHORT = 'Time ran out before it was clear whether there is a place for it.';

/** `Interface makes two stereo mixes or four in mono, and all are taken by others. …` */
function noMixText(mixers: readonly Piece[]): string {
  const made = mixers.flatMap(({ label, model: { mixes } }) => {
    if (!mixes) return [];
    const mono = mixes.width === 'stereo' ? 2 * mixes.count : mixes.count;
    return [
      mixes.width === 'stereo'
        ? `${label} makes ${count(mixes.count, 'stereo mix', 'stereo mixes')} or ${count(mono, 'mono one')}`
        : `${label} makes ${count(mono, 'mono mix', 'mono mixes')}`,
    ];
  });
  return `${list(made)}, and others need them. Two who hear the same can share one, as in "mix … for a, b".`;
}

/** What there is room for, and what would have to be bought for it. */
function unaffordableText({ choice, cents, models }: Affording, { money }: Plan): string {
  const what = list([...new Set(models)].map((model) => things(models.filter((each) => each === model).length, model.label, true)));
  const where = 'apart' in choice && choice.block ? `There is room at ${blocksText([choice.block])}. ` : '';
  const price = moneyText(cents, money.currency);
  const left = money.budget === undefined ? undefined : Math.max(0, money.budget - money.written - money.planned);
  const why =
    left === undefined
      ? `and the rig has no budget: write what you may spend, such as "budget ${price}"`
      : left === 0
        ? 'and nothing of the budget is left'
        : `and ${moneyText(left, money.currency)} of the budget are left`;
  return `${where}It needs ${what} for ${price}, ${why}.`;
}

export function purchaseText({ count: number, model, serves }: Purchase): string {
  return `${things(number, model.label)}${serves.length > 0 ? ` (for ${list(serves)})` : ''}`;
}

/** `1 headphone amplifier`, `2 headphone amplifiers`, `2 preamp expanders, eight inputs`: a label as a noun in a sentence; `a Y-lead` where it is one of any. */
function things(number: number, label: string, any = false): string {
  const noun = nounOf(label);
  if (number === 1) return any ? article(noun) : `1 ${noun}`;
  const [, head = noun, rest = ''] = /^([^,(]*[^,( ])(.*)$/.exec(noun) ?? [];
  const plural = /(s|x|ch|sh)$/.test(head) ? `${head}es` : /[^aeiou]y$/.test(head) ? `${head.slice(0, -1)}ies` : `${head}s`;
  return `${number} ${plural}${rest}`;
}

/** What a step of the frontier has over the one before, where it serves no one else. */
const BETTER: Readonly<Partial<Record<AimName, (by: number) => string>>> = {
  must: (by) => `${count(by, 'must')} more`,
  should: (by) => `${count(by, 'line')} more that should be heard`,
  could: (by) => `${count(by, 'line')} more that could be heard`,
  width: (by) => `${count(by, 'more mix', 'more mixes')} in stereo, as written`,
  dependent: (by) => `${count(by, 'fewer line', 'fewer lines')} of the house’s go silent with our power or our plug`,
  replugged: (by) => `${count(by, 'fewer line', 'fewer lines')} of the house’s to re-plug`,
  metal: (by) => `metal joins us to the house in ${count(by, 'fewer place', 'fewer places')}`,
  warnings: () => 'less is found wrong with the lines',
};

/** Whom a step serves that the one before does not; else what is better, as nothing is bought for nothing. */
export function stepText({ gains, losses, better }: Step): string {
  if (gains.length > 0) return [list(gains), ...(losses.length > 0 ? [`without ${list(losses)}`] : [])].join(', ');
  return better ? `the same, and ${BETTER[better.aim]?.(better.by) ?? 'better'}` : 'what needs no buying';
}

/** Why not every must is served. */
export function conflictText({ conflict, money, leftOut }: Plan): string | undefined {
  if (!conflict) return undefined;
  const { musts, smallest, cheapest } = conflict;
  const names = list(musts.map(({ label, kind }) => (kind === 'listener' ? `${label}’s ears` : label)));
  const missing = leftOut.filter(({ need }) => need === 'must').length;
  const others = musts.length === 2 ? 'the other fits' : 'the others fit';
  const what =
    musts.length === 1
      ? `With what there is, ${names} ${musts[0]?.kind === 'listener' ? 'find' : 'finds'} no place, whatever else is left out.`
      : `${names} do not fit together: ${smallest ? `leave out any one of them, and ${others}.` : 'there may be fewer among them that do not, time ran out.'}`;
  const all = missing > 1 ? ` In all, ${count(missing, 'must')} are left out.` : '';
  if (!cheapest) return `${what}${all} Nothing that may be bought would help.`;
  if (cheapest.cents === 0) return `${what}${all}`;
  const buy = list(cheapest.purchases.map((each) => things(each.count, each.model.label)));
  // What has no way at all is not helped by money.
  const helped = cheapest.all && cheapest.more >= missing ? 'all musts' : count(cheapest.more, 'more must');
  return `${what}${all} With ${buy}, for ${moneyText(cheapest.cents, money.currency)}, ${helped} would be served.`;
}

/** Who has no mix in the rig, and what to write: a plan gives nobody sounds that they have not asked for. */
export function withoutMixText({ before: { rig } }: Plan): string | undefined {
  const served = new Set([...rig.mixes.values()].flatMap((mix) => mix.for));
  const deaf = [...rig.performers.values()].filter(({ id }) => !served.has(id));
  const [first] = deaf;
  if (!first) return undefined;
  const own = [...rig.sources.values()].find(({ by }) => by === first.id) ?? [...rig.sources.values()][0];
  const line = `mix ${first.name} mono for ${first.name} { ${own ? `${own.name} 0 dB` : '…'} }`;
  const who = list(deaf.map(({ label }) => label));
  return `${who} ${deaf.length === 1 ? 'has' : 'have'} no mix, and ${deaf.length === 1 ? 'hears' : 'hear'} only what the room gives. Write what is to be heard, such as "${line}", and plan again.`;
}

function nothingText({ before: { rig } }: Plan): string {
  if (rig.sources.size > 0) return 'Nothing is left to plan: everything has its line.';
  return 'There is nothing to plan yet: write who plays, what makes sound, what gear there is and who hears what.';
}

/** The plan in a sentence or two. */
export function summaryText(plan: Plan): string {
  const { assembled, leftOut, money, proven } = plan;
  const lines = assembled.inputs.filter(({ runs }) => runs.length > 0).length;
  const ears = new Set([
    ...assembled.outputs.flatMap(({ choice }) => ('how' in choice ? choice.performer.id : [])),
    ...assembled.packs.map(({ choice }) => choice.performer.id),
  ]).size;
  if (lines + ears + assembled.outputs.length === 0 && leftOut.length === 0)
    return [nothingText(plan), withoutMixText(plan) ?? ''].filter(Boolean).join(' ');
  const parts = [lines > 0 ? count(lines, 'line') : '', ears > 0 ? `the ears of ${count(ears, 'person', 'people')}` : ''].filter(Boolean);
  const musts = leftOut.filter(({ need }) => need === 'must').length;
  const rest = leftOut.length - musts;
  return [
    parts.length > 0 ? `Planned: ${list(parts)}.` : 'Nothing could be planned.',
    withoutMixText(plan) ?? '',
    musts > 0 ? `${capital(count(musts, 'must'))} ${musts === 1 ? 'is' : 'are'} not served.` : '',
    rest > 0 ? `${capital(count(rest, 'line'))} that only should or could be heard ${rest === 1 ? 'is' : 'are'} left out.` : '',
    lines + ears === 0
      ? ''
      : money.planned > 0
        ? `To buy and hire: ${moneyText(money.planned, money.currency)}${money.budget === undefined ? '' : `, of ${moneyText(Math.max(0, money.budget - money.written), money.currency)} that ${money.written > 0 ? 'are left' : 'there are'}`}.`
        : 'It costs nothing.',
    otherCurrencyText(plan) ?? '',
    ...plan.untuned.map(untunedText),
    plan.grave.length > 0 ? 'It could not keep clear of every mistake: check what it writes.' : '',
    proven ? 'No other plan is better.' : gapText(plan),
  ]
    .filter(Boolean)
    .join(' ');
}

/** What a plan cannot know of: mistakes in the text that it was made from. */
export function unreadText(mistakes: number): string | undefined {
  if (mistakes === 0) return undefined;
  const [what, it] = mistakes === 1 ? ['A mistake', 'it'] : [capital(count(mistakes, 'mistake')), 'them'];
  return `${what} in the text may hide something from the plan: mend ${it} and plan again.`;
}

const UNTUNED: Readonly<Record<Untuned['why'], string>> = {
  'not-stated': 'its model does not say what it tunes',
  'not-here': 'it tunes no range that is known to come into question here',
  'not-clear': 'all that it tunes is to be avoided here, or loud in the scan',
  crowded: 'nothing that it tunes is clear of the others',
};

function untunedText({ piece, why }: Untuned): string {
  return `${piece.label} has no frequency yet: ${UNTUNED[why]}.`;
}

/** Prices that cannot be counted with, where there are any. */
function otherCurrencyText({ otherCurrency, money: { currency } }: Plan): string | undefined {
  const others = [...new Set(otherCurrency.flatMap(({ price }) => price?.currency ?? []))];
  return others.length === 0
    ? undefined
    : `Prices in ${list(others)} are not looked at: money is counted in ${currency} here, and nothing is converted. Name them in ${currency}, such as "model our-di is passive-di { buy 20 ${currency} }".`;
}

/** How far what was found may be from the best. */
function gapText({ reached, money: { currency } }: Plan): string {
  const open = reached.find(({ value, bound }) => value !== bound);
  const gap = open && GAPS[open.name]?.(open.value, open.bound, currency);
  return `Time ran out: this is the best that was found. ${gap ?? 'What it serves, what it does to the house and what it costs are proven; levels and leads could be better.'}`;
}

const served = (what: string) => (value: number, bound: number) =>
  `It serves ${value} ${what}; it may be that up to ${bound} can be served.`;
const few = (what: (value: number) => string) => (value: number, bound: number) =>
  `${capital(what(value))}; it may be that ${bound === 0 ? 'none has to be' : `${bound} would do`}.`;

/** Of aims that matter to somebody: what is reached, and what nobody has shown to be out of reach. */
const GAPS: Readonly<Partial<Record<AimName, (value: number, bound: number, currency: string) => string>>> = {
  must: served('musts'),
  should: served('that should be heard'),
  could: served('that could be heard'),
  width: few((value) => `${count(value, 'stereo mix', 'stereo mixes')} made mono`),
  dependent: few((value) => `${count(value, 'line')} of the house’s going silent with our power or our plug`),
  replugged: few((value) => `${count(value, 'line')} of the house’s re-plugged`),
  metal: few((value) => `${count(value, 'place')} where metal joins us to the house`),
  warnings: () => 'It may be that less would be found wrong.',
  money: (value, bound, currency) => `It costs ${moneyText(value, currency)}; it may be that ${moneyText(bound, currency)} would do.`,
  changes: few((value) => count(value, 'change')),
};

/** What a planned line says, for people: `Interface 3`. */
export function runText(rig: Rig, piece: string, ports: readonly string[]): string {
  return `${rig.pieces.get(piece)?.label ?? ''} ${portList(ports)}`.trim();
}

export function takesText(rig: Rig, id: string | undefined, port: string | undefined): string {
  return [signalLabel(rig, id), port].filter(Boolean).join(' ');
}

/** A change as a line of a rig; `rig` is as it was before. */
export function changeText(rig: Rig, fix: Fix): string {
  const via = (text: string | undefined) => (text === undefined ? '' : ` via ${text}`);
  switch (fix.kind) {
    case 'add-gear': {
      const { holding } = fix;
      const price = holding?.price;
      const held = holding ? ` ${holding.how}${price ? ` ${price.amount} ${price.currency}` : ''}` : '';
      const whose = `${fix.for ? ` for ${fix.for}` : ''}${fix.hears ? ` hears ${fix.hears}` : ''}`;
      const sends = fix.onHz === undefined ? '' : ` ${onText(fix.onHz)}`;
      return `gear ${fix.name} "${fix.label}" is ${fix.model}${sends}${whose}${held}`;
    }
    case 'add-input':
      return `input ${fix.port} takes ${fix.source}${via(fix.via)}${fix.phantom ? ` phantom ${fix.phantom}` : ''}`;
    case 'add-output':
      return `output ${fix.port} carries ${fix.mix}${via(fix.via)}`;
    case 'add-house':
      return `house ${fix.number} takes ${fix.takes}${via(fix.via)}`;
    case 'set-via': {
      const run = rig.house.find(({ id }) => id === fix.run);
      return `house ${run?.number ?? ''} takes ${rig.sources.get(run?.takes?.id ?? '')?.name ?? ''}${via(fix.via)}`;
    }
    case 'set-pack':
      return `gear ${rig.pieces.get(fix.piece)?.name ?? ''} … for ${fix.performer} hears ${fix.hears}`;
    case 'set-frequency':
      return `${rig.sources.has(fix.piece) ? 'source' : 'gear'} ${rig.pieces.get(fix.piece)?.name ?? rig.sources.get(fix.piece)?.name ?? ''} … ${onText(fix.hz)}`;
    case 'set-way':
      return `source ${rig.sources.get(fix.source)?.name ?? ''} … is ${fix.models.join(' or ')}`;
    case 'set-width':
      return `mix ${rig.mixes.get(fix.mix)?.name ?? ''} … ${fix.width}`;
    case 'remove': {
      const run = [...rig.inputs, ...rig.outputs].find(({ id }) => id === fix.statement);
      if (!run) return 'not any more';
      const { piece, ports } = run.kind === 'input' ? run.to : run.from;
      return `not any more: ${run.kind} ${portText(rig, piece, ports)}`;
    }
    default:
      return fix.kind;
  }
}
