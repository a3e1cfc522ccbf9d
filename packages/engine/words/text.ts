import { exampleText, lengthText, lengthUnit } from './lengths';
import { a, capital, list, tidy } from './phrases';
import { problem } from './problem';

/** Problems of the text itself: what could not be read, or names nothing. */
export const TEXT = {
  'text/unexpected': problem<{ found: string; hint: string; example: string | undefined; statement: string | undefined }>(
    'error',
    (f, lengths) => ({
      what: `${f.found} does not fit here${f.statement ? `, in this "${f.statement}"` : ''}.`,
      why: 'The rest of this statement is not understood.',
      cure: exampleText(f.example ? `${f.hint} It is written like this: ${f.example}` : f.hint, lengths),
    }),
    { leavesHole: true },
  ),
  /** `after` is the word it breaks off behind, as it is quoted. */
  'text/unfinished': problem<{ statement: string; after: string; missing: string; example: string }>(
    'error',
    (f, lengths) => ({
      what: `This "${f.statement}" is not finished. After ${f.after} comes ${exampleText(f.missing, lengths)}.`,
      why: 'A line that breaks off is left out, or only half read.',
      cure: `It is written like this: ${exampleText(f.example, lengths)}`,
    }),
    { leavesHole: true },
  ),
  'text/no-statement': problem<{ found: string; near: string | undefined; small: boolean; words: readonly string[] }>(
    'error',
    (f) => ({
      what: `${f.found} does not start a statement.`,
      why: 'This line is left out of the rig.',
      cure: f.small
        ? `Write it in small letters: "${f.near}".`
        : f.near
          ? `Did you mean "${f.near}"?`
          : `A statement starts with ${list(f.words, 'or')}.`,
    }),
    { leavesHole: true },
  ),
  'text/reserved-word': problem<{ word: string }>(
    'error',
    (f) => ({
      what: `"${f.word}" starts a statement, so it cannot be a name.`,
      why: 'The program would take it for the next statement.',
      cure: `Call it something else, such as ${f.word}-1 or my-${f.word}.`,
    }),
    { leavesHole: true },
  ),
  'text/unclosed-brace': problem<{ of: string }>(
    'error',
    (f) => ({
      what: f.of ? `The { of ${f.of} is never closed.` : 'This { is never closed.',
      why: 'What follows would be taken for a part of it.',
      cure: 'Put a } where it ends.',
    }),
    { leavesHole: true },
  ),
  /** `sockets`: what it is made of can have figures and sockets of its own. */
  'text/no-braces': problem<{ statement: string; sockets: boolean }>(
    'error',
    (f) => ({
      what: `${/^[io]/.test(f.statement) ? 'An' : 'A'} "${f.statement}" takes no braces.`,
      why: 'What stands in them is not read.',
      cure: f.sockets
        ? `Its clauses go behind it, without braces. Sockets, and figures of them, go into a model: "model our-kind is … { … }", and here "is our-kind".`
        : 'Write what is in them behind it, without braces.',
    }),
    { leavesHole: true },
  ),
  'text/unclosed-quote': problem<{ text: string }>(
    'error',
    (f) => ({
      what: `The quote before ${f.text || 'the end of the line'} is never closed.`,
      why: 'A label ends on the line it begins on.',
      cure: 'Put a " after the label.',
    }),
    { leavesHole: true },
  ),
  'text/stray-character': problem<{ text: string; kind: 'currency' | 'comment' | 'quote' | 'other'; currency: string | undefined }>(
    'error',
    (f) => ({
      what: `${f.text} means nothing here.`,
      why: 'It is skipped.',
      cure:
        f.kind === 'currency'
          ? `Write the currency in three letters after the number: "25 ${f.currency}".`
          : f.kind === 'comment'
            ? 'A comment starts with #.'
            : f.kind === 'quote'
              ? 'A label stands in straight double quotes: "Lead vocal".'
              : 'Delete it, or put it inside a "label".',
    }),
    { leavesHole: true },
  ),
  'text/decimal-comma': problem<{ written: string; instead: string }>('warning', (f) => ({
    what: `${f.written} has a decimal comma.`,
    why: 'It is read as a decimal point, but a comma also separates two numbers.',
    cure: `Write ${f.instead}.`,
  })),
  'text/dash-range': problem<{ written: string; instead: string }>('warning', (f) => ({
    what: `${f.written} is meant as a range, and a range has two dots.`,
    why: 'A dash is also a minus, and a comma also a decimal point. It is read as a range here.',
    cure: `Write ${f.instead}.`,
  })),
  'text/spaced-dot': problem<{ instead: string }>(
    'error',
    (f) => ({
      what: 'Between a piece of gear and its socket stands a dot, without a gap.',
      why: 'Otherwise they are read as two things, or as one name.',
      cure: `Write ${f.instead}.`,
    }),
    { leavesHole: true },
  ),
  'text/missing-unit': problem<{ number: string; units: readonly string[] }>(
    'error',
    (f, lengths) => ({
      what: `${f.number} has no unit.`,
      why: 'A bare number could mean anything.',
      cure:
        f.units.length > 0
          ? `Write ${list(
              f.units.map((unit) => `${f.number} ${unit}`),
              'or',
            )}.`
          : `Put its unit after it, as in "${f.number} dB" or "${f.number} ${lengthUnit(lengths)}".`,
    }),
    { leavesHole: true },
  ),
  /** `joined` is what the two come to together, where both count. */
  /** `before`: how it is said the first time. */
  'text/clause-twice': problem<{ clause: string; before: string; statement: string; joined: string | undefined }>('warning', (f) => ({
    what:
      f.clause === f.before
        ? `This "${f.statement}" says "${f.clause}" twice.`
        : `This "${f.statement}" says both "${f.before}" and "${f.clause}".`,
    why: f.joined === undefined ? 'Only the last counts.' : 'The two are read as one, in this order.',
    cure: f.joined === undefined ? 'Delete the one that is not true.' : `Join them, with a comma in between: "${f.joined}".`,
  })),
  /** Of a file that is used, with its path; or, without one, of the file itself, where a character of it is lost. */
  'text/merge-marks': problem<{ count: number }>('error', (f) => ({
    what: `A merge is not settled here: ${f.count > 1 ? `${f.count} times ` : ''}two states of this file stand in it, between marks such as <<<<<<<.`,
    why: 'Only the first state of each is read, and it may not be the one that holds.',
    cure: 'Keep the lines that hold, and delete the others and the marks.',
  })),
  'text/not-readable': problem<{ path: string | undefined; reason: string }>('error', (f) =>
    f.path === undefined
      ? {
          what: `A character is lost here: ${f.reason}.`,
          why: 'Others may be lost too, and what cannot be read is left out.',
          cure: 'Save the file as plain text in UTF-8, and write the lost characters again.',
        }
      : {
          what: `${f.path} cannot be read: ${f.reason}.`,
          why: 'What it says is not part of the rig.',
          cure: 'A rig is plain text in UTF-8, in a file whose name ends in ".rig". Save it as that, or name another file.',
        },
  ),
  'text/too-deep': problem<{ limit: number; what: string }>('error', (f) => ({
    what: `${f.what} has more than ${f.limit} steps.`,
    why: 'Nothing real goes on for so long; what is beyond is left out.',
    cure: 'Leave out what is not needed.',
  })),
  'text/too-many': problem<{ limit: number }>('error', (f) => ({
    what: `With this, the ranges of this rig make more than ${f.limit} ports, a box counted as 16.`,
    why: 'No band has so many, and every sheet would be full of them. Of each range that is too much, only the first port is taken.',
    cure: 'Write shorter ranges: leave out the ports that nothing is plugged into.',
  })),
};

const PLURALS: Readonly<Record<string, string>> = { mix: 'mixes', gear: 'pieces of gear' };

const one = (kind: string) => (kind === 'gear' ? 'a piece of gear' : a(kind));

export const NAMES = {
  /** `more`: how many other places have that name. */
  'names/unknown': problem<{
    what: string;
    name: string;
    near: readonly string[];
    minus: string | undefined;
    file: string | undefined;
    more: number;
  }>('error', (f) => ({
    what: `There is no ${f.what} called ${f.name}.`,
    why:
      f.more === 0
        ? 'This part of the rig cannot be followed.'
        : `This part of the rig cannot be followed, and ${f.more} more ${f.more === 1 ? 'place' : 'places'} with that name.`,
    cure: f.minus
      ? `To say a level, put a space before it: "${f.minus}".`
      : f.file
        ? `It is in ${f.file}. To have it, add this line: use "${f.file}"`
        : f.near.length > 0
          ? `Did you mean ${list(f.near, 'or')}?`
          : `Write it first, as in "${f.what.split(' ')[0]} ${f.name} …", or correct the name.`,
  })),
  'names/duplicate': problem<{ what: string; name: string }>('error', (f) => ({
    what: `Two ${PLURALS[f.what] ?? `${f.what}s`} are called ${f.name}.`,
    why: 'Wherever that name stands it could mean either; the first is taken.',
    cure: 'Give one of them another name.',
  })),
  /** Of two files of one rig; `nearer` is nothing where that is this very file. */
  'names/elsewhere-too': problem<{ what: string; name: string; nearer: string | undefined; farther: string }>('warning', (f) => ({
    what: `Two ${PLURALS[f.what] ?? `${f.what}s`} are called ${f.name}: one ${f.nearer === undefined ? 'here' : `in ${f.nearer}`} and one in ${f.farther}.`,
    why: `The one ${f.nearer === undefined ? 'here' : `in ${f.nearer}`} is taken, and the other is left out of this rig.`,
    cure: 'Delete one of the two, or give one of them another name.',
  })),
  'names/two-meanings': problem<{ name: string; kinds: readonly [string, string] }>('warning', (f) => ({
    what: `${f.name} is the name of ${one(f.kinds[0])} and of ${one(f.kinds[1])}.`,
    why: `"takes ${f.name}" could mean either; the ${f.kinds[0]} is taken.`,
    cure: 'Give one of them another name.',
  })),
};

export const UNITS = {
  /** `power`: it is in watts, which no other figure of a rig is. `either`: what it may mean, where its capitals leave that open. */
  'units/wrong': problem<{
    written: string;
    what: string;
    units: readonly string[];
    near: string | undefined;
    either: readonly string[];
    power: boolean;
    /** A sound, where the voltage at an output is asked for. */
    sound: boolean;
  }>('error', (f) =>
    f.sound
      ? {
          what: `${f.written} is how loud a sound is, and nothing says what comes out then: no output here states its "sensitivity", as that of a microphone does.`,
          why: 'The figure is left out of all sums.',
          cure: `${capital(a(f.what))} is in ${list(f.units, 'or')}: write that, or leave it out, and the level that the model states counts.`,
        }
      : f.either.length > 0
        ? {
            what: `${f.written} does not say how much it is: a small m before a unit is a thousandth of it, a capital M a million.`,
            why: 'The figure is left out of all sums, for it could be wrong by a thousand million times.',
            cure: `Write ${list(f.either, 'or')}.`,
          }
        : {
            what: `${f.written} is not ${a(f.what)}.`,
            why: f.power ? 'Only what "power" says of a model is in watts.' : 'The figure is left out of all sums.',
            cure: `${f.power ? 'Put it into a comment. ' : f.near ? `Did you mean ${f.near}? ` : ''}${capital(a(f.what))} is in ${list(f.units, 'or')}.`,
          },
  ),
  /** `rule`: of lengths up to `upToM`, which follows it. */
  'units/impossible': problem<{ written: string; what: string; rule: string; upToM?: number }>('error', (f, lengths) => ({
    what: `${f.written} cannot be ${a(f.what)}.`,
    why: 'The figure is left out of all sums.',
    cure: `It has to be ${f.rule}${f.upToM === undefined ? '' : ` ${lengthText(f.upToM, lengths)}`}.`,
  })),
};

export const MODELS = {
  'models/loop': problem<{ chain: readonly string[] }>('error', (f) => ({
    what: `${f.chain[0]} is made from itself: ${f.chain.join(' is ')}.`,
    why: 'It would never end, so it has nothing from the others.',
    cure: 'Let one of them be something else.',
  })),
  'models/no-such-connector': problem<{ written: string; near: string | undefined; connectors: readonly string[] }>('error', (f) => ({
    what: `${f.written} is not a connector.`,
    why: 'Leads cannot be chosen for it.',
    cure: f.near ? `Did you mean ${f.near}?` : `Connectors are ${list(f.connectors)}.`,
  })),
  'models/no-such-input': problem<{ model: string; written: string; inputs: readonly string[] }>('error', (f) => ({
    what: `${f.model} has no input ${f.written} that this output could come from.`,
    why: 'Nothing would come out of it.',
    cure: f.inputs.length === 0 ? 'Write an input first.' : `Its input${f.inputs.length === 1 ? ' is' : 's are'} ${list(f.inputs)}.`,
  })),
  /** `of`: what is made of it. `instead`: models made from it that have what it lacks. */
  'models/no-ports': problem<{ model: string; of: string; lacks: 'output' | 'port'; instead: readonly string[] }>('error', (f) => ({
    what: `${f.model} has no ${f.lacks === 'output' ? 'output' : 'inputs and no outputs'}, so it cannot be ${a(f.of)}.`,
    why: 'No lead can be plugged into it, and no sheet can say what it needs.',
    cure:
      f.instead.length > 0
        ? `Say which kind it is: ${list(f.instead, 'or')}.`
        : `Write what it has into the model, as in "output out xlr mic", or take another model.`,
  })),
  'models/unused-figure': problem<{ clause: string; of: string; belongs: string }>('warning', (f) => ({
    what: `"${f.clause}" says nothing of ${f.of}.`,
    why: 'Nothing is reckoned with it here, and whoever wrote it thinks that it counts.',
    cure: `It belongs to ${f.belongs}. Leave it out, or write it there.`,
  })),
  'models/bad-range': problem<{ written: string }>('error', (f) => ({
    what: `${f.written} is not a range of ports.`,
    why: 'Only the first of them is read.',
    cure: 'Count upwards, with the same letters before both numbers, as in "1..8" or "usb1..usb8".',
  })),
  'models/port-twice': problem<{ model: string; port: string; direction: string }>('error', (f) => ({
    what: `${f.model} has two ${f.direction}s called ${f.port}.`,
    why: 'The second is left out.',
    cure: 'Give it another name or number.',
  })),
};

export const USES = {
  'use/missing': problem<{ path: string }>('error', (f) => ({
    what: `There is no file ${f.path}.`,
    why: 'The models and the gear in it are not known here.',
    cure: 'Correct the path (it starts from the folder of this file), or save that file there.',
  })),
  'use/outside': problem<{ path: string }>('error', (f) => ({
    what: `${f.path} is outside the folder that is open.`,
    why: 'A rig that reaches outside its folder breaks on the next machine.',
    cure: 'Copy that file into the folder, and use the copy.',
  })),
  'use/itself': problem<{ path: string }>('warning', (f) => ({
    what: `${f.path} is this very file.`,
    why: 'It adds nothing.',
    cure: 'Delete this line, or name the file you meant.',
  })),
  'use/twice': problem<{ path: string }>('warning', (f) => ({
    what: `${f.path} is used already.`,
    why: 'A second time adds nothing.',
    cure: 'Delete this line, or name the file you meant.',
  })),
  'use/no-rig': problem<{ path: string }>('error', (f) => ({
    what: `There is no "rig" in ${f.path}.`,
    why: '"whole" takes over what is plugged where and who hears what, and it has none of that: nothing more is there than without "whole".',
    cure: 'Name the file with the band’s rig, or leave "whole" out.',
  })),
  'use/nothing-instead': problem<{ what: string; night: boolean }>('warning', (f) => ({
    what: f.night
      ? `There is no ${f.what} in the rig that this file is a night of.`
      : `There is nothing that ${f.what} could be instead of.`,
    why: '"instead" takes the place of what that rig has of the same name or for the same socket.',
    cure: f.night ? 'Correct the name, or leave "instead" out.' : 'Leave "instead" out; or use the band’s rig first: use "band.rig" whole',
  })),
  'use/left-out': problem<{ name: string }>(
    'error',
    (f) => ({
      what: `${f.name} is left out of this night.`,
      why: 'This line takes what is not there.',
      cure: `Take another, or bring ${f.name} back: leave it out of "without" above.`,
    }),
    { leavesHole: true },
  ),
  'use/trouble': problem<{ path: string; count: number; first: string }>('error', (f) => ({
    what: `${f.path} has ${f.count === 1 ? 'a problem' : `${f.count} problems`} that this rig depends on. ${f.first}`,
    why: 'What it defines may be missing here.',
    cure: 'Open it and mend it there.',
  })),
};

interface OverBudget {
  readonly sum: number;
  readonly budget: number;
  readonly over: number;
  readonly currency: string;
  readonly dearest: readonly { readonly label: string; readonly price: number }[];
}

export const RIGS = {
  'rig/over-budget': problem<OverBudget>('warning', ({ sum, budget, over, currency, dearest }) => ({
    what: `What is to be bought and hired comes to ${tidy(sum, 2)} ${currency}: ${tidy(over, 2)} ${currency} over the budget of ${tidy(budget, 2)} ${currency}.`,
    why: 'Whoever goes shopping finds out at the till.',
    cure: `Borrow, or do without, or raise the budget. ${dearest.length === 1 ? 'There is' : 'Dearest are'} ${list(dearest.map(({ label, price }) => `${label} (${tidy(price, 2)} ${currency})`))}. Or delete the line of one of them and what goes through it: "earloom plan" then finds the cheapest way to serve that.`,
  })),
  'rig/two-titles': problem<{ first: string | undefined }>('warning', (f) => ({
    what: 'This is a second "rig" statement.',
    why: `A file is one rig${f.first ? `, and this one is "${f.first}"` : ''}.`,
    cure: 'Put its clauses into the first, and delete it.',
  })),
};
