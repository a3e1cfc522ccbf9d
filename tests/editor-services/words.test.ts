/** What the editor knows of the language, held against the language itself. */
import { GrammarAST } from 'langium';
import { describe, expect, it } from 'vitest';
import type { FiguresOf } from '#engine';
import { type Dimension, unitsFor } from '#rig';
import { dimensionsOf, FIGURES } from '../../packages/language/editor/dimensions';
import { Expecting } from '../../packages/language/editor/expect';
import { wordAt } from '../../packages/language/editor/words';
import { open } from './bench';

/** Rules whose keywords are only names there. */
const NAMES = new Set(['Name', 'Word', 'OutputName', 'Unit']);

describe('words', () => {
  it('explains every word of the language, with an example', async () => {
    const { services } = await open('');
    const missing: string[] = [];
    for (const rule of services.Grammar.rules.filter(GrammarAST.isParserRule)) {
      if (NAMES.has(rule.name)) continue;
      const keywords = new Set<string>();
      const visit = (element: object): void => {
        for (const [key, value] of Object.entries(element)) {
          if (key.startsWith('$') || typeof value !== 'object' || value === null || 'ref' in value) continue;
          visit(value);
        }
        if (GrammarAST.isKeyword(element as GrammarAST.Keyword)) keywords.add((element as GrammarAST.Keyword).value);
      };
      visit(rule.definition);
      for (const keyword of keywords) if (/^[a-z]/.test(keyword) && !wordAt(rule.name, keyword)) missing.push(`${rule.name}/${keyword}`);
    }
    expect(missing).toEqual([]);
  });

  it('gives examples that can be read, each for what it is an example of', async () => {
    const bench = await open('');
    /** What has to stand around a clause for it to be a statement. */
    const around: Readonly<Record<string, (clause: string) => string>> = {
      Header: (c) => c,
      Use: (c) => c,
      Model: (c) => c,
      Gear: (c) => c,
      Performer: (c) => c,
      Source: (c) => c,
      Input: (c) => c,
      House: (c) => c,
      Output: (c) => c,
      Mix: (c) => (c.startsWith('mix') ? c : `mix m ${c}`),
      Send: (c) => `mix m { ${c} }`,
      ForWhom: (c) => (c.startsWith('gear') ? c : `gear g is m ${c}`),
      OnFrequency: (c) => `gear g is m ${c}`,
      Hears: (c) => `gear g is m ${c}`,
      Holding: (c) => `gear g is m ${c}`,
      Ears: (c) => `performer p ${c}`,
      At: (c) => `performer p ${c}`,
      By: (c) => `source s is m ${c}`,
      Typical: (c) => `source s is m ${c}`,
      Peak: (c) => `source s is m ${c}`,
      Need: (c) => `source s is m ${c}`,
      Private: (c) => `source s is m ${c}`,
      Lowest: (c) => `source s is m ${c}`,
      Highest: (c) => `source s is m ${c}`,
      InputClause: (c) => `input g.1 takes s ${c}`,
      Via: (c) => `input g.1 takes s ${c}`,
      Port: (c) => `model m { ${c} }`,
      PhantomBudget: (c) => `model m { ${c} }`,
      Mixes: (c) => `model m { ${c} }`,
      Latency: (c) => `model m { ${c} }`,
      Rates: (c) => `model m { ${c} }`,
      Power: (c) => `model m { ${c} }`,
      Tunes: (c) => `model m { ${c} }`,
      CarrierKind: (c) => `model m { ${c} }`,
      SideSelect: (c) => `model m { ${c} }`,
      MonoSwitch: (c) => `model m { ${c} }`,
      Origin: (c) => `model m { ${c} }`,
      Separate: (c) => `model m { ${c} }`,
      PortPrivate: (c) => `model m { ${c} }`,
      Tail: (c) => `model m { ${c} }`,
      Tie: (c) => `model m { ${c.startsWith('output') ? c : `output o xlr ${c}`} }`,
      TiePart: (c) => `model m { output o xlr ${c.startsWith('from') ? c : `from i active ${c}`} }`,
      SignalKind: (c) => `model m { ${/^(in|out)put/.test(c) ? c : `input i xlr ${c}`} }`,
      Figure: (c) => `model m { input i xlr mic ${c} }`,
    };
    const header = (c: string) => (c.startsWith('rig') ? c : `rig "X" ${c}`);
    const bad: string[] = [];
    let count = 0;
    for (const rule of bench.services.Grammar.rules.filter(GrammarAST.isParserRule)) {
      for (const keyword of keywordsOf(rule)) {
        const word = wordAt(rule.name, keyword);
        if (!word) continue;
        const text = (around[rule.name] ?? header)(word.example);
        const document = await bench.add(`${count++}.rig`, text);
        if (document.parseResult.parserErrors.length > 0)
          bad.push(`${rule.name}/${keyword}: ${text}: ${document.parseResult.parserErrors[0]?.message}`);
      }
    }
    expect(bad).toEqual([]);
    expect(count).toBeGreaterThan(90);
  });
});

function keywordsOf(rule: GrammarAST.ParserRule): Set<string> {
  const found = new Set<string>();
  const visit = (element: object): void => {
    for (const [key, value] of Object.entries(element))
      if (!key.startsWith('$') && typeof value === 'object' && value !== null && !('ref' in value)) visit(value);
    if (GrammarAST.isKeyword(element as GrammarAST.Keyword)) found.add((element as GrammarAST.Keyword).value);
  };
  visit(rule.definition);
  return found;
}

describe('figures', () => {
  /** A statement for each place that takes a figure, with a unit that is none in its place. */
  const places: Readonly<Record<string, string>> = {
    'Rate/rate': 'rig "X" rate 1 #',
    'BufferSize/buffer': 'rig "X" buffer 1 #',
    'Budget/budget': 'rig "X" budget 1 #',
    'SetTime/set': 'rig "X" set 1 #',
    'SoundCheck/check': 'rig "X" check 1 #',
    'Listening/listening': 'rig "X" listening 1 #',
    'Circuit/circuit': 'rig "X" circuit 1 # 230 V',
    'Avoid/avoid': 'rig "X" avoid 1..2 #',
    'Scan/above': 'rig "X" scan "a.csv" above -85 #',
    'GuardDistance/': 'rig "X" guard carriers 1 #',
    'Stage/stage': 'rig "X" stage 1 # by 1 m',
    'Headroom/headroom': 'rig "X" headroom 1 #',
    'Margin/margin': 'rig "X" margin 1 #',
    'Lengths/lengths': 'rig "X" lengths 1 #',
    'LeadHad/': 'rig "X" leads 1 xlr 1 #',
    'PhantomBudget/phantom': 'model m { phantom 1 # }',
    'Latency/latency': 'model m { latency 1 # }',
    'Power/power': 'model m { power battery 1 # }',
    'Lowest/lowest': 'model m { lowest 1 # }',
    'Highest/highest': 'model m { highest 1 # }',
    'Rates/rates': 'model m { rates 48 # }',
    'Tunes/tunes': 'model m { tunes 1..2 # }',
    'Tunes/step': 'model m { tunes 1..2 MHz step 1 # }',
    'CarrierKind/': 'model m { carrier digital 1 # }',
    'Tail/tail': 'model m { input i xlr tail 1 # }',
    'TiePart/gain': 'model m { input i xlr output o xlr from i active gain 1 # }',
    'TiePart/pad': 'model m { input i xlr output o xlr from i active pad 1 # }',
    'Figure/impedance': 'model m { input i xlr mic impedance 1 # }',
    'Figure/capacitance': 'model m { output o xlr mic capacitance 1 # }',
    'Figure/inductance': 'model m { output o xlr mic inductance 1 # }',
    'Figure/max': 'model m { output o xlr mic max 1 # }',
    'Figure/limiter': 'model m { output o trs phones limiter 1 # }',
    'Figure/level': 'model m { output o xlr mic level 1 # }',
    'Figure/sensitivity': 'model m { output o xlr mic sensitivity 1 # }',
    'Figure/gain': 'model m { input i xlr mic gain 1..2 # }',
    'Figure/noise': 'model m { input i xlr mic noise 1 # }',
    'Figure/self-noise': 'model m { output o xlr mic sensitivity 1 mV/Pa self-noise 1 # }',
    'Figure/dynamic-range': 'model m { input i xlr mic dynamic-range 1 # }',
    'Figure/pad': 'model m { input i xlr mic pad 1 # }',
    'Figure/draws': 'model m { output o xlr mic phantom needed draws 1 # }',
    'OnFrequency/on': 'gear g is y-lead on 1 #',
    'Holding/': 'gear g is y-lead buy 1 #',
    'At/at': 'performer p at 1 #, 1 m',
    'Typical/typical': 'model m { typical 1 # }',
    'Peak/peak': 'model m { peak 1 # }',
    'InputClause/gain': 'gear g is interface-2\nsource s is dynamic-mic\ninput g.1 takes s gain 1 #',
    'Send/': 'source s is dynamic-mic\nmix m mono { s 1 # }',
  };

  it.each(FIGURES)('%s is proposed the units that it takes', async (place) => {
    const [rule = '', keyword = ''] = place.split('/');
    const text = places[place];
    expect(text, 'this place is tried').toBeDefined();
    const bench = await open((text ?? '').replace('#', 'qqqqqqqq'));
    const wrong = bench.analysis().located.filter(({ finding }) => finding.code === 'units/wrong');
    expect(wrong.length).toBe(1);
    const units = (wrong[0]?.finding.figures as FiguresOf<'units/wrong'> | undefined)?.units ?? [];
    const proposed = dimensionsOf(rule, keyword).flatMap((dimension: Dimension) => unitsFor(dimension));
    // A port's own direction and kind leave some out; completion does not look that far.
    expect(proposed).toEqual(expect.arrayContaining([...units]));
    if (!place.startsWith('Figure/')) expect(proposed).toEqual([...units]);
  });

  it('finds every place of the grammar that takes a figure', async () => {
    const { services } = await open('');
    const expecting = new Expecting(services.Grammar);
    const seen = new Set<string>();
    for (const [place, text] of Object.entries(places)) {
      const statement = text.split('\n').at(-1) ?? '';
      const { tokens } = services.parser.Lexer.tokenize(statement.slice(0, statement.indexOf('#')));
      const rule =
        { rig: 'Header', model: 'Model', gear: 'Gear', performer: 'Performer', source: 'Source', input: 'Input', mix: 'Mix' }[
          tokens[0]?.image ?? ''
        ] ?? '';
      const figures = expecting
        .after(tokens, rule)
        .all.filter((each) => each.rule === 'Unit' && each.token === 'ID')
        .map(({ figure }) => figure);
      expect(
        figures.some((figure) => figure === place || figure?.startsWith(`${place.split('/')[0]}/`)),
        `${place}: ${figures.join()}`,
      ).toBe(true);
      seen.add(place);
    }
    expect([...seen].sort()).toEqual([...FIGURES].sort());
  });
});
