import { Command, Help, type Option } from 'commander';
import { packageVersion } from '../node/package.js';
import { printable } from '../units/quote.js';
import { helpGroups } from './words/options.js';

/** Every command, in the order people are told of them. What it takes is loaded where it is named. */
const commands: readonly {
  readonly name: string;
  readonly summary: string;
  load(): Promise<Command>;
}[] = [
  {
    name: 'recipe',
    summary: 'fit a rig on a desk: what to dial, what it does',
    load: async () => (await import('./recipe/command.js')).recipeCommand(),
  },
  {
    name: 'compare',
    summary: 'which desk serves a rig best, a line each',
    load: async () => (await import('./compare/command.js')).compareCommand(),
  },
  {
    name: 'check',
    summary: 'how near each desk comes to the pilot',
    load: async () => (await import('./check/command.js')).checkCommand(),
  },
  {
    name: 'tradeoff',
    summary: 'what more music lost would buy at the pilot',
    load: async () => (await import('./tradeoff/command.js')).tradeoffCommand(),
  },
  {
    name: 'hear',
    summary: 'what a listener gets, as sound: without the filters, then with them',
    load: async () => (await import('./hear/command.js')).hearCommand(),
  },
  {
    name: 'push',
    summary: 'write a recipe to a desk over OSC, and read it back',
    load: async () => (await import('./push/command.js')).pushCommand(),
  },
  {
    name: 'verify',
    summary: 'has anyone touched it since? reads only',
    load: async () => (await import('./verify/command.js')).verifyCommand(),
  },
  {
    name: 'watch',
    summary: 'tell through the show when anyone touches it; reads only',
    load: async () => (await import('./watch/command.js')).watchCommand(),
  },
  {
    name: 'inspect',
    summary: 'which mixes leave their pilots at risk now? reads only',
    load: async () => (await import('./inspect/command.js')).inspectCommand(),
  },
  {
    name: 'restore',
    summary: 'put back exactly what a push found',
    load: async () => (await import('./restore/command.js')).restoreCommand(),
  },
  {
    name: 'journals',
    summary: 'the journals there are to restore from',
    load: async () => (await import('./journals/command.js')).journalsCommand(),
  },
  {
    name: 'rig',
    summary: 'make a rig file, by questions or from options',
    load: async () => (await import('./rig/command.js')).rigCommand(),
  },
  {
    name: 'targets',
    summary: 'list, show, make, check and convert target files',
    load: async () => (await import('./targets/command.js')).targetsCommand(),
  },
  {
    name: 'learn',
    summary: "find out the steps of a desk's knobs, from readings or over OSC",
    load: async () => (await import('./learn/command.js')).learnCommand(),
  },
  {
    name: 'standin',
    summary: 'a simulated desk on the network, to rehearse on',
    load: async () => (await import('./standin/command.js')).standinCommand(),
  },
  {
    name: 'demo',
    summary: 'the recipe of an invented show, and a rehearsal of pushing it',
    load: async () => (await import('./demo/command.js')).demoCommand(),
  },
];

const description =
  "Fits in-ear protection filters to any desk's real knobs: a low cut, a cut at the pilot and a high cut on every mix that feeds an FM stereo transmitter, and nothing on the others. Tells what to dial, how far that lies from what was asked, and what it does to the pilot and the music.";

const epilogue = `
Example:
  bandwright recipe show.json --target log-179

Exit codes:
  0    done, and what was to hold holds
  1    done, but the result falls short
  2    the command line is wrong
  3    an input file is wrong
  4    the desk, a file or an output could not be reached or written
  70   a fault of this tool itself
  130  interrupted, or not agreed to: in a safe state that the last line tells

Mute, or have performers take the in-ears out, before you switch filters.
This tool is not hearing protection.
`;

/** What was typed stands in the message: nothing of it may reach a terminal that obeys it. */
const printableLines = (text: string): string => text.split('\n').map(printable).join('\n');

const groupOrder: readonly string[] = ['Options:', ...Object.values(helpGroups)];

/** Groups of options in one order in every help text, the common ones first, in whichever order a command adds them. */
const groupItems: Help['groupItems'] = (all, visible, groupOf) =>
  new Map(
    [...new Help().groupItems(all, visible, groupOf)].sort(
      ([one], [other]) => groupOrder.indexOf(one) - groupOrder.indexOf(other),
    ),
  );

/** Where the ids of desks are told, which a command that lacks one asks for. */
const hints: Readonly<Record<string, string>> = {
  '--target': ' The ids of the shipped ones: bandwright targets list.',
};

/** A word that is no option of a command is told before an option that is missing: it may be that one, mistyped. */
const tellMissing = (command: Command, typed: readonly string[]): void => {
  const words = typed.includes('--') ? typed.slice(0, typed.indexOf('--')) : typed;
  const known = command.options.flatMap(({ long, short }) => [long, short]);
  const strange = words
    .map((word) => word.split('=')[0] ?? '')
    .find((word) => /^--\w/.test(word) && !known.includes(word));
  // Commander has these two as methods of its own, to be called or replaced so.
  const own = command as Command & {
    unknownOption(flag: string): void;
    missingMandatoryOptionValue(option: Option): void;
  };
  own.missingMandatoryOptionValue = (option) => {
    if (strange !== undefined) own.unknownOption(strange);
    const hint = hints[option.long ?? ''] ?? '';
    command.error(`error: required option '${option.flags}' not specified.${hint}`, {
      code: 'commander.missingMandatoryOptionValue',
    });
  };
};

/** Makes every command, however deep, tell its options in order, and throw on a wrong command line, to exit with 2. */
const setUp = (command: Command, typed: readonly string[]): void => {
  tellMissing(command, typed);
  command.configureHelp({ groupItems });
  command.exitOverride().showHelpAfterError('Add --help to see how it is used.');
  command.configureOutput({ outputError: (text, write) => write(printableLines(text)) });
  for (const child of command.commands) setUp(child, typed);
};

/** The command line; of the commands that are not among the words typed only what the list of all tells. */
export const program = async (typed: readonly string[]): Promise<Command> => {
  const root = new Command('bandwright').description(description).addHelpText('after', epilogue);
  root.version(packageVersion(), '--version', 'print the version');
  for (const { name, summary, load } of commands) {
    const command = typed.includes(name) ? await load() : new Command(name);
    root.addCommand(command.summary(summary));
  }
  setUp(root, typed);
  return root;
};
