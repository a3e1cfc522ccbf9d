/** What money buys: the best plan at the budget, then the best that costs less, and so on down to nothing. */
import { AIMS, type AimName } from './aims';
import type { Asking } from './formulate';
import { type Purchase, purchasesOf } from './purchases';
import { type Found, type Searching, search } from './search';

export interface Step {
  /** In hundredths. */
  readonly cents: number;
  readonly purchases: readonly Purchase[];
  readonly reached: Readonly<Partial<Record<AimName, number>>>;
  /** Labels of what this step serves and the one before does not. */
  readonly gains: readonly string[];
  /** Labels of what the one before serves and this does not: something else is served in its place. */
  readonly losses: readonly string[];
  /** The first aim that it reaches better than the step before, and by how much. Nothing of the first. */
  readonly better?: { readonly aim: AimName; readonly by: number };
  readonly proven: boolean;
}

/** What money is spent for: whatever comes before it. */
const BEFORE_MONEY: readonly AimName[] = AIMS.slice(0, AIMS.indexOf('money') + 1);

/** More steps are no help to anybody. */
const MOST_STEPS = 40;

/**
 * From nothing up. Each step serves better than the one before, by the aims in their order. `planned` is the plan itself, with what it
 * could spend, where it goes by these aims: its step is that plan, and no other that is as good. Without a budget the steps go on as far as anything gets better.
 */
export async function frontierOf(
  asking: Omit<Asking, 'cuts'>,
  planned: { readonly found: Found; readonly cents: number | undefined } | undefined,
  searching: Searching,
): Promise<Step[]> {
  const found: Found[] = [];
  for (let cents = asking.cents; found.length < MOST_STEPS; ) {
    const best = planned && cents === planned.cents ? planned.found : await search({ ...asking, cents }, BEFORE_MONEY, searching);
    if (!best) break;
    const spent = worth(best, 'money');
    found.push(planned && spent === worth(planned.found, 'money') ? planned.found : best);
    if (spent <= 0) break;
    cents = spent - 1;
  }
  found.reverse();
  return found.map((each, index): Step => {
    const before = found[index - 1];
    const [was, is] = [before ? served(before) : [], served(each)];
    return {
      cents: worth(each, 'money'),
      purchases: purchasesOf(each.assembled),
      reached: Object.fromEntries(each.best.reached.map(({ name, value }) => [name, value])),
      gains: before ? is.filter((label) => !was.includes(label)) : [],
      losses: was.filter((label) => !is.includes(label)),
      better: before && betterThan(before, each),
      proven: each.best.proven,
    };
  });
}

/** More money is spent only for what comes before it in the aims. */
function betterThan(before: Found, after: Found): Step['better'] {
  const aim = BEFORE_MONEY.find((name) => worth(before, name) !== worth(after, name));
  return aim && { aim, by: Math.abs(worth(after, aim) - worth(before, aim)) };
}

function worth({ best }: Found, name: AimName): number {
  return best.reached.find((each) => each.name === name)?.value ?? 0;
}

function served({ assembled }: Found): string[] {
  // Of what has its line already, only the house's is new.
  const lines = assembled.inputs.map(({ choice: { wanted } }) =>
    wanted.houseOnly ? `the house’s line of ${wanted.source.label}` : wanted.source.label,
  );
  const ways = assembled.outputs.flatMap(({ choice }) =>
    'air' in choice ? [] : 'how' in choice ? [`${choice.performer.label}’s ears`] : [choice.wanted.mix.label],
  );
  const heard = [...assembled.packs.map(({ choice }) => choice), ...assembled.worn].map(({ performer }) => `${performer.label}’s ears`);
  return [...new Set([...lines, ...ways, ...heard])];
}
