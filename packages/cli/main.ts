/** The command line. The check, and the other commands together, are bundles of their own, loaded when they are asked for. */
import { createRequire } from 'node:module';
import path from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Command, CommanderError, Option } from 'commander';
import { SHEET_IDS } from '#sheets/sheet';
import { LABEL_STOCKS, type LabelStockId } from '#sheets/stocks';
import { version } from '../../package.json';
import { isUnusable, UNUSABLE } from './exit';
import { tell, watchOutput } from './print';

// A check is over before code that was compiled for speed has paid for its compiling, which took a third of all the time.
// Compiling sets in later, then; for a large rig it still does. Measured on Node 20 (npm run bench), so asked of that alone.
if (process.versions.node.startsWith('20.')) setFlagsFromString('--interrupt-budget=1000000');

/** As the sheets have them; written here so that a command without sheets loads none of them. */
const FORMATS = ['text', 'markdown', 'csv', 'html', 'pdf', 'svg'] as const;
const CHECK_FORMATS = ['text', 'json', 'sarif', 'junit', 'github', 'gitlab', 'azure'] as const;
const PAPERS = ['A4', 'Letter'] as const;
const LABEL_STYLES = ['flag', 'plain'] as const;

const STOCK_LINES = Object.values(LABEL_STOCKS).map(({ id, name }) => `  ${id.padEnd(13)}${name}`);

const program = new Command('earloom')
  .description('Reads a band’s in-ear monitor rig, finds mistakes and makes its sheets.')
  .version(version, '-v, --version', 'print the version')
  .helpOption('-h, --help', 'print this help')
  .helpCommand('help [command]', 'print the help of a command')
  .showHelpAfterError('(earloom --help shows how)')
  .exitOverride()
  .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, 'earloom: ')) })
  .addHelpText(
    'after',
    `
Examples:
  earloom check club.rig                  what is wrong with this rig
  earloom check .                         all rigs in this folder and below
  earloom patch club.rig                  its patch list, to read here
  earloom sheets club.rig -o club.html    all its sheets, to print
  earloom labels club.rig -o labels.pdf   a label for both ends of each lead
  earloom frequencies club.rig            clear frequencies for its radio sets
  earloom plan club.rig                   what it has not written, planned
  earloom compare club.rig                what changes since the last commit
  earloom import list.csv -o club.rig     a rig from a channel list
  earloom format club.rig                 set it in columns

Exit codes: 0 nothing wrong, 1 something found, 2 a file or command that cannot be used.`,
  );

program
  .command('check')
  .summary('find mistakes')
  .description('Finds mistakes in rigs, and says for each what is wrong, why it matters and how to cure it.')
  .argument('<file...>', 'rigs, folders (all .rig files below them), or - for standard input')
  .addOption(new Option('-f, --format <format>', 'for people, or for other programs').choices(CHECK_FORMATS).default('text'))
  .option('-o, --output <file>', 'write it to this file instead of printing it')
  .option('--strict', 'fail on notes, too', false)
  .addHelpText(
    'after',
    `
Examples:
  earloom check club.rig
  earloom check . --format json > findings.json
  earloom check . --format sarif -o findings.sarif      rules, places and cures, for whoever gathers such results
  earloom check . --format github                       beside the lines of a change, by its runner (also gitlab, azure, junit)
  git show HEAD:club.rig | earloom check -

Exit codes: 0 nothing wrong (or only notes, without --strict), 1 something found, 2 a file that cannot be read.
What a rig uses has to be in the folder you are in, or beside a rig that is elsewhere.
Set NO_COLOR or FORCE_COLOR to have it without or with colours.`,
  )
  .action(async (files: string[], options: { format: (typeof CHECK_FORMATS)[number]; output?: string; strict: boolean }) => {
    if (options.format === 'sarif') {
      const { checkSarif } = await (await import('./commands')).checkSarif();
      process.exitCode = await checkSarif(files, options);
    } else {
      const { check } = await import('./check');
      process.exitCode = await check(files, options);
    }
  });

program
  .command('sheets')
  .summary('make the sheets')
  .description('Makes the sheets: what plugs into what, who hears what, what to bring, what to lay, and what the house needs to know.')
  .argument('<file>', 'a rig, or - for standard input')
  .option('-s, --sheet <names>', `which, with commas between, else all (${SHEET_IDS.join(', ')})`)
  .addOption(new Option('-f, --format <format>', 'how they are written (as the name of the output says, else text)').choices(FORMATS))
  .option('-o, --output <path>', 'write them to this file, or each to a file in this folder')
  .option('--against <rig>', 'mark the rows that are other than in this rig, or at this revision, as HEAD or HEAD~3:club.rig')
  .addOption(new Option('--paper <size>', 'for PDF').choices(PAPERS).default('A4'))
  .addHelpText(
    'after',
    `
Examples:
  earloom sheets club.rig -o club.pdf                   all of them, to print or to send
  earloom sheets club.rig --sheet house,stage           two of them, to read here
  earloom sheets club.rig -o sheets/ --format csv       each, and each of its tables, as a file for a spreadsheet
  earloom sheets club.rig --sheet stage -o stage.svg    a drawing
  earloom sheets club.rig --against HEAD -o club.pdf    with a mark on each row that has changed since the last commit

A path that ends in a slash is a folder, and is made if need be; there, without --format, each sheet is a page.
Exit codes: 0 made, 2 a file that cannot be read or written. Mistakes in the rig do not stop it: "earloom check" finds them.`,
  )
  .action(
    async (
      file: string,
      options: { sheet?: string; format?: (typeof FORMATS)[number]; output?: string; paper: (typeof PAPERS)[number]; against?: string },
    ) => {
      const { sheets } = await (await import('./commands')).sheets();
      process.exitCode = await sheets(file, options);
    },
  );

program
  .command('patch')
  .summary('make the patch list')
  .description('Makes the patch list: what plugs into what, line by line. Short for "sheets --sheet patch-list".')
  .argument('<file>', 'a rig, or - for standard input')
  .addOption(
    new Option('-f, --format <format>', 'how it is written (as the name of the output says, else text)').choices([
      'text',
      'markdown',
      'csv',
      'html',
    ]),
  )
  .option('-o, --output <file>', 'write it to this file instead of printing it')
  .addHelpText(
    'after',
    `
Examples:
  earloom patch club.rig
  earloom patch club.rig -o patch.html        as a page to print
  earloom patch club.rig -o patch.csv         for a spreadsheet: its tables one below the other
  earloom patch club.rig --format markdown

Exit codes: 0 made, 2 a file that cannot be read or written. Mistakes in the rig do not stop it: "earloom check" finds them.`,
  )
  .action(async (file: string, options: { format?: 'text' | 'markdown' | 'csv' | 'html'; output?: string }) => {
    const { sheets } = await (await import('./commands')).sheets();
    process.exitCode = await sheets(file, { ...options, sheet: 'patch-list', oneFile: true });
  });

program
  .command('labels')
  .summary('make the labels of the leads')
  .description(
    'Makes labels for our leads, one for each end and for each side of a joint on the way, with the numbers of the list of leads: number and end, where it goes, how long it is.',
  )
  .argument('<file>', 'a rig, or - for standard input')
  .option('-o, --output <file>', 'write them to this file: .pdf, or .html for a page to print from a browser')
  .addOption(new Option('--stock <name>', 'what they are printed on').choices(Object.keys(LABEL_STOCKS)).default('a4-3x8'))
  .addOption(
    new Option('--style <style>', 'a flag is folded round the lead, a plain label is read from above')
      .choices(LABEL_STYLES)
      .default('flag'),
  )
  .option('--start <number>', 'the first label of the first sheet that is still there, counted row by row', '1')
  .option('--band <name>', 'the band’s name, to stand on each label')
  .option('--all', 'label the leads that the house brings, too', false)
  .option('--outlines', 'draw the edges of the labels, for a trial on plain paper', false)
  .addHelpText(
    'after',
    `
What there is to print on (the usual sizes, no maker’s own):
${STOCK_LINES.join('\n')}

Examples:
  earloom labels club.rig -o trial.pdf --outlines            on plain paper: hold it against your sheet first
  earloom labels club.rig -o labels.pdf                      flags, on a whole sheet
  earloom labels club.rig -o labels.pdf --start 9            on a sheet whose first 8 are used up
  earloom labels club.rig -o labels.html --stock letter-3x10 --style plain
  earloom labels club.rig -o labels.pdf --band "Three Herons"

Print at 100 %, without "fit to page". On a small label a flag has room for the number, the end and the length alone.
A figure behind the end is a joint on the way: 12 A1 goes together with 12 B1.
Exit codes: 0 made, 2 a file that cannot be read or written. Mistakes in the rig do not stop it: "earloom check" finds them.`,
  )
  .action(
    async (
      file: string,
      options: {
        output?: string;
        stock: LabelStockId;
        style: (typeof LABEL_STYLES)[number];
        start: string;
        band?: string;
        all: boolean;
        outlines: boolean;
      },
    ) => {
      const { labels } = await (await import('./commands')).labels();
      process.exitCode = await labels(file, options);
    },
  );

program
  .command('frequencies')
  .summary('choose frequencies for radio sets')
  .description(
    'Chooses a frequency for each radio set of ours: clear of each other, of the house’s, and of what two or three of them make together; inside what the sets tune and what is known to come into question there. As many as can be, with the fewest changes. Nothing is written unless you say where.',
  )
  .argument('<file>', 'a rig, or - for standard input')
  .option('-o, --output <file>', 'write the rig with these frequencies to this file; its own name writes them into it')
  .option('--scan <file>', 'keep clear of what is on the air: CSV with a frequency in MHz and a level in dBm in each line')
  .option('--above <dBm>', 'what of a scan counts', '-85')
  .addHelpText(
    'after',
    `
Examples:
  earloom frequencies club.rig
  earloom frequencies club.rig --scan room.csv --above -90
  earloom frequencies club.rig -o club.rig                 and write them into it

What to keep clear of can stand in the rig, too: avoid 470..478 MHz "local television", or scan "room.csv" above -90 dBm
Exit codes: 0 all clear, 1 not all of them find a clear frequency, 2 a file that cannot be read or written.
It is no permission: the local radio regulator decides.`,
  )
  .action(async (file: string, options: { scan?: string; above: string; output?: string }) => {
    const { frequencies } = await (await import('./commands')).frequencies();
    process.exitCode = await frequencies(file, options);
  });

program
  .command('plan')
  .summary('plan what is not written yet')
  .description(
    'Plans what a rig has not written: which input takes which source, through what, how each mix gets to the ears, what to buy. What is written stays. A line is only planned if nothing is wrong with it.',
  )
  .argument('<file>', 'a rig, or - for standard input')
  .addOption(
    new Option('-f, --format <format>', 'how it is told (as the name of the output says, else text)').choices([
      'text',
      'markdown',
      'html',
      'pdf',
      'json',
    ]),
  )
  .option('-o, --output <file>', 'write the planned rig to this file, where its name ends in .rig; else what is told')
  .addOption(new Option('--paper <size>', 'for PDF').choices(PAPERS).default('A4'))
  .option('--afresh', 'think over what is written, too', false)
  .option(
    '--without <name>',
    'plan for the loss of a piece of gear, with few changes (may be given again)',
    (name, all: string[]) => [...all, name],
    [],
  )
  .option('--budget <sum>', 'instead of the budget that the rig states, as in 150 or 150EUR')
  .option('--limit <seconds>', 'how long to look for the best', '20')
  .addHelpText(
    'after',
    `
Examples:
  earloom plan club.rig                          the plan, with a reason for each line
  earloom plan club.rig -o planned.rig           the rig with the plan in it
  earloom plan club.rig -o plan.pdf              to print or to send
  earloom plan club.rig --budget 100             with so much to spend
  earloom plan club.rig --without iface          the interface is lost
  earloom plan club.rig --format json > plan.json

Prices come from models that state one, as in "model our-di is passive-di { buy 20 EUR }"; where a rig has none, from a shop that ships, whose
prices are invented. Without a budget nothing is bought, and what money would buy is told.
Exit codes: 0 every must is served and nothing is wrong, 1 something is left out or wrong, 2 a file or command that cannot be used.`,
  )
  .action(
    async (
      file: string,
      options: {
        format?: 'text' | 'markdown' | 'html' | 'pdf' | 'json';
        output?: string;
        paper: (typeof PAPERS)[number];
        afresh: boolean;
        without: string[];
        budget?: string;
        limit: string;
      },
    ) => {
      const { plan } = await (await import('./commands')).plan();
      process.exitCode = await plan(file, options);
    },
  );

program
  .command('compare')
  .summary('what changes between two rigs')
  .description(
    'Tells what changes on the floor between two rigs, or two revisions of one: plugs that go elsewhere, leads, gains, mixes, what changes for the house, what to have more of, what is found wrong now. Nothing where only comments, order or spaces differ.',
  )
  .argument('<old>', 'a rig, a folder of rigs, or either at a revision, as in HEAD~3:club.rig; or - for standard input')
  .argument('[new]', 'the same; without it, the old is the last commit of the one that is named')
  .addOption(
    new Option('-f, --format <format>', 'how it is written (as the name of the output says, else text)').choices([
      'text',
      'markdown',
      'csv',
      'html',
      'pdf',
      'json',
    ]),
  )
  .option('-o, --output <file>', 'write it to this file instead of printing it')
  .addOption(new Option('--paper <size>', 'for PDF').choices(PAPERS).default('A4'))
  .option('--strict', 'fail where something is found wrong that was not before', false)
  .addHelpText(
    'after',
    `
Examples:
  earloom compare club.rig                        since the last commit
  earloom compare HEAD~3:club.rig club.rig        since three commits ago
  earloom compare friday.rig saturday.rig         from one night to the next
  earloom compare main:rigs rigs                  a folder, against another branch
  earloom compare main:rigs rigs -f markdown      for a pull request
  earloom compare club.rig -o changes.pdf         to take along

Revisions are read by the program git, which has to be on this machine; nothing is written or fetched. A path behind a colon starts from the
folder you are in, or else from the top of the repository; the revision is of the repository that the file is in.
Exit codes: 0 compared, 1 something new is found wrong (only with --strict), 2 a file, revision or command that cannot be used.`,
  )
  .action(
    async (
      old: string,
      anew: string | undefined,
      options: {
        format?: 'text' | 'markdown' | 'csv' | 'html' | 'pdf' | 'json';
        output?: string;
        paper: (typeof PAPERS)[number];
        strict: boolean;
      },
    ) => {
      const { compare } = await (await import('./commands')).compare();
      process.exitCode = await compare(old, anew, options);
    },
  );

program
  .command('import')
  .summary('a rig from a channel list')
  .description(
    'Makes a rig from a channel list, as CSV or pasted: a source and a line of the house’s for each row, whatever the order of the columns (number, name, microphone, stand, 48 V, player). No row is dropped without a word.',
  )
  .argument('<list>', 'the list, with commas, semicolons or tabs between its cells; or - for standard input')
  .option('-o, --output <file>', 'write the rig to this file, which must not be there yet, instead of printing it')
  .option(
    '--columns <kinds>',
    'what the columns are, where their headings do not say: number,name,mic,stand,phantom,player, and - for others',
  )
  .option('--title <title>', 'what is printed above every sheet (else the name of the file)')
  .addHelpText(
    'after',
    `
Examples:
  earloom import list.csv -o club.rig
  earloom import list.csv --columns number,name,-,mic,phantom
  earloom import - < pasted.txt

A list may be in UTF-8, UTF-16 or Windows-1252. Microphones become generic ones; what the list calls them stands behind each as a comment.
Exit codes: 0 made, 2 a list that cannot be used, or whose columns are not clear.`,
  )
  .action(async (list: string, options: { output?: string; columns?: string; title?: string }) => {
    const { importList } = await (await import('./commands')).importList();
    process.exitCode = await importList(list, options);
  });

program
  .command('format')
  .summary('set it in columns')
  .description('Sets rigs in columns: only spaces and blank lines change. What cannot be read stays as it is.')
  .argument('<file...>', 'rigs, folders (all .rig files below them), or - for standard input, which goes to standard output')
  .option('--check', 'change nothing, and fail where something would change', false)
  .addHelpText(
    'after',
    `
Examples:
  earloom format club.rig
  earloom format --check .
  earloom format - < club.rig

Exit codes: 0 done (with --check: nothing to do), 1 something would change (only with --check), 2 a file that cannot be read or written.`,
  )
  .action(async (files: string[], options: { check: boolean }) => {
    const { format } = await (await import('./commands')).format();
    process.exitCode = await format(files, options);
  });

program
  .command('textconv')
  .summary('a rig for git diff')
  .description('Prints what a rig means, a statement a line in an order of its own, so that "git diff" shows no comments, order or spaces.')
  .argument('<file>', 'a rig, or - for standard input')
  .addHelpText(
    'after',
    `
For all rigs of a repository:
  echo "*.rig diff=rig" >> .gitattributes
  git config diff.rig.textconv "earloom textconv"

"git diff --no-textconv" shows the text as it is. What cannot be read is printed as it is.`,
  )
  .action(async (file: string) => {
    const { textconv } = await (await import('./commands')).textconv();
    process.exitCode = await textconv(file);
  });

program
  .command('serve')
  .summary('the language server, for an editor')
  .description(
    'Starts the language server, which an editor speaks to on standard input and output: mistakes as you type, completion, cures and so on.',
  )
  .argument('[how...]', 'as editors say it: --stdio (so it is), --pipe=NAME or --socket=PORT')
  .allowUnknownOption()
  .action(() => {
    // It is a program of its own beside this one, and looks at the words after it.
    createRequire(__filename)(path.join(__dirname, 'server.cjs'));
  });

watchOutput();
program.parseAsync().catch((problem: unknown) => {
  if (problem instanceof CommanderError) {
    // Help and the version were asked for; anything else is a command that cannot be understood.
    process.exitCode = problem.exitCode === 0 ? 0 : UNUSABLE;
  } else if (isUnusable(problem)) {
    tell(problem);
    process.exitCode = UNUSABLE;
  } else {
    const says = problem instanceof Error ? (problem.stack ?? problem.message) : String(problem);
    tell({
      what: 'Earloom itself has failed. No file is half written.',
      cure: `Please report this with the rig that shows it:\n${says}`,
    });
    process.exitCode = UNUSABLE;
  }
});
