/** Each of the parser's decisions is worked out when a text first comes to it: there are some hundred, and few texts come to all of them. */
import type { ILookaheadStrategy } from 'chevrotain';

type Alternatives = ReturnType<ILookaheadStrategy['buildLookaheadForAlternation']>;
type Optional = ReturnType<ILookaheadStrategy['buildLookaheadForOptional']>;

/** The same answers as the strategy's own. */
export function whenAsked(strategy: ILookaheadStrategy): ILookaheadStrategy {
  let start: (() => void) | undefined;
  const started = () => {
    start?.();
    start = undefined;
    return strategy;
  };
  return {
    validate: (grammar) => started().validate(grammar),
    initialize: (grammar) => {
      start = () => strategy.initialize?.(grammar);
    },
    buildLookaheadForAlternation: (decision) => {
      let known: Alternatives | undefined;
      return function (this: unknown, alternatives) {
        known ??= started().buildLookaheadForAlternation(decision);
        return known.call(this, alternatives);
      };
    },
    buildLookaheadForOptional: (decision) => {
      let known: Optional | undefined;
      return function (this: unknown) {
        known ??= started().buildLookaheadForOptional(decision);
        return known.call(this);
      };
    },
  };
}
