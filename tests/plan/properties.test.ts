/** What holds of every plan, whatever the rig. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type Checked, check, costsOf } from '#engine';
import { applied, editsOf, offersOf, writePlan } from '#language';
import { AIMS, type AimName, changesOf, moneyText, type Plan, type PlanOptions, plan } from '#plan';
import { shoppingSheet } from '../../packages/sheets/shopping/sheet';
import { analyse, analyseText, libraryServices } from '../checks/open';
import { cases } from '../thorough';
import { rigToPlan } from './made';
import { now, open, solver } from './open';

async function planned(text: string, more: Partial<PlanOptions> = {}): Promise<Plan> {
  const { checked, offers } = await open(text);
  const made = await plan(checked, { offers, solver: await solver(), now, ...more });
  if (!made) throw new Error('Time ran out.');
  return made;
}

const reached = (made: Plan, name: AimName) => made.reached.find((each) => each.name === name)?.value ?? 0;

/** As the aims compare them, down to money. */
function isNoWorse(one: Plan, other: Plan): boolean {
  for (const name of AIMS.slice(0, AIMS.indexOf('money'))) {
    const [mine, theirs] = [reached(one, name), reached(other, name)];
    if (mine !== theirs) return name === 'must' || name === 'should' || name === 'could' ? mine > theirs : mine < theirs;
  }
  return true;
}

async function written(text: string, made: Plan): Promise<string> {
  const analysis = await analyseText(text);
  const edits = editsOf(writePlan(analysis, changesOf(made)).flatMap((each) => each ?? []));
  return applied(text, edits, (position) => analysis.document.textDocument.offsetAt(position));
}

const grave = ({ findings }: Checked) =>
  findings.filter(({ severity, code }) => (severity === 'danger' || severity === 'error') && !/^mixes\/(not-patched|unheard)$/.test(code));

const seeds = Array.from({ length: cases(24, 4) }, (_, index) => index + 1);

describe('a plan', () => {
  it('puts a line in the place of one that goes, whatever stands right below it', async () => {
    const head = `rig "Two Wet Owls"
performer osk "Osk"
source jaw "Jaw harp" is dynamic-mic by osk
gear iface "Interface" is interface-8-mic
gear other "Other" is interface-8-mic
`;
    const text = `${head}input iface.1 takes jaw
house none
mix osk mono for osk { jaw 0 dB }
output iface.phones1 carries osk
`;
    const after = await written(text, await planned(text, { without: ['iface'] }));
    expect(after.split('\n').map((line) => line.trim())).toEqual(expect.arrayContaining(['house none', 'input other.1 takes jaw']));
    expect((await analyseText(after)).located.filter(({ finding: { code } }) => code.startsWith('text/'))).toEqual([]);
    // An editor refuses edits that are inside of each other.
    const analysis = await analyseText(text);
    const edits = editsOf(writePlan(analysis, changesOf(await planned(text, { without: ['iface'] }))).flatMap((each) => each ?? []));
    const spans = edits.map(({ range }) => [range.start, range.end].map((at) => analysis.document.textDocument.offsetAt(at)));
    for (const [start = 0, end = 0] of spans)
      for (const [from = 0] of spans) expect(start < from && from < end, `${start} < ${from} < ${end}`).toBe(false);
  });

  it.each(seeds)(
    'of rig %i has no error, costs what it says, and written into the text is what it was',
    async (seed) => {
      const air = 'gear tx "Transmitter" is in-ear-transmitter owned\ngear pack "Pack" is belt-pack owned\n';
      const bare = rigToPlan({ sources: 3 + (seed % 8), seed, people: 1 + (seed % 3), needs: true, budget: (seed % 5) * 60 });
      const text = seed % 2 === 0 ? bare : bare + air;
      const made = await planned(text);
      expect(grave(made.after), text).toEqual([]);
      expect(made.money.planned, text).toBeLessThanOrEqual(made.money.budget ?? 0);
      expect(
        made.purchases.reduce((sum, { cents }) => sum + cents, 0),
        text,
      ).toBe(made.money.planned);
      const result = await written(text, made);
      const { checked } = await analyseText(result);
      // The check and the shopping sheet come to the same sum.
      if (!checked) throw new Error('There is no rig in what was written.');
      const { cents } = costsOf(checked.rig, made.money.currency);
      expect(cents, result).toBe(made.money.written + made.money.planned);
      const sums = shoppingSheet(checked).blocks.flatMap((block) => (block.kind === 'table' && block.id === 'budget' ? block.rows : []));
      if (cents > 0) expect(sums.find(({ cells: [title] }) => title === 'in all')?.cells[2], result).toBe(moneyText(cents, 'EUR'));
      const told = ({ findings }: Checked) => findings.map(({ code, severity }) => `${severity} ${code}`).sort();
      expect(told(checked), result).toEqual(told(made.after));
      // The house is disturbed as much as was reckoned line by line.
      expect(made.after.impact.replugged.length, text).toBe(reached(made, 'replugged'));
      expect(made.after.impact.lines.filter(({ how }) => how === 'dependent').length, text).toBe(reached(made, 'dependent'));
    },
    120_000,
  );

  it.each(seeds.slice(0, cases(12, 3)))(
    'of the planned rig %i changes nothing',
    async (seed) => {
      const text = rigToPlan({ sources: 3 + (seed % 6), seed, people: 1 + (seed % 2), budget: 200 });
      const first = await planned(text);
      const result = await written(text, first);
      const again = await planned(result);
      const left = new Set(first.leftOut.map(({ id }) => id));
      expect(
        changesOf(again).filter(({ about }) => !left.has(about)),
        result,
      ).toEqual([]);
    },
    120_000,
  );

  it.each(seeds.slice(0, cases(12, 3)))(
    'of rig %i is no worse with more money, inputs or gear',
    async (seed) => {
      const shape = { sources: 4 + (seed % 5), seed, people: 1, needs: true, devices: ['interface-4'], budget: 30 };
      const text = rigToPlan(shape);
      const made = await planned(text);
      const richer = await planned(text.replace('budget 30 EUR', 'budget 150 EUR'));
      expect(isNoWorse(richer, made), text).toBe(true);
      const larger = await planned(text.replace('is interface-4 ', 'is interface-8-mic '));
      expect(reached(larger, 'must'), text).toBeGreaterThanOrEqual(reached(made, 'must'));
      const equipped = await planned(
        `${text}gear more1 "More" is y-lead owned\ngear more2 "More" is active-di owned\ngear more3 "More" is headphone-amp owned\n`,
      );
      expect(isNoWorse(equipped, made), text).toBe(true);
    },
    120_000,
  );
});

describe('a plan on several interfaces', () => {
  it('lands what is in a mix where that mix is made', async () => {
    const sources = [1, 2, 3, 4, 5, 6].map((at) => `source m${at} "Microphone ${at}" is dynamic-mic`);
    const text = [
      'rig "Two by two"',
      'performer ada at 0 m, 1 m',
      'performer bo at 1 m, 1 m',
      ...sources,
      'gear left is interface-8-mic',
      'gear right is interface-8-mic',
      'mix ada mono for ada { m1 0 dB m4 0 dB m6 0 dB }',
      'mix bo mono for bo { m2 0 dB m3 0 dB m5 0 dB }',
      'input left.1 takes m1',
      'input right.1 takes m2',
      '',
    ].join('\n');
    const made = await planned(text);
    expect(made.proven).toBe(true);
    expect(made.leftOut).toEqual([]);
    expect(made.after.findings.filter(({ code }) => code === 'mixes/not-patched')).toEqual([]);
  });
});

describe('an example without its inputs', () => {
  it.each(['first', 'street', 'ten', 'choir'])(
    '%s is planned at least as well as it was written',
    async (name) => {
      const path = join(import.meta.dirname, '../../examples', `${name}.rig`);
      const { checked: before } = await analyse(path);
      if (!before) throw new Error('no rig');
      // Gear that was written without a name of its own is gear that there is.
      const loose = [...before.rig.pieces.values()].filter(({ kind, id }) => kind === 'fresh' && id.startsWith('input:'));
      const pieces = new Map([...before.rig.pieces].filter(([id]) => !id.startsWith('input:')));
      for (const [index, piece] of loose.entries())
        pieces.set(`gear:loose-${index}`, { ...piece, id: `gear:loose-${index}`, kind: 'gear', name: `loose-${index}` });
      const emptied = check({ ...before.rig, pieces, inputs: [] });
      const made = await plan(emptied, { offers: [], solver: await solver(), now });
      if (!made) throw new Error('Time ran out.');
      const landed = (checked: Checked) =>
        new Set(checked.rig.inputs.flatMap(({ takes }) => (takes?.kind === 'source' ? [takes.id] : []))).size;
      const measures = (checked: Checked) => ({
        left: before.rig.sources.size - landed(checked),
        grave: grave(checked).length,
        dependent: checked.impact.lines.filter(({ how }) => how === 'dependent').length,
        replugged: checked.impact.replugged.length,
        warnings: checked.findings.filter(({ severity, code }) => severity === 'warning' && !code.startsWith('ground/')).length,
      });
      const [was, is] = [measures(before), measures(made.after)];
      for (const key of Object.keys(was) as (keyof typeof was)[]) {
        expect(is[key], key).toBeLessThanOrEqual(was[key]);
        if (is[key] < was[key]) break;
      }
    },
    120_000,
  );
});

describe('a rig that hardly is one', () => {
  const HEAD = 'rig "Thin"\nperformer ada at 0 m, 1 m\nsource voice is dynamic-mic by ada\n';

  it('without an interface leaves all out and says so', async () => {
    const made = await planned(`${HEAD}mix ada mono for ada { voice 0 dB }\n`);
    expect(made.leftOut.map(({ kind }) => kind)).toEqual(['source', 'listener']);
    expect(changesOf(made)).toEqual([]);
  });

  it('without sources, or with nothing at all, plans nothing', async () => {
    for (const text of ['rig "Nothing"\n', 'rig "Gear"\ngear iface is interface-4\n']) {
      const made = await planned(text);
      expect(changesOf(made)).toEqual([]);
      expect(made.proven).toBe(true);
    }
  });

  it('with no money buys nothing', async () => {
    const text = `${HEAD}gear iface is interface-4 owned\nmix ada mono for ada { voice 0 dB }\nhouse 1 takes voice\n`;
    const made = await planned(text, { budget: { amount: 0, currency: 'EUR' }, frontier: true });
    expect(made.purchases).toEqual([]);
    expect(made.frontier.map(({ cents }) => cents)).toEqual([0]);
  });

  it('with musts that cannot stand together names the smallest set, and what would help', async () => {
    const mics = [1, 2, 3].map((at) => `source m${at} "Microphone ${at}" is dynamic-mic by ada`).join('\n');
    const sends = [1, 2, 3].map((at) => `m${at} 0 dB`).join(' ');
    const text = `rig "Three on two"\nperformer ada at 0 m, 1 m\n${mics}\ngear iface is interface-4 owned\nmix ada mono for ada { ${sends} }\noutput iface.phones carries ada\n`;
    const made = await planned(text);
    expect(made.conflict?.musts.map(({ label }) => label)).toEqual(['Microphone 1', 'Microphone 2', 'Microphone 3']);
    expect(made.leftOut).toHaveLength(1);
  });

  it('with prices in another currency says so and goes on', async () => {
    const made = await planned(
      `rig "Pounds"\n  budget 50 GBP\nperformer ada at 0 m, 1 m\nsource voice is dynamic-mic by ada\ngear iface is interface-4\nmix ada mono for ada { voice 0 dB }\n`,
    );
    expect(made.otherCurrency.length).toBeGreaterThan(0);
    expect(made.purchases).toEqual([]);
  });

  it('with no time at all gives what it has, and that it is not proven', async () => {
    const text = rigToPlan({ sources: 12, seed: 3, people: 2, budget: 100 });
    const { checked, offers } = await open(text);
    let clock = 0;
    const made = await plan(checked, { offers, solver: await solver(), now: () => (clock += 1e9), limitMs: 1 });
    expect(made?.proven ?? false).toBe(false);
  }, 60_000);

  it('is let go of when nobody wants it any more', async () => {
    const { checked, offers } = await open(rigToPlan({ sources: 6, seed: 4 }));
    const stop = new Error('not wanted');
    await expect(plan(checked, { offers, solver: await solver(), now, breathe: () => Promise.reject(stop) })).rejects.toBe(stop);
  });

  it('knows what the shop has', async () => {
    const { document } = await analyseText('rig "Shop"\n');
    const { offers, invented } = offersOf(libraryServices, document);
    expect(invented).toBe(true);
    expect(offers.filter(({ price }) => price !== undefined).every(({ price }) => price?.currency === 'EUR')).toBe(true);
  });
});
